"""How to make a part of the rig dead by hand: what to open, in which order, what stays live.

Everything is taken as closed and every source as on, so that the plan holds in any state of the
rig; what loses its bank or is parted with a parallel switch open, as in use, is stopped as well.
The fewest things that keep every source away are opened, in the order of the trade. What is live
afterwards is listed with its sources; so is every source that would feed back with all disconnects
open, and what must stay on but goes dark.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.books import order_of_work
from rigfolio.isolation.conditions import Condition, opened
from rigfolio.isolation.daylight import isolators_of
from rigfolio.isolation.energised import CLOSED, Alive, Open, SourceReach, source_reach
from rigfolio.isolation.fed import when_opened
from rigfolio.isolation.kept import kept_loads, kept_names
from rigfolio.isolation.plans.halves import halves, unplugged_from
from rigfolio.isolation.plans.least_cut import (
    Action,
    Cut,
    actions_of,
    fewest,
    left_in,
    once_a_part,
    opened_by,
    with_outputs,
)
from rigfolio.isolation.plans.places import Target, hands_at
from rigfolio.isolation.plans.plan import BackFeed, Plan, Step, StillLive
from rigfolio.isolation.plans.running import as_used, to_stop
from rigfolio.isolation.states import states_of
from rigfolio.isolation.table import (
    parts_beside,
    parts_of,
    parts_of_returns,
    told_by_itself,
)
from rigfolio.kinds import OPENINGS
from rigfolio.model import Circuit, Device, Load, Rig
from rigfolio.network import Edge, edge_name, edges_of_device, ends, path
from rigfolio.record import replace
from rigfolio.study import Study, once
from rigfolio.wording import NameKind, load_words, terminals_of

_Ways = Sequence[tuple[Alive, Alive]]


@once
def isolate(
    study: Study,
    name: str,
    condition: Condition | None = None,
    kind: NameKind | None = None,
) -> Plan:
    """How to make a part dead, whatever the state, or from a state on.

    `kind` is what it is, where that is known and not asked of a person.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    return _planned(study, hands_at(study, name, kind), condition)


def isolate_ends(
    study: Study,
    name: str,
    terminals: Iterable[str],
    kept_off: tuple[str, ...] = (),
    alone: Plan | None = None,
) -> Plan:
    """How to make several places dead at once.

    Parameters
    ----------
    study : Study
        The rig.
    name : str
        What they are called together.
    terminals : iterable of str
        All that is to be dead.
    kept_off : tuple of str
        Charging sources that are off before anything else and stay so; a vehicle feeds its half.
    alone : Plan, optional
        How the one panel among them is made dead by itself: all of that is opened here too, since
        what is only switched off may start by itself, and more only where that is not enough.
    """
    place = Target(name, "", _each_once(terminals))
    befores = as_used(study.rig, _kept_off(study, kept_off))
    cut = _with_all_of(study, place, befores[0], alone) if alone is not None else None
    plan = _planned_from(study, place, befores, cut)
    told = {step.action: step.keeps_off for step in alone.steps} if alone is not None else {}
    steps = tuple(
        replace(step, keeps_off=step.keeps_off or told.get(step.action, ())) for step in plan.steps
    )
    off = with_outputs(study.rig, kept_off)
    stop_first = tuple(one for one in plan.stop_first if one not in off)
    return replace(plan, kept_off=kept_off, steps=steps, stop_first=stop_first)


@once
def carried_out(study: Study, plan: Plan) -> Open:
    """What is open and off once a plan is carried out, with all that is stopped for it."""
    names = dict.fromkeys((*plan.kept_off, *plan.stop_first))
    gone = [name for name in names if name not in halves(study.rig)]
    actions = (step.action for step in plan.steps)
    before = Open(unplugged_from(study.rig, plan.kept_off))
    return _stopped(study, gone, opened_by(study.rig, actions, before))


