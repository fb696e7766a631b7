"""Which readings have to be taken again after a change."""

from collections.abc import Callable

from rigfolio.compare import Work
from rigfolio.isolation import source_reach
from rigfolio.job import Again
from rigfolio.model import Rig
from rigfolio.operating import StageStep
from rigfolio.study import Study
from rigfolio.swap.notes import devices_within
from rigfolio.wording import states_no

Wanted = Callable[[StageStep], bool]


def every_step(_: StageStep) -> bool:
    """All readings are wanted."""
    return True


def wanted_since(study: Study, again: Again | None) -> Wanted:
    """Whether a step of the test is wanted: all of them where no earlier version is named.

    A circuit is tried again where something of it was worked on; a panel, a bar, a source or a lone
    load where something on its way from a battery and back was, a converter between them among it.
    What is read of the whole rig is read again where a feed changed.
    """
    if again is None:
        return every_step
    held = touched(study, again)

    def wanted(step: StageStep) -> bool:
        if step.circuit:
            return step.circuit in held.circuits
        if step.of:
            return step.of in held.panels | held.loads | held.supplies
        is_dead = all(point.unit == "ohm" for point in step.points)
        return held.feeds or (is_dead and bool(held.circuits or held.panels))

    return wanted


def readings_remark(again: Again | None, *, has_any: bool) -> str:
    """What stands above the readings of a sheet that are not all; empty where they are."""
    if again is not None:
        return "Only what changed and what feeds it; numbers are those of the whole sheet."
    return "" if has_any else states_no("panel", "circuit", so="there is nothing to be read yet")


class Touched:
    """What was worked on: circuits by place, the others by name, and whether a feed was.

    `supplies` are sources and bars.
    """

    def __init__(self) -> None:
        self.circuits: set[str] = set()
        self.panels: set[str] = set()
        self.loads: set[str] = set()
        self.supplies: set[str] = set()
        self.feeds = False


def touched(study: Study, again: Again) -> Touched:
    """What of a rig was worked on since it was as it was."""
    found = Touched()
    for work in again.work:
        if not work.is_hands_on:
            continue
        if not work.after:
            _gone(found, again, work)
            continue
        circuit = _circuit_of(study, work)
        if work.thing == "load":
            found.loads.add(work.after)
        if circuit:
            found.circuits.add(circuit)
        elif work.thing not in ("load", "slot"):
            found.feeds = True
    places = found.circuits
    found.panels |= {one.panel for one in study.rig.circuits if one.place in places} - {""}
    if found.feeds:
        _behind(study, again, found)
    return found


def _circuit_of(study: Study, work: Work) -> str:
    """The circuit that a part belongs to; empty for one that feeds more than one."""
    rig, name = study.rig, work.after
    if work.thing == "wire":
        return rig.conductor(name).circuit
    if work.thing == "load":
        return rig.by_name.loads[name].circuit
    if work.thing == "slot":
        return name
    if work.thing != "device":
        return ""
    first = next((c.place for c in rig.begun.get(name, ())), "")
    device = rig.by_name.devices[name]
    on_wire = rig.by_name.conductors.get(device.on_wire)
    return first or (on_wire.circuit if on_wire is not None else "") or _within(rig, name)


def _behind(study: Study, again: Again, found: Touched) -> None:
    """What no battery reaches, out and back, but by what was worked on."""
    parts = {work.after for work in again.work if work.is_hands_on and work.after}
    rig = study.rig
    drive = source_reach(study)
    reached = drive.from_batteries(without=parts)
    found.panels |= {
        one.about.name
        for one in rig.panels
        if one.about.name in parts or not {one.bus, one.negative or one.bus} <= reached
    }
    found.loads |= {
        one.about.name
        for one in rig.loads
        if not one.circuit and not {one.plus, one.minus} <= reached
    }
    ends = [(s.about.name, {s.plus, s.minus, drive.inputs.get(s.about.name, s.plus)})
            for s in rig.sources if not s.traits.own_frame]  # fmt: skip
    ends += [(one.about.name, {one.terminal}) for one in rig.junctions]
    found.supplies |= {name for name, its in ends if name in parts or not its <= reached}
    found.supplies |= {s.about.name for s in rig.sources} & parts


def _gone(found: Touched, again: Again, work: Work) -> None:
    """What was taken away: its panel is tried again, and all where it fed more than a circuit."""
    if again.before is None or work.thing in ("load", "slot"):
        return
    was = again.before.rig
    circuit = next(iter(was.begun.get(work.before, ())), None)
    wire = was.by_name.conductors.get(work.before)
    if circuit is None and wire is not None and wire.circuit:
        circuit = was.by_name.circuits.get(wire.circuit)
    if circuit is None:
        found.feeds = True
    elif circuit.panel:
        found.panels.add(circuit.panel)


def _within(rig: Rig, device: str) -> str:
    """The circuit that a switch stands in, wires on both ends; empty for one that feeds more."""
    for circuit in rig.circuits:
        if any(one.about.name == device for one in devices_within(rig, [circuit])):
            return circuit.place
    return ""
