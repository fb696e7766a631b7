"""The devices outside panels that somebody may have to pull or set, each as a row."""

from collections import Counter
from collections.abc import Iterable

from rigfolio.books import family_words
from rigfolio.isolation import dark_first, fed_by_position, opened_alone, parts_modules
from rigfolio.labels.seats import near_of, place_of, seat_of
from rigfolio.model import Circuit, Device, Rig
from rigfolio.protection import (
    instead_words,
    is_device_too_large,
    loses_battery,
    replacement_of,
)
from rigfolio.record import record, replace
from rigfolio.shorts import warning_marks
from rigfolio.study import Study, once
from rigfolio.wording import (
    again_words,
    amps,
    both_words,
    called,
    circuits_in_order,
    end_words,
    found_there,
    short_end,
)  # fmt: skip


@record
class DeviceRow:
    """A device outside panels.

    Parameters
    ----------
    name, label : str
        Its designation, as it is typed, and what the text calls it.
    kind : str
        What it is: `fuse`, `disconnect`.
    rating : str
        What is printed on it: `50 A`, `50 A class T`; `?` where it is not known, empty for a switch
        of which nothing is asked.
    too_large : str
        The rating of the largest one in its place where it is too large, `none made` where none is
        small enough; empty where it is not too large.
    marks : tuple of str
        What stands behind the rating of one that does not belong where it is: `TOO LARGE`.
    place : str
        Where it is: `on B1+ House battery`, `between B1+ House battery and S1.line`.
    seat : str
        The same in short: `on B1+`, `B1+ to S1.line`.
    circuit : str
        The circuit outside panels that begins with it; empty where there is none.
    dark : tuple of str
        What goes dark when it is opened: panels, circuits, loads.
    unless : tuple of str
        The sources that keep some of that live all the same while they run.
    when : str
        The position of a selector in which that goes dark; empty where it does in any.
    cut_off : tuple of str
        The sources that are parted from everything, or lose their input.
    parted : tuple of tuple of str
        The batteries that nothing joins to each other any more, or a battery and its charger; on
        each side those that stay joined.
    live : tuple of (str, tuple of str)
        Its ends that stay live when it is open, each with the sources that reach it.
    volts : str
        The volts that what goes in its place must be made for, where its kind is not anyhow.
    before : str
        What ends the current of solar modules before it is opened, where it is no switch.
    between : str
        Its two sides, where others part the same batteries: `B2+ House 1 to N2 Plus bar`.
    lead : str
        The source in whose lead it sits, where that one keeps alive what goes dark on batteries.
    brake : tuple of str
        The sources that lose their battery by it and run away then: each is braked first.
    again : str
        That it closes again by itself; empty where a hand resets it.
    found : str
        What is in its place now, where another one belongs there: `20 A found`.
    beside : tuple of str
        The switches beside it: any of them that is closed keeps alive what goes dark.
    positions : tuple of str
        Of one that makes one of several ways what each position feeds: `on 1 anchor: Anchor light`.
    comes_on : tuple of str
        What comes on when it is opened, by a relay that rests closed.
    by_coils : tuple of str
        What of `dark` other contacts take with them: it is named after none of that.
    """

    name: str
    label: str
    kind: str
    rating: str
    too_large: str
    place: str
    seat: str
    circuit: str
    dark: tuple[str, ...]
    unless: tuple[str, ...]
    when: str
    cut_off: tuple[str, ...]
    parted: tuple[tuple[str, ...], ...]
    live: tuple[tuple[str, tuple[str, ...]], ...]
    volts: str = ""
    before: str = ""
    between: str = ""
    lead: str = ""
    brake: tuple[str, ...] = ()
    again: str = ""
    found: str = ""
    beside: tuple[str, ...] = ()
    positions: tuple[str, ...] = ()
    comes_on: tuple[str, ...] = ()
    by_coils: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()

    @property
    def rated(self) -> str:
        """What is printed on it, that it does not belong where it is, and what was found there."""
        return self._told(self.rating)

    @property
    def with_kind(self) -> str:
        """The same with what it is: `50 A fuse`, `200 A fuse TOO LARGE`."""
        return self._told(f"{self.rating} {self.kind}".strip())

    def _told(self, words: str) -> str:
        words = f"{words} {', '.join(self.marks)}".strip()
        words = both_words(self.found, words, is_warned=bool(self.marks))
        return ", ".join(filter(None, (words, self.volts, self.again)))

    @property
    def stays_live(self) -> bool:
        """Whether an end of it stays live when it is open."""
        return bool(self.live)

    @property
    def purpose(self) -> str:
        """What it stands for where the text has no label of it: `P1 Fuse panel`."""
        parts = self.between or " to ".join(map(" and ".join, self.parted))
        own = tuple(one for one in self.dark if one not in self.by_coils)
        return self.lead or "; ".join(own or self.cut_off) or parts or "no name stated"

    @property
    def effect(self) -> str:
        """What opening it does, as its label says: `goes dark: P1 Galley panel`."""
        goes = self.dark and not self.positions
        return f"goes dark: {self.dark_words}" if goes else self.dark_words

    @property
    def short_effect(self) -> str:
        """The same by designations alone: `goes dark: P1, unless C1 runs`."""
        if self.positions or not self.dark:
            return self.dark_words
        names = ", ".join(map(_designation, self.dark))
        unless = " or ".join(map(_designation, self.unless))
        also = f", unless {unless} runs" if unless else f", with {self.when}" if self.when else ""
        if self.beside:
            also += f", unless {' or '.join(map(_designation, self.beside))} is closed"
        ends, on = (
            _ended(_designation(self.lead)),
            coming_on_words(map(_designation, self.comes_on)),
        )
        return "; ".join(filter(None, (self.first, on, f"goes dark: {names}{also}", ends)))

    @property
    def first(self) -> str:
        """What is braked before it is opened, by designations alone; empty where nothing is."""
        return _braked(map(_designation, self.brake))

    @property
    def dark_words(self) -> str:
        """What opening it does: `P1 Galley panel; Gas detector`, `cuts off C1 Converter`.

        Names are parted by semicolons, for a name may hold a comma.
        """
        if self.positions:
            return f"feeds {'; '.join(self.positions)}"
        also = (
            f"unless {' or '.join(self.unless)} runs" if self.unless else "",
            f"with {self.when}" if self.when else "",
            f"unless {' or '.join(self.beside)} is closed" if self.beside else "",
        )
        words = "; ".join(self.dark)
        words += "".join(f" ({one})" for one in also if one) if words else ""
        cut = f"cuts off {' and '.join(self.cut_off)}" if self.cut_off else ""
        parted, ends, brake = _parts(self.parted), _ended(self.lead), _braked(self.brake)
        parts = (words, coming_on_words(self.comes_on), ends, cut, parted, brake)
        said = "; ".join(filter(None, parts)) or "nothing of this text"
        return f"{said}; never under load: first {self.before}" if self.before else said