def left_live(
    study: Study, terminals: Iterable[str], kept_off: tuple[str, ...], alone: Plan
) -> tuple[str, ...]:
    """The terminals that stay live where a plan was carried out and what charges is off."""
    before = as_used(study.rig, _kept_off(study, kept_off))[0]
    actions = [step.action for step in alone.steps]
    alive = source_reach(study).alive(opened_by(study.rig, actions, before))
    return tuple(end for end in terminals if end in alive)


def _with_all_of(study: Study, place: Target, before: Open, alone: Plan) -> Cut:
    """All of a plan that is not so from a state on, and what else a place needs then."""
    drive, rig = source_reach(study), study.rig
    in_sun = {step.action.part for step in alone.steps if step.in_sun}
    actions = tuple(
        one for one in (step.action for step in alone.steps)
        if one.part in in_sun
        or (one.part not in before.sources and not _is_open(rig, one, before))
    )  # fmt: skip
    after = opened_by(rig, actions, before)
    if not _reaching(drive.alive(after), place.terminals):
        return Cut(actions)
    return Cut((*actions, *fewest(drive, place.terminals, after).actions))


def _is_open(rig: Rig, action: Action, state: Open) -> bool:
    edges = edges_of_device(rig, action.part)
    return bool(edges) and edges <= state.edges


def _kept_off(study: Study, names: tuple[str, ...]) -> Open:
    """A rig with what charges off before anything is opened.

    A converter starts as soon as its input is live, so it is not off for good: that is opened too.
    """
    sources = study.rig.by_name.sources
    by_itself = {name for name in source_reach(study).inputs if sources[name].inlet}
    stopped = [name for name in names if name not in halves(study.rig) and name not in by_itself]
    return _stopped(study, stopped, Open(unplugged_from(study.rig, names)))


def _planned(study: Study, place: Target, condition: Condition | None) -> Plan:
    befores = (opened(study.rig, condition),) if condition else as_used(study.rig, CLOSED)
    return _planned_from(study, place, befores)


def _planned_from(
    study: Study, place: Target, befores: tuple[Open, ...], cut: Cut | None = None
) -> Plan:
    drive, rig, before = source_reach(study), study.rig, befores[0]
    cut = cut or _own_cut(drive, place, before) or fewest(drive, place.terminals, before)
    after = opened_by(rig, cut.actions, before)
    alive, stops = drive.alive(after), to_stop(drive, cut.actions, befores)
    running = {*stops.losing, *stops.breaking, *stops.beside}
    stopped_too = running - with_outputs(rig, cut.parts) - {*cut.parts}
    stop_first = once_a_part(rig, sorted(stopped_too, key=lambda name: turn_of(rig, name)))
    # Their own half of the plug stays live.
    gone = [name for name in stop_first if name not in halves(rig)]
    stopped_state = _stopped(study, gone, after)
    afters = [_stopped(study, gone, opened_by(rig, cut.actions, one)) for one in befores]
    ways = [(drive.alive(a), drive.alive(b)) for a, b in zip(befores, afters, strict=True)]
    was, stopped = ways[0]
    states = states_of(study, drive)
    batteries = {s.plus for s in rig.sources if s.stores}
    fed = tuple(_fed_by(study, place))
    return Plan(
        place=place.name,
        label=place.label,
        terminals=place.terminals,
        reached_by=_reaching(was, place.terminals),
        loads=tuple(load_words(rig, load) for load in fed),
        off_first=_off_first(study, fed, ways),
        stop_first=stop_first,
        steps=_steps(drive, place, cut.actions, before, states),
        is_enough=not any(end in alive for end in place.terminals),
        stays_live=_still_live(drive, stopped, stopped_state),
        back_feeds=_back_feeds(drive, place, before),
        goes_dark=_dark(study, zip(befores, afters, strict=True)),
        posts=tuple(s.plus for s in rig.sources if s.stores),
        is_post=bool(batteries & set(place.terminals)),
        order=order_of_work(),
        broken_off=stops.breaking,
        keeps_running=tuple(stops.beside.items()),
        with_it=place.with_it,
        comes_back=place.comes_back,
        condition=place.condition,
        left_in=left_in(drive, place.terminals, cut, before),
    )


