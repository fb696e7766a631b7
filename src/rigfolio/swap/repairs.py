"""What is put right at a rig as it was found: other fuses and wires than belong there, damage.

In a panel it is done while that panel is dead. What lies outside all panels has a plan of its own:
it is made dead, put right, and closed again before a panel is opened.
"""

from collections.abc import Collection, Iterator, Sequence

from rigfolio.findings import Finding
from rigfolio.isolation import isolate_ends, parted_from_source
from rigfolio.kinds import CONDITIONS, is_of_heat
from rigfolio.model import About, Circuit, Conductor, Device, Panel, Rig
from rigfolio.record import record
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study
from rigfolio.swap.fitting import torque_words
from rigfolio.swap.notes import devices_within
from rigfolio.swap.power import (
    BEFORE,
    LAID_OUT,
    LOOK,
    ONE_FOR_ONE,
    PULLED,
    Task,
    WorkPart,
    back_on,
    chargers,
    charging,
    dead,
    proof,
)
from rigfolio.swap.stops import stops, stops_words
from rigfolio.units import Size
from rigfolio.wording import (
    amps,
    called,
    gauge_words,
    rating_and_kind,
    short_end,
    wire_length,
)

HEATED = "find what made it hot"
"""What is done before anything is renewed that was hot."""
TITLE = "Put right what was found"
_ABOUT = (
    f"{ONE_FOR_ONE} A new fuse is tried with the meter first. Find out what made somebody put a "
    "larger one in, and what made a part hot, before power comes back."
)


@record
class Repair:
    """One thing that is put right: its name, the task, the terminals where hands go."""

    name: str
    task: Task
    ends: tuple[str, ...]


def mended_at(study: Study, panel: Panel) -> WorkPart:
    """What is put right inside a panel and in its circuits, while it is dead.

    A fuse in a slot is put right where its slot is labelled.
    """
    rig, name = study.rig, panel.about.name
    tasks = [_mend(panel.about, study)] if panel.about.condition else []
    places = {circuit.place: circuit for circuit in rig.circuits if circuit.panel == name}
    told = {one.place: one.condition for one in rig.remarks if one.condition}
    for number in range(1, panel.slots + 1):
        place = f"{name}.{number}"
        circuit = places.get(place)
        marks = (circuit.condition if circuit is not None else "", told.get(place, ""))
        for mark in dict.fromkeys(filter(None, marks)):
            label = circuit.label if circuit is not None else ""
            tasks.append(_mending(called(place, label), mark))
    tasks += [
        _new_wire(rig, wire) for circuit in places.values() for wire in others_in(rig, circuit)
    ]
    inside = _held(rig, tuple(places.values()))
    tasks += [_mend(about, study) for about in inside if about.condition]
    return WorkPart(TITLE, (_ABOUT,), tuple(tasks), is_list=True)


def work_elsewhere(
    study: Study, only: Collection[str] = (), tried: Collection[Finding] = ()
) -> tuple[WorkPart, ...]:
    """All parts of the work outside panels; nothing where all there is as it belongs.

    Parameters
    ----------
    study : Study
        The rig, with what was found in it.
    only : Collection[str]
        Names of the parts and wires that are meant; all of them if left out.
    tried : Collection[Finding]
        What was found, with ways out that were tried.
    """
    found = [one for one in _elsewhere(study) if not only or one.name in only]
    if not found:
        return ()
    names = tuple(dict.fromkeys(one.name for one in found))
    ends = [end for one in found for end in one.ends if end in study.net.at]
    off = chargers(study)
    # A joint that is worked on opens as a wire that is lifted does.
    touched = {end for one in found for end in one.ends}
    lifted = {wire.name for wire in study.rig.conductors if touched & {wire.a, wire.b}}
    ends += parted_from_source(study, lifted, off)
    plan = isolate_ends(study, ", ".join(names), ends, off)
    ready = [
        LAID_OUT,
        Task(f"photograph {', '.join(names)} before anything is touched"),
    ]
    look = [PULLED]
    parts = (
        WorkPart(BEFORE, stops_words(study), tuple(ready)),
        dead(study, plan, proof(study, plan, [], names)),
        WorkPart(TITLE, (_ABOUT,), tuple(one.task for one in found), is_list=True),
        WorkPart(LOOK, (), tuple(look)),
        stops(study, tried=tried),
        WorkPart("Power back", (), tuple(back_on(study, plan))),
        charging(study, plan),
    )
    return tuple(part for part in parts if part.tasks)


