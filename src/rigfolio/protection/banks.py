"""How batteries side by side share what they give together, by their leads."""

from collections.abc import Iterator, Mapping

from rigfolio.books import internal_ohm
from rigfolio.calc import Branch, Grid, Matrix, Network, push
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge, ends
from rigfolio.operating import copper_of, source_ohm
from rigfolio.record import record
from rigfolio.study import Study


@record
class ParallelBank:
    """Batteries side by side by name, each with its part of what all give [-]."""

    parts: Mapping[str, float]


def parallel_banks(study: Study) -> Iterator[ParallelBank]:
    """Banks of like batteries joined by wires, fuses and shunts, with a load taken off somewhere.

    Left out are those with a resistance on the way that is not known, and those that a relay or a
    selector joins.
    """
    seen: set[str] = set()
    for first in study.rig.sources:
        if not first.stores or first.about.name in seen or not first.chemistry:
            continue
        plus = study.net.walk([first.plus], _joins_now_and_then)
        minus = study.net.walk([first.minus], _joins_now_and_then)
        bank = [one for one in study.rig.sources if one.plus in plus and _is_like(one, first)]
        bank = [one for one in bank if one.minus in minus]
        seen |= {one.about.name for one in bank}
        if len(bank) < 2 or plus.keys() & minus.keys():
            continue
        taken = _taken_off(study, bank)
        parts = _parts(study, bank, taken) if taken is not None else None
        if parts is not None:
            yield ParallelBank(parts)


def _joins_now_and_then(edge: Edge) -> bool:
    return isinstance(edge, Device) and (edge.traits.joins_banks or edge.traits.selects)


def _is_like(one: Source, other: Source) -> bool:
    return (
        one.stores
        and one.chemistry == other.chemistry
        and one.voltage_v == other.voltage_v
        and one.capacity_c == other.capacity_c
        and isinstance(one.capacity_c, float)
    )


def _taken_off(study: Study, bank: list[Source]) -> tuple[str, str] | None:
    """Plus and minus of the load that draws most of what the bank feeds."""
    plus = study.net.walk([bank[0].plus], _joins_now_and_then)
    minus = study.net.walk([bank[0].minus], _joins_now_and_then)
    loads = [one for one in study.rig.loads if one.plus in plus and one.minus in minus]
    drawn = [(one.current_a(bank[0].voltage_v), one) for one in loads]
    known = [(a, one) for a, one in drawn if isinstance(a, float)]
    if not known:
        return None
    _, most = max(known, key=lambda pair: (pair[0], pair[1].about.name))
    return most.plus, most.minus


def _parts(study: Study, bank: list[Source], taken: tuple[str, str]) -> dict[str, float] | None:
    """The part of each battery of 1 A that is taken off, all of one voltage; by nodal analysis."""
    every: tuple[Edge, ...] = (*study.rig.conductors, *study.rig.devices)
    edges = [edge for edge in every if not _joins_now_and_then(edge)]
    node: dict[str, int] = {}
    branches: list[Branch] = []
    reached = study.net.walk([taken[0], taken[1]], _joins_now_and_then)
    for edge in edges:
        one, two = ends(edge)
        if one not in reached or one == two:
            continue
        ohm: float | None = 0.0
        if isinstance(edge, Conductor):
            ohm = copper_of(study).counted_ohm(edge, 0.0, edge.size)
        if ohm is None:
            if isinstance(edge, Conductor) and edge.circuit:
                # What leads to a load elsewhere has no part in this.
                continue
            return None
        start, stop = node.setdefault(one, len(node)), node.setdefault(two, len(node))
        branches.append(Branch(start, stop, ohm))
    # Like batteries: what tells is their leads, so the insides are taken for equal.
    own_ohm = min(map(_inside, bank))
    inside = []
    for battery in bank:
        inside.append((len(branches), own_ohm))
        # A battery is a resistance between its posts where all have one voltage.
        plus, minus = (node.setdefault(e, len(node)) for e in (battery.plus, battery.minus))
        branches.append(Branch(plus, minus, own_ohm))
    grid = Grid(Network(len(node), tuple(branches)))
    return _solved(grid, node, [one.about.name for one in bank], inside, taken)


def _solved(
    grid: Grid,
    node: Mapping[str, int],
    names: list[str],
    inside: list[tuple[int, float]],
    taken: tuple[str, str],
) -> dict[str, float] | None:
    if taken[0] not in node or taken[1] not in node:
        return None
    one, two = node[taken[0]], node[taken[1]]
    for island in grid.islands:
        if grid.spot[one] in island.spots and grid.spot[two] in island.spots:
            matrix = Matrix(grid, island)
            right = [0.0] * len(matrix.rows)
            push(right, *matrix.ends(one, two), 1.0)
            volts = matrix.factor(()).solve(right)
            found = {}
            for name, (place, ohm) in zip(names, inside, strict=True):
                branch = grid.network.branches[place]
                found[name] = abs(matrix.across(volts, branch.a, branch.b)) / ohm
            total = sum(found.values())
            return {name: part / total for name, part in found.items()} if total else None
    return None


def _inside(battery: Source) -> float:
    """The resistance of a battery, or the least that one like it usually has [ohm]."""
    known = source_ohm(battery)
    if known is not None or isinstance(battery.capacity_c, Unknown) or not battery.capacity_c:
        return known or 1e-3
    least, _ = internal_ohm(battery.chemistry, battery.voltage_v, battery.capacity_c)
    return least.value
