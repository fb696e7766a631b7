"""How far a conductor runs unprotected: from where its supply connects to what protects it."""

import math
from collections.abc import Collection, Mapping

from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device
from rigfolio.network import Edge, Step, is_guard, path, unguarded_m
from rigfolio.protection.inflow import Inflow
from rigfolio.record import record
from rigfolio.study import Study


@record
class FarSide:
    """What a conductor runs into beyond its far end.

    `devices` is empty where a load or nothing at all comes first. `run_m` is the longest way to a
    device, its own length included, as far as lengths are known; `way` its wires, this one first.
    """

    devices: tuple[Device, ...]
    run_m: float
    way: tuple[Conductor, ...]


@record
class FedFrom:
    """Where the supply of a conductor connects.

    `before_m` is the way from there to the conductor, `way` its wires from there on; `at_driver`
    tells whether it connects at the very device or source that drives, `at_battery` whether that is
    the post of a battery.
    """

    before_m: float
    terminal: str
    at_driver: bool
    at_battery: bool
    way: tuple[Conductor, ...] = ()


def far_side(study: Study, wire: Conductor, inflow: Inflow) -> FarSide:
    """What a conductor runs into beyond the end that is not the one that something flows into."""
    far = wire.b if inflow.end == wire.a else wire.a
    came = {inflow.end, *inflow.at} - {far}
    found: dict[str, Device] = {}
    longest_m, last = 0.0, far
    back: dict[str, Step] = {}

    def length(edge: Edge) -> float | None:
        return None if edge is wire else unguarded_m(edge)

    for here, way_m in study.net.distances(far, length, stops=came, back=back):
        if here in came:
            continue
        if here in study.load_ends:
            return FarSide((), math.inf, (wire,))
        if way_m > longest_m:
            longest_m, last = way_m, here
        for edge, _ in study.net.steps(here):
            if is_guard(edge):
                found[edge.about.name] = edge
    way = (wire, *reversed(_wires(back, last)))
    return FarSide(tuple(found.values()), (unguarded_m(wire) or 0.0) + longest_m, way)


def fed_from(study: Study, wire: Conductor, inflow: Inflow, others: Collection[str]) -> FedFrom:
    """Where the supply of a conductor's end connects.

    That is where the last conductor ends that is protected itself, or the terminal of the device or
    source that drives.

    Parameters
    ----------
    study : Study
        The rig.
    wire : Conductor
        The conductor.
    inflow : Inflow
        The end.
    others : Collection[str]
        The conductors, by name, into which too much can flow.
    """

    def is_sound(edge: Edge) -> bool:
        if isinstance(edge, Device):
            return not edge.protects
        return edge is not wire and edge.name not in others and not isinstance(edge.size, Unknown)

    def unsound(edge: Edge) -> float | None:
        if edge is wire or (isinstance(edge, Conductor) and is_sound(edge)):
            return None
        return unguarded_m(edge)

    fed = study.net.walk(inflow.at, lambda edge: not is_sound(edge))
    posts = {s.plus for s in study.rig.sources if s.stores and s.plus in fed}
    batteries = study.net.walk(posts, is_wire_or_guard)
    drivers = study.net.walk(inflow.at, is_wire_or_guard)
    back: dict[str, Step] = {}
    for here, way_m in study.net.distances(inflow.end, unsound, back=back):
        if here in fed:
            way = _wires(back, here)
            return FedFrom(way_m, here, here in drivers, here in batteries, way)
    return FedFrom(0.0, inflow.end, at_driver=False, at_battery=False)


def _wires(back: Mapping[str, Step], terminal: str) -> tuple[Conductor, ...]:
    """The wires of a way from a terminal to where it was measured from."""
    return tuple(edge for edge in path(back, terminal) if isinstance(edge, Conductor))


def is_wire_or_guard(edge: Edge) -> bool:
    """Whether an edge is a conductor, or a device that opens by itself."""
    return isinstance(edge, Conductor) or edge.protects