def _elsewhere(study: Study) -> Iterator[Repair]:
    """Fuses and breakers first, then wires, then what is damaged."""
    rig = study.rig
    held = {panel.about.name for panel in rig.panels}
    inside = [circuit for circuit in rig.circuits if circuit.panel in held]
    shut = {circuit.device for circuit in inside} | {one.name for one in _held(rig, inside)}
    within = {circuit.place for circuit in inside}
    loose = [d for d in rig.by_name.devices.values() if d.about.name not in shut and not d.in_slot]
    wires = [wire for wire in rig.conductors if wire.circuit not in within and not wire.assumed]
    for device in loose:
        if _is_other(device):
            yield _another_device(study, device)
    for wire in wires:
        if is_pulled_new(wire):
            yield Repair(wire.name, _new_wire(rig, wire), (wire.a, wire.b))
    for about, ends in _damaged(rig, loose):
        yield Repair(about.name, _mend(about, study), ends)
    for wire in wires:
        if wire.condition and not is_pulled_new(wire):
            yield Repair(wire.name, _mending(f"wire {wire.name}", wire.condition), (wire.a, wire.b))


def _is_other(device: Device) -> bool:
    """Whether something else was found than belongs there."""
    found_a = device.found_a
    return isinstance(found_a, float) and found_a != device.rating_a


def _another_device(study: Study, device: Device) -> Repair:
    rig, name = study.rig, device.about.name
    ends = (device.line, device.load)
    lifts = tuple(wire.name for wire in rig.conductors if {wire.a, wire.b} & set(ends))
    what = f"fit {rating_and_kind(device)}"
    if is_barred(study, device):
        what = barred_words(study, device)
    elif not isinstance(device.rating_a, float):
        what = "read on its wires what belongs there before another one goes in"
    do = f"{called(name, device.about.label)}: take out the {amps(device.found_a)} that was found"
    return Repair(name, Task(f"{do}; {what}", torque_words(rig, device.line), lifts=lifts), ends)


def is_another(wire: Conductor) -> bool:
    """Whether a wire was found that is not the one that belongs there."""
    return isinstance(wire.found, Size) and wire.found != wire.size and not wire.assumed


def is_pulled_new(wire: Conductor) -> bool:
    """Whether another wire is pulled in place of the one that is there.

    Where heat has reached its insulation a new end mends nothing of the rest of its run.
    """
    return is_another(wire) or (is_of_heat(wire.condition) and not wire.assumed)


def others_in(rig: Rig, circuit: Circuit) -> tuple[Conductor, ...]:
    """The wires of a circuit, out and back, in place of which others are pulled."""
    wires = (rig.conductor(name) for name in (*circuit.wires, *circuit.returns))
    return tuple(filter(is_pulled_new, wires))


def _new_wire(rig: Rig, wire: Conductor) -> Task:
    ends = f"{short_end(rig, wire.a)} to {short_end(rig, wire.b)}"
    if isinstance(wire.size, Size):
        new = f"pull {gauge_words(wire)}, {wire_length(wire)}"
    else:
        new = "read what belongs there before a new one is pulled"
    mark = f"is {wire.condition}: {HEATED}; " if is_of_heat(wire.condition) else ""
    out = "take it out" if mark else ""
    if isinstance(wire.found, Size) and is_another(wire):
        out = f"take out the {wire.found.text} that was found"
    do = f"{wire.name}, {ends}: {mark}{out}; {new}"
    said = f"`{wire.condition}`" if mark else "`found`"
    see = f"then take {said} out of the text, and print its label and this plan anew"
    return Task(do, see if wire.circuit or mark else "", lifts=(wire.name,))


def _damaged(rig: Rig, loose: list[Device]) -> Iterator[tuple[About, tuple[str, ...]]]:
    """Sources, bars, devices and loads outside panels of which damage is remarked."""
    found: list[tuple[About, tuple[str, ...]]] = []
    found += [(one.about, one.terminals) for one in rig.sources]
    found += [(one.about, (one.terminal,)) for one in rig.junctions]
    found += [(one.about, (one.line, one.load)) for one in loose]
    found += [(one.about, (one.plus,)) for one in rig.loads if not one.circuit]
    yield from ((about, ends) for about, ends in found if about.condition)


def _mend(about: About, study: Study) -> Task:
    task = _mending(str(about), about.condition)
    ends = [one.terminal for one in study.rig.junctions if one.about.name == about.name]
    torque = next(filter(None, (torque_words(study.rig, end) for end in ends)), "")
    return Task(task.do, "; ".join(filter(None, (task.see, torque))))


def mended_words(mark: str) -> str:
    """What is done where a part was found so: `scorched`, `loose`; empty for what is no mark."""
    kind = CONDITIONS.get(mark)
    if kind is None:
        return ""
    return f"{HEATED}; {kind.mend}" if kind.of_heat else kind.mend


def _mending(name: str, mark: str) -> Task:
    return Task(f"mend: {name} is {mark}", mended_words(mark))


def _held(rig: Rig, circuits: Sequence[Circuit]) -> tuple[About, ...]:
    """The switches, fuses and loads within some circuits; a fuse in a slot is its circuit's."""
    within = {device.about.name for device in devices_within(rig, circuits)}
    devices = [
        device.about
        for name, device in rig.by_name.devices.items()
        if name in within and not device.in_slot
    ]
    names = [name for circuit in circuits for name in circuit.loads]
    return (*devices, *(rig.by_name.loads[name].about for name in names))
