"""Loads that get too little voltage, and the copper that would mend it."""

from rigfolio.books import Limit
from rigfolio.demand.counting import lost_at_once
from rigfolio.demand.drop import Drop, allowed_drop_of, drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load
from rigfolio.operating import at_once, point_in
from rigfolio.record import record
from rigfolio.standard_sizes import is_thicker, sizes_like
from rigfolio.study import Study, once
from rigfolio.units import Size

# A load of constant power collapses where its source and wires take half of the voltage. At the
# nominal voltage all loads then still draw so much that these would take a quarter; less needs no
# further look.
_SUSPECT = 0.2


@record
class Sag:
    """A load whose drop is above what it is allowed [-]."""

    load: Load
    drop: Drop
    allowed: Limit


@once
def collapsed_of(study: Study) -> frozenset[str]:
    """Loads by name that collapse with all on at once, and those of a moment that do it anyway.

    Of several that bring each other down the operating point names the one that it can do without;
    with that mended the others are judged anew.
    """
    expected = {name for name, drawn in flows_of(study).expected.items() if drawn.collapses}
    scenario = at_once(study)
    found = expected - scenario.loads
    if expected or any(_may_collapse(study, load) for load in study.rig.loads):
        found |= {load.about.name for load in point_in(study, scenario).collapsed}
    return frozenset(found or expected)


def _may_collapse(study: Study, load: Load) -> bool:
    if load.kind != "power" or load.traits.is_moment:
        return False
    return lost_at_once(flows_of(study).counts, load) >= _SUSPECT


@once
def sags_of(study: Study) -> tuple[Sag, ...]:
    """The worst load of every circuit that loses more than it is allowed."""
    worst: dict[str, Sag] = {}
    for load in study.rig.loads:
        drop = drops_of(study).of(load)
        if drop is None:
            continue
        allowed = allowed_drop_of(study, load)
        sag = Sag(load, drop, allowed)
        key = load.circuit or load.about.name
        if allowed.is_broken_by(drop.share) and (
            key not in worst or _over(sag) > _over(worst[key])
        ):
            worst[key] = sag
    return tuple(worst.values())


@once
def told_of_loads(study: Study) -> frozenset[str]:
    """The panels of loads that lose more than they are allowed, their feeder counted in."""
    sagging = {sag.load.circuit for sag in sags_of(study) if not sag.drop.bar}
    return frozenset(one.panel for one in study.rig.circuits if one.place in sagging)


def _over(sag: Sag) -> float:
    return sag.drop.share - sag.allowed.value


def size_for(study: Study, sag: Sag) -> tuple[Size, tuple[Conductor, ...]] | None:
    """The thinnest stock size for some wires of a load that keeps its drop, and which change.

    The wires that lose most come first: those of the load's own circuit, or those that it shares
    with other loads, the feeder and its return; then the others; then all of them. None where no
    size does it.
    """
    own = _own(study, sag.load)
    names = {wire.name for wire in own}
    way = [e for e in (*sag.drop.way.out, *sag.drop.way.back) if isinstance(e, Conductor)]
    shared = tuple(wire for wire in way if wire.name not in names)
    is_own = sag.drop.worst is None or sag.drop.worst.name in names
    first, second = (own, shared) if is_own else (shared, own)
    for wires in (first, second, (*own, *shared)):
        found = _thinnest(study, sag, wires)
        if found is not None:
            return found
    return None


def _thinnest(
    study: Study, sag: Sag, wires: tuple[Conductor, ...]
) -> tuple[Size, tuple[Conductor, ...]] | None:
    names = {wire.name for wire in wires}
    for size in sizes_like(wires[0], study.book) if wires else ():
        if not any(is_thicker(size, wire) for wire in wires):
            continue

        def on_trial(wire: Conductor, size: Size = size) -> Size | Unknown:
            return size if wire.name in names and is_thicker(size, wire) else wire.size

        drop = drops_of(study).of(sag.load, on_trial)
        if drop is not None and not sag.allowed.is_broken_by(drop.share):
            return size, tuple(wire for wire in wires if is_thicker(size, wire))
    return None


def _own(study: Study, load: Load) -> tuple[Conductor, ...]:
    if load.circuit:
        return tuple(wire for wire in study.wires_of(load.circuit) if not wire.lead)
    found: dict[str, Conductor] = {}
    for way in flows_of(study).ways.get(load.about.name, ()):
        for edge in (edge for one in way.every for edge in (*one.out, *one.back)):
            if isinstance(edge, Conductor):
                users = flows_of(study).users(edge.name)
                if users == {load.about.name}:
                    found[edge.name] = edge
    return tuple(found.values())