def _stopped(study: Study, names: Iterable[str], after: Open) -> Open:
    """What is open and off with some sources stopped too; modules by the switches behind them."""
    switches = {one for name in names for one in isolators_of(study, name)}
    edges = {edge_name(d) for d in study.rig.devices if d.about.name in switches}
    return Open(after.edges | edges, after.sources | with_outputs(study.rig, tuple(names)))


def _own_cut(drive: SourceReach, place: Target, before: Open) -> Cut | None:
    """What a circuit begins with, where a place is of one circuit and that alone frees it.

    A person who works at one circuit leaves all others alive.
    """
    rig, wanted = drive.rig, set(place.terminals)
    for circuit, reach in _reach_of_circuits(rig):
        if not circuit.device or not wanted <= reach:
            continue
        own = [one for one in actions_of(rig) if one.part == circuit.device]
        if not own or own[0].opening.by_wrench:
            return None
        was, alive = (drive.alive(opened_by(rig, some, before)) for some in ((), own))
        is_freed = bool(_reaching(was, wanted)) and not _reaching(alive, wanted)
        return Cut(tuple(own)) if is_freed else None
    return None


@once
def _reach_of_circuits(rig: Rig) -> tuple[tuple[Circuit, frozenset[str]], ...]:
    """Each circuit with its terminals and the plus of each of its loads."""
    loads = rig.by_name.loads
    return tuple(
        (
            one,
            frozenset(
                (
                    *terminals_of(rig, "circuit", one.place).plus,
                    *(loads[name].plus for name in one.loads),
                )
            ),
        )
        for one in rig.circuits
    )


def _each_once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _reaching(alive: Alive, terminals: Iterable[str]) -> tuple[str, ...]:
    found = [alive[end] for end in terminals if end in alive]
    # All ends of a part are alike as a rule.
    if found and found.count(found[0]) == len(found):
        return found[0]
    return _each_once(name for names in found for name in names)


def _fed_by(study: Study, place: Target) -> Iterator[Load]:
    """The loads that have no supply but by way of a part."""
    walls = set(place.terminals)
    starts = [source.plus for source in study.rig.sources]
    with_it = _fed(study)

    def is_at_a_wall(edge: Edge) -> bool:
        one, two = ends(edge)
        return one in walls or two in walls

    without = study.net.walk((start for start in starts if start not in walls), is_at_a_wall)
    for load in study.rig.loads:
        if load.plus in with_it and load.plus not in without:
            yield load


@once
def _fed(study: Study) -> frozenset[str]:
    """The terminals that any source is joined to."""
    return frozenset(study.net.walk(source.plus for source in study.rig.sources))


def _off_first(study: Study, fed: tuple[Load, ...], ways: _Ways) -> tuple[str, ...]:
    """The loads that what is opened would part under load, by name, the largest first.

    `fed` are those that have no supply but by way of the part.
    What must stay on has no switch, and what feeds a converter stops with what that feeds.
    """
    left_out = kept_names(study.rig)
    left_out |= {source.inlet for source in study.rig.sources}
    parted = [load for load in study.rig.loads if _goes_dark(load, ways)]
    found = {load.about.name: load for load in (*fed, *parted)}
    amps = {
        name: load.current_a(study.nominal_v(load.plus))
        for name, load in found.items()
        if name not in left_out
    }
    return tuple(
        sorted(amps, key=lambda name: -value if isinstance(value := amps[name], float) else 0.0)
    )


