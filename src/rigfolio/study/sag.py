"""Loads that get too little voltage, and the copper that would mend it."""

from rigfolio.books.loader import Limit
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor, Load
from rigfolio.record import record
from rigfolio.study.drop import Drop
from rigfolio.study.stock import is_thicker, sizes_like
from rigfolio.study.study import Study
from rigfolio.units import Size


@record
class Sag:
    """A load whose drop is above what it is allowed [-]."""

    load: Load
    drop: Drop
    allowed: Limit


def sags(study: Study) -> tuple[Sag, ...]:
    """The worst load of every circuit that loses more than it is allowed."""
    worst: dict[str, Sag] = {}
    for load in study.rig.loads:
        drop = study.drops.of(load)
        if drop is None:
            continue
        allowed = study.allowed_drop(load)
        over = drop.share - allowed.value
        key = load.circuit or load.about.name
        if over > 1e-9 and (key not in worst or over > _over(worst[key])):
            worst[key] = Sag(load, drop, allowed)
    return tuple(worst.values())


def _over(sag: Sag) -> float:
    return sag.drop.share - sag.allowed.value


def size_for(study: Study, load: Load, allowed: float) -> tuple[Size, tuple[Conductor, ...]] | None:
    """The thinnest stock size for the wires of a load's own that keeps its drop, and which change.

    Of a circuit all its wires count as its own; of a load outside circuits those that carry nothing
    else. None where no size does it.
    """
    own = _own(study, load)
    if not own:
        return None
    names = {wire.name for wire in own}
    for size in sizes_like(own[0]):
        if not any(is_thicker(size, wire) for wire in own):
            continue

        def on_trial(wire: Conductor, size: Size = size) -> Size | Unknown:
            return size if wire.name in names and is_thicker(size, wire) else wire.size

        drop = study.drops.of(load, on_trial)
        if drop is not None and drop.share <= allowed:
            return size, tuple(wire for wire in own if is_thicker(size, wire))
    return None


def _own(study: Study, load: Load) -> tuple[Conductor, ...]:
    if load.circuit:
        return tuple(wire for wire in study.wires_of(load.circuit) if not wire.lead)
    found: dict[str, Conductor] = {}
    for way in study.flows.ways.get(load.about.name, ()):
        for edge in (*way.out, *way.back):
            if isinstance(edge, Conductor):
                users = study.flows.users(edge.name)
                if users == {load.about.name}:
                    found[edge.name] = edge
    return tuple(found.values())
