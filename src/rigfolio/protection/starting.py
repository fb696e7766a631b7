"""Cranking cable: which wires carry the start of an engine, and what of it that excuses.

The word `cranking` on a wire excuses the want of a fuse where the wire leads to a motor that turns
an engine over. Whatever else the wire carries is judged as on any other wire. A start lasts for
seconds: other wires that it runs through are judged by the heat of these alone.
"""

from collections.abc import Iterator

from rigfolio.books import fault_k, longest_s
from rigfolio.calc import withstand_s
from rigfolio.demand import flows_of
from rigfolio.model import Conductor, Device, Load
from rigfolio.network import Edge, Way, edge_name, parallel_switches, path
from rigfolio.operating import starters_of, starting_a
from rigfolio.study import Study, once
from rigfolio.units import Size


def is_cranking(study: Study, wire: Conductor) -> bool:
    """Whether a conductor is declared as cranking, and a start runs through it."""
    return wire.cranking and (
        bool(flows_of(study).starting(wire.name)) or wire.name in _emergency_starts(study)
    )


@once
def _emergency_starts(study: Study) -> frozenset[str]:
    """The wires that a start runs through from the other bank, a parallel switch closed for it."""
    switches = parallel_switches(study.rig)
    found: set[str] = set()
    ends = [study.rig.by_name.loads[name].plus for name in starters_of(study) if switches]

    def bars(edge: Edge) -> bool:
        return isinstance(edge, Device) and (edge.traits.joins_banks or edge.traits.selects)

    for source in study.rig.sources if switches else ():
        back = study.net.walk([source.plus], bars) if source.stores else {}
        for end in ends:
            way = tuple(path(back, end)) if end in back else ()
            if any(isinstance(one, Device) and one.about.name in switches for one in way):
                found.update(one.name for one in way if isinstance(one, Conductor))
    return frozenset(found)


def burns_in_a_start(
    study: Study, wire: Conductor, current_a: float, size: Size | None = None
) -> bool:
    """Whether a start of seconds is more than the copper of a conductor takes, or of a size."""
    k, of_size = fault_k(study.heat(wire)[1]), size or wire.size
    if k is None or not isinstance(of_size, Size):
        return False
    return withstand_s(of_size.area_m2 * wire.count, current_a, k.value) < longest_s().value


@once
def whole_starts(study: Study) -> dict[str, tuple[float, Load]]:
    """What runs of an engine's start through wires and devices [A], and of which, by their edges.

    It is the most of any starter from any battery. A wire beside which another leads back is left
    out: see `start_shares`.
    """
    found: dict[str, tuple[float, Load]] = {}
    for load in study.rig.loads:
        current_a = starting_a(study, load) if load.about.name in starters_of(study) else None
        if current_a is None:
            continue
        ways = (way for way in flows_of(study).ways.get(load.about.name, ()) if way.source.stores)
        for name, part in (
            one for way in ways for each in way.every for one in _parts(study, each)
        ):
            if part * current_a > found.get(name, (0.0, load))[0]:
                found[name] = part * current_a, load
    return found


def _parts(study: Study, way: Way) -> Iterator[tuple[str, float]]:
    """The edges on a way, and the part of its current in each [-]."""
    shares: dict[str, float] = {}
    for stretch in way.stretches:
        settled = flows_of(study).counts.fed(way.source.about.name, stretch).settled()
        if settled is not None and stretch.mesh.batteries:
            shares |= settled.units[stretch.exits].part
    for edge in (*way.out, *way.back):
        if isinstance(edge, Conductor) and not study.is_judged_lead(edge):
            continue
        name = edge_name(edge)
        if not (way.stretches and way.is_meshed(name)):
            yield name, 1.0
        elif name in shares:
            yield name, abs(shares[name])
