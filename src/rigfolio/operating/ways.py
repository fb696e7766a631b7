"""The ways by which sources serve loads, and the one source that a load is judged from."""

from collections.abc import Iterable

from rigfolio.books import starts_engine
from rigfolio.isolation import Open
from rigfolio.model import Conductor, Device, Load
from rigfolio.network import (
    Tree,
    Walk,
    Way,
    changeovers,
    coil_names,
    edge_name,
    in_turn,
    trees,
    turned_trees,
)
from rigfolio.operating.point import wire_ohm
from rigfolio.record import replace
from rigfolio.study import Study, once


class Ways:
    """Every source with every load that it serves, and the way out and back."""

    def __init__(self, study: Study) -> None:
        self.trees = trees(study.rig, study.net)
        self.banks = _banks(self.trees)
        self.of: dict[str, list[Way]] = {}
        """The ways of each load by name, in the order of the sources."""
        self.served: list[tuple[Load, Way]] = []
        """The same, source by source."""
        settings = _settings(study, self.trees)
        for place, _ in enumerate(self.trees):
            in_each = [(found[place], _banks(found)) for found in settings]
            for load in study.rig.loads:
                way = _longest(study, _ways(in_each, load))
                if way is not None:
                    self.of.setdefault(load.about.name, []).append(way)
                    self.served.append((load, way))

    def chosen(self, load: Load) -> tuple[Way, ...]:
        """The ways that a load may be judged by.

        Those from batteries; where there is none from what else stands ready, and the others only
        where there is none of these. What is a plain resistance draws most where volts are highest,
        so that of it every source counts, and of them the one of most volts.
        """
        every = tuple(self.of.get(load.about.name, ()))
        if load.kind == "resistance" and every:
            most_v = max(way.source.voltage_v for way in every)
            every = tuple(way for way in every if way.source.voltage_v == most_v)
        banks = tuple(way for way in every if way.source.stores)
        return banks or standing_of(every)


def _banks(found: Iterable[Tree]) -> tuple[Tree, ...]:
    return tuple(tree for tree in found if tree.source.stores)


def _settings(study: Study, found: tuple[Tree, ...]) -> tuple[tuple[Tree, ...], ...]:
    """What sources reach in each setting of the switches that make one of several ways."""
    if not changeovers(study.rig):
        return (found,)
    opened = (Open(edges) for edges in in_turn(study.rig))
    return tuple(turned_trees(study.rig, study.net, found, one.bars) for one in opened)


def _ways(in_each: Iterable[tuple[Tree, tuple[Tree, ...]]], load: Load) -> list[Way]:
    """The ways of a load from a source, each once."""
    found: dict[tuple[str, ...], tuple[Way, list[int]]] = {}
    for number, (tree, banks) in enumerate(in_each):
        out = _way_out(tree, banks, load)
        if out is not None:
            way = tree.way(out, load.plus, load.minus)
            edges = tuple(map(edge_name, (*way.out, *way.back)))
            found.setdefault(edges, (way, []))[1].append(number)
    return [way if numbers == [0] else replace(way, settings=frozenset(numbers))
            for way, numbers in found.values()]  # fmt: skip


def _longest(study: Study, ways: list[Way]) -> Way | None:
    """The way of most resistance, with the others that are taken in its stead."""
    if len(ways) < 2:
        return ways[0] if ways else None

    def ohm(way: Way) -> float:
        wires = (edge for edge in (*way.out, *way.back) if isinstance(edge, Conductor))
        return sum(wire_ohm(study, wire, study.heat(wire)[0]) or 0.0 for wire in wires)

    first = max(ways, key=ohm)
    return replace(first, others=tuple(one for one in ways if one is not first))


def standing_of(ways: Iterable[Way]) -> tuple[Way, ...]:
    """The ways from sources that stand ready; all of them where there is none."""
    every = tuple(ways)
    return tuple(way for way in every if way.source.traits.serves) or every


def _way_out(tree: Tree, banks: Iterable[Tree], load: Load) -> Walk | None:
    """The tree by which a source serves a load; None where it does not.

    A combiner joins banks while they are charged, and a selector joins them for a moment or in
    need. That serves loads only where they have no bank of their own; what is charged through
    it is counted by itself.
    """
    if load.plus not in tree.out or load.minus not in tree.back:
        return None
    if tree.is_own(load):
        return tree.near
    if any(bank.is_own(load) for bank in banks):
        return None
    return tree.near if load.plus in tree.near else tree.out


@once
def ways_of(study: Study) -> Ways:
    """The ways of all loads of a rig."""
    return Ways(study)


@once
def starters_of(study: Study) -> frozenset[str]:
    """The names of loads that turn an engine over, on a way out that is declared as cranking.

    It lasts for seconds: no demand counts it, and no drop but its own. The coil of its relay is
    none, nor what else hangs on a circuit of its own without such a wire, as the coil that a
    starter has in it: that draws what it draws through the wires of the key.
    """
    coils = coil_names(study.rig)
    return frozenset(
        load.about.name
        for load in study.rig.loads
        if _turns_engine(load) and load.about.name not in coils
        and any(
            _cranks(one, load.circuit)
            for way in ways_of(study).of.get(load.about.name, ()) for one in way.every
        )
    )  # fmt: skip


def _turns_engine(load: Load) -> bool:
    words = f"{load.about.name} {load.about.label}"
    return load.traits.is_moment and starts_engine(words, is_motor=load.nature == "motor")


def _cranks(way: Way, circuit: str) -> bool:
    """Whether a wire on a way out is declared as cranking, of a circuit one of its own."""
    wires = (edge for edge in way.out if isinstance(edge, Conductor) and edge.cranking)
    return any(not circuit or wire.circuit == circuit for wire in wires)


@once
def returning_by(study: Study) -> dict[str, tuple[str, ...]]:
    """For every device on the way back of loads the plus terminals of these, by its edge."""
    found: dict[str, dict[str, None]] = {}
    for load, way in ways_of(study).served:
        for edge in (edge for one in way.every for edge in one.back):
            if isinstance(edge, Device):
                found.setdefault(edge_name(edge), {})[load.plus] = None
    return {name: tuple(ends) for name, ends in found.items()}
