"""A plan as orders, one a line: loads off, sources stopped, then what is opened, in turn."""

from collections.abc import Iterator

from rigfolio.isolation.plans.least_cut import actions_of, once_a_part
from rigfolio.isolation.plans.orders import isolate_ends, turn_of
from rigfolio.isolation.plans.plan import Plan
from rigfolio.isolation.plans.words import STAYS_OFF, goes_dark_words, step_words, stop_words
from rigfolio.kinds import VEHICLE
from rigfolio.model import Device
from rigfolio.network import ends
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import called, how_many, in_a_row

_MOST = 4
"""Loads that are named one by one."""
_LARGEST = 3
"""Of more loads, those that are named."""
_LOSES = "it would lose its battery while it runs"
_THROUGH = "its current runs through what is opened"


@record
class Turn:
    """One thing to do: the part that is opened or stopped, what to do, and why.

    `part` is empty where loads are switched off. `keeps_off` are the sources that would come back
    without it, `done_in` the states in which it stands so already.
    """

    part: str
    do: str
    why: str = ""
    keeps_off: tuple[str, ...] = ()
    done_in: tuple[str, ...] = ()


def in_turn(study: Study, plan: Plan) -> tuple[Turn, ...]:
    """What is done in turn to make a part dead, before it is measured."""
    return tuple(_orders(study, plan))


def unbolted_words(study: Study, device: Device) -> str:
    """What is done before a fuse comes out that is held by nuts; empty for every other part."""
    name = device.about.name
    opening = {one.part: one.opening for one in actions_of(study.rig)}.get(name)
    if opening is None or not (opening.at_live_stud and opening.is_no_switch):
        return ""
    plan = isolate_ends(study, name, ends(device))
    dark = [goes_dark_words(plan)] if plan.goes_dark else []
    told = "; ".join([*(one.do for one in in_turn(study, plan)), *dark])
    why = "as it is held by nuts and one stud is live"
    return f"with an insulated wrench, made dead first and measured, {why}: {told}"


def _orders(study: Study, plan: Plan) -> Iterator[Turn]:
    if _is_one_fuse(study, plan):
        (step,) = plan.steps
        first = _off(study, plan) if plan.off_first else ""
        why = f"keeps off {', '.join(step.keeps_off)}" if step.keeps_off else ""
        do = step_words(study, step, first)
        yield Turn(step.action.part, do, why, step.keeps_off, step.done_in)
        return
    if plan.reached_by and plan.off_first:
        yield Turn("", _off(study, plan), "no contact should open under load")
    kept = once_a_part(study.rig, plan.kept_off)
    for name in sorted(kept, key=lambda name: turn_of(study.rig, name)):
        yield Turn(name, _stopped(study, name), f"charges: {STAYS_OFF}")
    if not plan.reached_by:
        return
    rig = study.rig
    turns = [
        (turn_of(rig, name), Turn(name, _stopped(study, name), _why(study, plan, name)))
        for name in plan.stop_first
    ]
    for step in plan.steps:
        if step.action.part in kept and step.action.kind != VEHICLE:
            continue
        why = f"keeps off {', '.join(step.keeps_off)}" if step.keeps_off else ""
        part, do = step.action.part, step_words(study, step)
        turns.append((turn_of(rig, part, step), Turn(part, do, why, step.keeps_off, step.done_in)))
    yield from (one for _, one in sorted(turns, key=lambda pair: pair[0]))


def _why(study: Study, plan: Plan, name: str) -> str:
    """Why a source is stopped before anything is opened."""
    driven = dict(plan.keeps_running).get(name, "")
    if driven:
        return f"it keeps {driven} running"
    needs = study.rig.by_name.sources[name].traits.needs_battery
    return _LOSES if needs and name not in plan.broken_off else _THROUGH


def _is_one_fuse(study: Study, plan: Plan) -> bool:
    """Whether all that is opened is the fuse that a circuit begins with."""
    openings = [(step.action.part, step.action.opening) for step in plan.steps]
    parts = [part for part, way in openings if way.is_no_switch and not way.by_wrench]
    firsts = {circuit.device for circuit in study.rig.circuits}
    return (
        len(plan.steps) == len(parts) == 1
        and parts[0] in firsts
        and not (plan.kept_off or plan.stop_first)
    )


def _stopped(study: Study, name: str) -> str:
    return stop_words(study, study.rig.by_name.sources[name])


def _off(study: Study, plan: Plan) -> str:
    """Which loads are switched off: all by name where they are few, else the largest."""
    count = len(plan.off_first)
    names = _first_labels(study, plan.off_first)
    if count == 1:
        return f"switch off its load, {names[0]}"
    if len(names) <= _MOST:
        return f"switch off {how_many(count, 'load')}: {in_a_row(names)}"
    return (
        f"switch off all {how_many(count, 'load')}, the largest first: {in_a_row(names[:_LARGEST])}"
    )


def _first_labels(study: Study, loads: tuple[str, ...]) -> tuple[str, ...]:
    """What the first loads are called, each once: one more than are named one by one."""
    found: dict[str, None] = {}
    for name in loads:
        found[_labelled(study, name)] = None
        if len(found) > _MOST:
            break
    return tuple(found)


def _labelled(study: Study, name: str) -> str:
    """A load by what its label at the panel says: its slot and circuit; its own name without."""
    load = study.rig.by_name.loads[name]
    circuit = study.circuit(load.circuit)
    if circuit is None:
        return str(load.about)
    if not circuit.slot and circuit.label:
        return circuit.label
    return called(circuit.place, circuit.label)