@once
def device_rows(study: Study) -> tuple[DeviceRow, ...]:
    """Every device outside panels to be pulled, set or, a relay, found; in the order of the text.

    The main of a panel is among them. All pins of a plug and all banks of a selector are one row.
    """
    made: dict[str, Device] = {}
    for device in study.rig.devices:
        if (device.traits.opening or device.traits.has_coil) and not device.in_slot:
            made.setdefault(device.about.name, device)
    rows = [_row(study, device) for device in made.values()]
    held = Counter(row.purpose for row in rows if row.parted)
    return tuple(
        replace(row, between=_sides(study, made[row.name])) if held[row.purpose] > 1 else row
        for row in rows
    )


def _sides(study: Study, device: Device) -> str:
    """What a device stands between, of each side the first: two that part the same differ there."""
    _, *sides = near_of(study, device)
    return " to ".join(end_words(study.rig, side[0]) for side in sides if side)


def undeviced_circuits(study: Study) -> tuple[Circuit, ...]:
    """The circuits outside panels that begin at no device of their own."""
    held = {row.circuit for row in device_rows(study)}
    return tuple(
        circuit
        for circuit in circuits_in_order(study.rig)
        if not circuit.slot and circuit.place not in held
    )


def _row(study: Study, device: Device) -> DeviceRow:
    rig, name = study.rig, device.about.name
    found = opened_alone(study, name)
    marks = warning_marks(study, device)
    sources = {s.about.name: called(s.about.name, s.about.label) for s in rig.sources}
    circuit = next((c for c in rig.begun.get(name, ()) if not c.slot), None)
    label = device.about.label or (circuit.label if circuit is not None else "")
    return DeviceRow(
        name, label, device.kind, _rating(device),
        instead_words(study, device) if is_device_too_large(study, device) else "",
        place_of(study, device),
        seat_of(study, device),
        circuit.place if circuit is not None else "",
        tuple(part_called(one.kind, one.name, one.label) for one in found.dark),
        tuple(sources[each] for each in found.unless),
        found.when,
        tuple(sources[each] for each in found.cut_off),
        tuple(tuple(sources[each] for each in side) for side in found.sides),
        tuple((short_end(rig, end), tuple(sources[s] for s in by)) for end, by in found.live),
        _made_for(study, device),
        dark_first(study, name) if parts_modules(study, device) else "",
        lead=sources.get(found.lead, ""),
        brake=_to_brake(study, name),
        again=again_words(device),
        found=found_there(rig, device),
        beside=tuple(called(each, _label(rig, each)) for each in found.beside),
        positions=tuple(
            f"on {at}: {', '.join(fed) or 'nothing'}" for at, fed in fed_by_position(study, name)
        ),
        comes_on=tuple(part_called(one.kind, one.name, one.label) for one in found.comes_on),
        by_coils=tuple(part_called(one.kind, one.name, one.label) for one in found.by_coils),
        marks=marks,
    )  # fmt: skip


