"""What charges or converts and is switched off before anything is opened, since it runs.

An alternator or a solar controller that loses its battery while it runs does harm. Whatever runs, a
contact that is opened under its current draws an arc, and nobody wants that beside a battery.
"""

from collections.abc import Iterable, Mapping

from rigfolio.isolation.energised import Alive, Open, SourceReach, in_use
from rigfolio.isolation.plans.least_cut import Action, opened_by
from rigfolio.model import Rig, Source
from rigfolio.record import record


@record
class ToStop:
    """What is stopped before some actions, by name.

    `losing` would lose their last battery, the current of those `breaking` runs through what is
    opened, and those `beside` are stopped with them: engines, each with the converter it runs.
    """

    losing: tuple[str, ...]
    breaking: tuple[str, ...]
    beside: Mapping[str, str]


def as_used(rig: Rig, before: Open) -> tuple[Open, ...]:
    """How a rig may stand: as before, and with what joins banks by hand open as well, as in use."""
    edges = before.edges | in_use(rig).edges
    return tuple(dict.fromkeys((before, Open(edges, before.sources))))


def to_stop(drive: SourceReach, actions: tuple[Action, ...], befores: Iterable[Open]) -> ToStop:
    """What is stopped first, in whichever way the rig may stand before."""
    losing: dict[str, None] = {}
    breaking: dict[str, None] = {}
    beside: dict[str, str] = {}
    for before in befores:
        after = opened_by(drive.rig, actions, before)
        alive = drive.alive(after)
        lost = losing_battery(drive, before, after, alive)
        broken = broken_off(drive, actions, before)
        running = (*lost, *broken, *(action.part for action in actions))
        with_it = stopped_with(drive, running, before)
        losing |= dict.fromkeys(lost)
        breaking |= dict.fromkeys(broken)
        beside = {**with_it, **beside}
    return ToStop(tuple(losing), tuple(name for name in breaking if name not in losing), beside)


def losing_battery(drive: SourceReach, before: Open, after: Open, alive: Alive) -> tuple[str, ...]:
    """Charging sources that are on, reach a battery before and none after, by name.

    A solar controller whose modules are parted from it runs no more; `alive` is what is live after.
    """
    return tuple(
        source.about.name
        for source in drive.rig.sources
        if source.traits.only_gives
        and source.about.name not in after.sources
        and not _is_dark(source, alive)
        and _batteries(drive, source, before)
        and not _batteries(drive, source, after)
    )


def broken_off(drive: SourceReach, actions: Iterable[Action], before: Open) -> tuple[str, ...]:
    """What charges or converts, is on, and has its current through a fuse or a lead that is opened.

    What no switch opens is opened last: all else is open by then. A converter that only passes on
    what it gets draws nothing once its loads are off, and these go off before it is parted.
    """
    actions = tuple(actions)
    last = [one for one in actions if one.opening.is_no_switch or one.opening.by_wrench]
    if not last:
        return ()
    earlier = opened_by(drive.rig, (one for one in actions if one not in last), before)
    later = opened_by(drive.rig, last, earlier)
    was, alive = drive.alive(earlier), drive.alive(later)
    return tuple(
        source.about.name
        for source in drive.rig.sources
        if source.about.name not in later.sources
        and (_gives(drive, source, earlier, later, alive) or _takes(drive, source, was, alive))
    )


def stopped_with(drive: SourceReach, ended: Iterable[str], before: Open) -> Mapping[str, str]:
    """What else is stopped: engines, each with one of those `ended` that it keeps running."""
    found: dict[str, str] = {}
    on = [one for one in drive.rig.sources if one.about.name not in before.sources]
    for name in dict.fromkeys(ended):
        end = drive.inputs.get(name)
        near = drive.net.walk([end], before.bars) if end else {}
        engines = (s for s in on if s.traits.runs_with == "engine" and s.plus in near)
        found |= {one.about.name: name for one in engines if one.about.name not in found}
    return found


def _gives(drive: SourceReach, source: Source, earlier: Open, later: Open, alive: Alive) -> bool:
    """Whether a source that charges is parted from any battery."""
    lost = _batteries(drive, source, earlier) - _batteries(drive, source, later)
    return source.traits.charges and bool(lost) and not _is_dark(source, alive)


def _takes(drive: SourceReach, source: Source, was: Alive, alive: Alive) -> bool:
    """Whether the input of a converter is parted from any of the sources that feed it.

    A source that goes dark itself is stopped before that, and parts nothing from the input of
    another that is still fed; but one that only passes on what it gets carries that current on.
    """
    name = source.about.name
    if not source.inlet or name not in drive.inputs:
        return False
    end = drive.inputs[name]
    lost = {*was.get(end, ())} - {*alive.get(end, ()), name}
    if end not in alive:
        return bool(lost) and name not in drive.passes_on
    fed = drive.inputs
    return any(one not in fed or fed[one] in alive or one in drive.passes_on for one in lost)


def _batteries(drive: SourceReach, source: Source, state: Open) -> frozenset[str]:
    """The batteries that a source reaches."""
    reached = drive.net.walk([source.plus], state.bars)
    return frozenset(
        one.about.name
        for one in drive.rig.sources
        if one.stores and one.plus in reached and one.about.name not in state.sources
    )


def _is_dark(source: Source, alive: Alive) -> bool:
    return source.lit is not None and source.lit[0] not in alive