def _steps(
    drive: SourceReach,
    place: Target,
    actions: tuple[Action, ...],
    before: Open,
    states: tuple[Condition, ...],
) -> tuple[Step, ...]:
    rig = drive.rig
    lit = drive.study.sunlit
    in_sun = {device.about.name for device in rig.devices if device.line in lit}
    labels = _labels(rig)
    steps = []
    for action in actions:
        others = [one for one in actions if one is not action]
        back = drive.alive(opened_by(rig, others, before))
        steps.append(
            Step(
                action,
                labels.get(action.part, ""),
                _reaching(back, place.terminals),
                tuple(s.name for s in states if _is_done(rig, action, s)),
                action.part in in_sun,
            )
        )
    return tuple(sorted(steps, key=lambda step: turn_of(rig, step.action.part, step)))


@once
def _labels(rig: Rig) -> Mapping[str, str]:
    """What is opened in words; a fuse that a circuit begins with is labelled with what that is."""
    labels = {circuit.device: circuit.label for circuit in rig.circuits}
    labels |= {one.about.name: one.about.label for one in rig.devices if one.about.label}
    return labels | {source.about.name: source.about.label for source in rig.sources}


def turn_of(rig: Rig, part: str, step: Step | None = None) -> tuple[int, int, str]:
    """The place in the order of a source that is stopped, or of what is opened in a step.

    What keeps the sun off goes before any lead of a battery.
    """
    sources = rig.by_name.sources
    source = sources.get(part)
    if step is not None and step.in_sun:
        turns = (one.traits.turn for one in sources.values() if one.traits.by_light)
        return OPENINGS["source"].turn, min(turns), part
    opening = step.action.opening if step else OPENINGS[sources[part].traits.opening]
    return opening.turn, source.traits.turn if source else 0, part


def _is_done(rig: Rig, action: Action, state: Condition) -> bool:
    open_ = opened(rig, state)
    return action.part in open_.sources or _is_open(rig, action, open_)


def _still_live(drive: SourceReach, alive: Alive, after: Open) -> tuple[StillLive, ...]:
    raised = drive.through_loads(alive, after)
    study, found, beside = drive.study, [], parts_beside(drive.study)
    for part in (*parts_of(study), *beside, *parts_of_returns(study)):
        by = _reaching(alive, part.terminals)
        through = _reaching(raised, part.terminals) if raised else ()
        if by or through:
            found.append(StillLive(part, by or through, not by))
    more = told_by_itself((one.part, (one.sources, one.through_loads)) for one in found)
    plain = [one for one in found if one.part.kind != "device"]
    return (*plain, *(StillLive(part, *told) for part, told in more))


def _back_feeds(drive: SourceReach, place: Target, before: Open) -> tuple[BackFeed, ...]:
    """The sources that reach a part with every disconnect and selector open."""
    rig = drive.rig
    names = {device.about.name for device in rig.devices if device.traits.parts_rig}
    masters = [action for action in actions_of(rig) if action.part in names]
    state = opened_by(rig, masters, before)
    reaching = set(_reaching(drive.alive(state), place.terminals))
    found = []
    for source in rig.sources:
        if source.about.name not in reaching or source.about.name == place.name:
            continue
        back = drive.net.walk([source.plus], state.bars)
        end = next((one for one in place.terminals if one in back), "")
        devices = [edge for edge in path(back, end) if isinstance(edge, Device)]
        by = _each_once(device.about.name for device in reversed(devices))
        found.append(BackFeed(source.about.name, source.about.label, by))
    return tuple(found)


def _goes_dark(load: Load, ways: _Ways) -> bool:
    return any(load.plus in was and load.plus not in alive for was, alive in ways)


def _dark(study: Study, states: Iterable[tuple[Open, Open]]) -> tuple[str, ...]:
    """What must stay on and loses its last source, or the coil that holds its contact."""
    kept = [load for load, _ in kept_loads(study.rig)]
    if not kept:
        return ()
    found = [when_opened(study, was, now) for was, now in states]
    return tuple(
        load_words(study.rig, load) for load in kept
        if any(load.about.name in one.dark for one in found)
    )  # fmt: skip
