"""What the wires between solar modules and their controller lose while the modules give most."""

from collections.abc import Iterator

from rigfolio.model import Conductor, Source
from rigfolio.network import Way, edge_name
from rigfolio.operating import copper_of, ways_of
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class SunDrop:
    """What is lost on the way from an array to a controller and back [V]; `worst` loses most.

    `works_v` are the volts of the array at its greatest power [V].
    """

    array: Source
    controller: Source
    lost_v: float
    works_v: float
    worst: Conductor


@once
def sun_drops(study: Study) -> tuple[SunDrop, ...]:
    """The drop of every array of which watts and the volts at these are told.

    Left out where a length or a size is not known, where current has more than one way, and where
    an array beside it does not tell its watts.
    """
    return tuple(
        drop
        for controller in study.rig.sources
        if controller.lit is not None
        for drop in _drops(study, controller, controller.lit)
    )


def _drops(study: Study, controller: Source, ends: tuple[str, str]) -> Iterator[SunDrop]:
    ways = [
        (tree.source, tree.way(tree.out, *ends))
        for tree in ways_of(study).trees
        if tree.source.traits.by_light and ends[0] in tree.out and ends[1] in tree.back
    ]
    carried: dict[str, float] = {}
    for array, way in ways:
        current_a = _works_a(array)
        if current_a is None or way.stretches:
            return
        for name in way.single():
            carried[name] = carried.get(name, 0.0) + current_a
    for array, way in ways:
        lost = _lost(study, way, carried)
        if lost:
            modules = array.modules
            works_v = modules.series * (modules.works_v or 0.0) if modules is not None else 0.0
            worst = max(lost, key=lambda one: one[0])[1]
            yield SunDrop(array, controller, sum(one for one, _ in lost), works_v, worst)


def _works_a(array: Source) -> float | None:
    """The current of an array at its greatest power [A]; None where that is not told."""
    modules = array.modules
    if modules is None or not modules.power_w or not modules.works_v:
        return None
    return modules.parallel * modules.power_w / modules.works_v


def _lost(study: Study, way: Way, carried: dict[str, float]) -> list[tuple[float, Conductor]]:
    """What each wire of a way loses [V]; empty where one of them is not known."""
    found = []
    for edge in (*way.out, *way.back):
        if isinstance(edge, Conductor):
            current_a = carried[edge_name(edge)]
            ohm = copper_of(study).counted_ohm(edge, current_a, edge.size)
            if ohm is None:
                return []
            found.append((ohm * current_a, edge))
    return found