def _label(rig: Rig, name: str) -> str:
    return rig.by_name.devices[name].about.label


def _parts(sides: tuple[tuple[str, ...], ...]) -> str:
    """What is parted from what; empty where nothing is."""
    if not sides:
        return ""
    joint = " and " if all(len(side) == 1 for side in sides) else " from "
    return f"parts {joint.join(map(' and '.join, sides))}"


def _made_for(study: Study, device: Device) -> str:
    """The volts of what goes in its place; of a switch only those that the text states."""
    if not device.protects and device.about.rated_v is None:
        return ""
    return replacement_of(study, device).volts


def brake_words(study: Study, circuits: Iterable[Circuit]) -> str:
    """What is braked before the fuse of circuits is pulled: `first brake T1`; empty for nothing.

    A turbine runs away without a battery, and what takes it off is no brake (common practice).
    """
    devices = [circuit.device for circuit in circuits if circuit.device]
    found = dict.fromkeys(name for device in devices for name in _to_brake(study, device))
    return _braked(map(_designation, found))


@once
def _to_brake(study: Study, name: str) -> tuple[str, ...]:
    """What loses its last battery by a device that is opened, and runs away then."""
    return tuple(
        called(one.about.name, one.about.label)
        for one in study.rig.sources
        if one.traits.runs_away and loses_battery(study, one, name)
    )


def _braked(sources: Iterable[str]) -> str:
    """What is braked before it is opened; empty where nothing runs away."""
    names = " and ".join(sources)
    return names and f"first brake {names}"


def _ended(source: str) -> str:
    return f"{source} charges no more" if source else ""


def coming_on_words(parts: Iterable[str]) -> str:
    """What comes on with it open, as a warning; empty where nothing does."""
    names = " and ".join(parts)
    return names and f"COMES ON: {names}"


def _designation(part: str) -> str:
    """`P1` of `P1 Galley panel`; a circuit outside panels has its label alone."""
    head, _, rest = part.partition(" ")
    return head if rest and any(letter.isdigit() for letter in head) else part


def part_called(kind: str, name: str, label: str) -> str:
    """A part by what its own label says of it: a circuit outside panels has no better name."""
    return (label or name) if kind == "circuit" and " " in name else called(name, label)


def _rating(device: Device) -> str:
    """What is printed on a device."""
    known = device.rating_a is not None or device.protects
    rating = amps(device.rating_a).replace("? A", "?") if known else ""
    return f"{rating} {family_words(device.family)}".strip()
