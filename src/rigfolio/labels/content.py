"""What a label says, of a slot or of a device outside panels.

It names what is fitted and never what might be: the largest fuse stands in the directory, where
somebody looks who asks for it.
"""

from collections.abc import Iterable, Sequence

from rigfolio import wording
from rigfolio.books import colour_book
from rigfolio.isolation import stay_words_of
from rigfolio.job import Job
from rigfolio.labels.devices import (
    DeviceRow,
    brake_words,
    device_rows,
    undeviced_circuits,
)
from rigfolio.labels.system_volts import daylight_words, volts_at
from rigfolio.model import Circuit, Device, Panel, Rig, Slot
from rigfolio.protection import (
    colour_word,
    fitted_words,
    guard_of_circuit,
    is_too_large,
    largest_words,
)
from rigfolio.record import once, record, replace
from rigfolio.shorts import unfit_of
from rigfolio.study import Study

DEFAULT_PITCH_MM = 14.0
"""Taken, and said so, where the text gives no pitch: in the span of usual fuse panels."""

_BLANK = "\N{NO-BREAK SPACE}"


@record
class SlotLabel:
    """What one label says; `ratings` and `wires` are wordings from long to short.

    `mind` is what has to be seen to before the label goes on: a condition, a remark. `note` is the
    number of the note that says all of a label which has no room for it. `stays` is what is said of
    a circuit that must stay on, `first` what is braked before its fuse is pulled. One that
    `is_warned` is of a device that does not belong where it is: its ratings say so.
    """

    number: str
    above: str
    name: str
    ratings: tuple[str, ...] = ("",)
    wires: tuple[str, ...] = ("",)
    shade: str | None = None
    stays: str = ""
    first: str = ""
    is_warned: bool = False
    has_circuit: bool = False
    mind: str = ""
    note: str = ""
    is_note: bool = False
    has_volts: bool = False
    """Whether the longest of the ratings has the volts behind it."""
    found: str = ""
    """What is in a slot now, `20 A found`: told where a face is read, never on what is stuck on."""

    @property
    def plain_ratings(self) -> tuple[str, ...]:
        """The ratings without volts, for where these stand above all of them."""
        return self.ratings[1:] if self.has_volts else self.ratings

    @property
    def place(self) -> str:
        """Where it belongs: `P1.3`, or what the circuit starts at."""
        return f"{self.above}.{self.number}" if self.above else self.number

    @property
    def ident(self) -> str:
        """By which the marks of the label are found in a document."""
        return f"note-{self.number.strip('[]')}" if self.is_note else f"label-{self.place}"

    @property
    def in_full(self) -> str:
        """All that the label says, in one line."""
        if not self.has_circuit:
            return self.name
        words = (self.name, self.ratings[0], self.wires[0], self.stays)
        return "; ".join(word for word in words if word)


@once
def labels_of(job: Job, panel: Panel) -> tuple[tuple[int, SlotLabel], ...]:
    """The labels of the slots of a panel that are wanted, each with its number."""
    name = panel.about.name
    return tuple(
        (held[0], _label(job, panel, *held))
        for held in wording.slot_holders(job.rig, panel)
        if job.wants(name, f"{name}.{held[0]}", *_wires_of(held[1]))
    )


@once
def slots_now(job: Job, panel: Panel) -> tuple[tuple[int, SlotLabel], ...]:
    """The same for a face that is read before anything is put right, with what was found there."""
    held = {number: circuits for number, circuits, _ in wording.slot_holders(job.rig, panel)}
    return tuple(
        (number, replace(label, found=_found(job, held[number])))
        for number, label in labels_of(job, panel)
    )


def _found(job: Job, circuits: Sequence[Circuit]) -> str:
    device = job.study.device(circuits[0].device) if circuits else None
    return wording.found_there(job.rig, device)


@once
def loose_labels(job: Job) -> tuple[SlotLabel, ...]:
    """The labels of devices outside panels, then those of circuits that begin at none of them."""
    rows = device_rows(job.study)
    circuits = job.rig.by_name.circuits
    made = [
        _of_device(job, row, circuits.get(row.circuit))
        for row in rows
        if job.wants(row.name, row.circuit, *_named_with(job.rig, row))
    ]
    made += [
        _filled(job, (circuit,), circuit.place, "")
        for circuit in undeviced_circuits(job.study)
        if job.wants(circuit.place, *_wires_of((circuit,)))
    ]
    return tuple(made)


def _named_with(rig: Rig, row: DeviceRow) -> tuple[str, ...]:
    """By what else a device may be meant: the wire that it is on, the wires of its circuit."""
    on_wire = tuple(one.on_wire for one in rig.poles.get(row.name, ()) if one.on_wire)
    circuit = rig.by_name.circuits.get(row.circuit)
    return (*on_wire, *(_wires_of((circuit,)) if circuit is not None else ()))


def _of_device(job: Job, row: DeviceRow, circuit: Circuit | None) -> SlotLabel:
    """The label of a device: that of its circuit, or else what opening it does."""
    if circuit is not None:
        return _filled(job, (circuit,), row.name, "")
    device = job.rig.by_name.devices[row.name]
    word = wording.fuse_word(device)
    figure, _, family = row.rating.partition(" A ")
    short = f"{figure} A {row.kind}" if family else f"{row.rating} {row.kind}".strip()
    ratings = (f"{row.rating} {row.kind}".strip(), short, row.rating.removesuffix(f" {family}"))
    made = [f"{words}, {row.volts}" if row.volts else words for words in filter(None, ratings)]
    volts = volts_at(job.study, (device.line, device.load))
    is_warned = bool(row.marks)
    return SlotLabel(
        row.name, "", row.label or row.purpose,
        ratings=_warnings(job.study, device, row.too_large) if is_warned
        else _with_volts(made, volts),
        wires=_told_below(job, row, device), has_circuit=True,
        shade=colour_book().by_word[word].rgb if word and not is_warned else None,
        is_warned=is_warned, has_volts=bool(volts) and not is_warned,
        mind="; ".join(w for w in (device.about.condition.upper(), device.about.note) if w),
    )  # fmt: skip


def _told_below(job: Job, row: DeviceRow, device: Device) -> tuple[str, ...]:
    """Wordings of what stands below the rating: what opening it does, or where it is.

    Between modules and their controller that it is live in daylight stands there in any case, and
    so does what is braked first.
    """
    words = (row.effect, row.short_effect) if row.label else (row.place,)
    if row.first:
        where = (f"{row.first}; {row.place}", f"{row.first}; {row.seat}", row.first)
        return words if row.label else where
    lit = daylight_words(job.study, (device.line, device.load))
    return (*(f"{lit}; {one}" for one in words), lit) if lit else words


def _with_volts(ratings: Sequence[str], volts: str) -> tuple[str, ...]:
    """Wordings of a rating, the longest with the volts where a rig has several."""
    long = (f"{ratings[0]}, {volts}",) if volts else ()
    return tuple(dict.fromkeys(map(_firm, (*long, *ratings))))


def changed_labels(old: Job, new: Job) -> frozenset[str]:
    """The places of labels that are new or say something else than before.

    A part that brings a second voltage puts volts on labels that nothing else changed.
    """
    was = {label.place: label for label in every_label(old)}
    return frozenset(one.place for one in every_label(new) if was.get(one.place) != one)


def labelled_as(job: Job, places: Iterable[str]) -> tuple[str, ...]:
    """The places of labels by those of circuits: outside panels a label names the device."""
    named = {row.circuit: row.name for row in device_rows(job.study) if row.circuit}
    return tuple(named.get(place, place) for place in places)


def gone_devices(old: Job, new: Job) -> frozenset[str]:
    """The places of labels outside panels that are no more, or are called otherwise now."""
    return frozenset(one.place for one in loose_labels(old)) - {
        one.place for one in loose_labels(new)
    }


def every_label(job: Job) -> tuple[SlotLabel, ...]:
    """The labels of all panels in their order, then those of what stands elsewhere."""
    panels = tuple(label for panel in job.rig.panels for _, label in labels_of(job, panel))
    return (*panels, *loose_labels(job))


def _wires_of(circuits: Sequence[Circuit]) -> tuple[str, ...]:
    return tuple(name for each in circuits for name in (each.place, *each.wires, *each.returns))


def _label(
    job: Job, panel: Panel, number: int, circuits: tuple[Circuit, ...], kept: Slot | None
) -> SlotLabel:
    above = panel.about.name
    if not circuits:
        use = kept.use if kept else "not stated"
        name = f"{use}: {kept.label}" if kept and kept.label else use
        return SlotLabel(str(number), above, name, mind=_remarks(job.rig, f"{above}.{number}"))
    return _filled(job, circuits, str(number), above)


def _filled(job: Job, circuits: Sequence[Circuit], number: str, above: str) -> SlotLabel:
    first = circuits[0]
    devices = guard_of_circuit(job.study, first).devices
    device = devices[0] if len(devices) == 1 else None
    too_large = any(is_too_large(job.study, circuit) for circuit in circuits)
    unfit = device is not None and bool(unfit_of(job.study, device))
    word = colour_word(job.study, first)
    shade = colour_book().by_word[word].rgb if word and not (too_large or unfit) else None
    volts = volts_at(job.study, (first.start,))
    is_warned = (too_large or unfit) and device is not None
    largest = largest_words(job.study, first, short=False) if too_large else ""
    return SlotLabel(
        number, above, " + ".join(each.label or "no name stated" for each in circuits),
        ratings=_warnings(job.study, device, largest) if is_warned and device else
        _with_volts(_ratings(fitted_words(job.study, first), device), volts),
        has_volts=bool(volts) and not is_warned,
        wires=_wires_below(job, circuits), shade=shade, first=brake_words(job.study, circuits),
        stays=stay_words_of(job.study, circuits), is_warned=too_large or unfit, has_circuit=True,
        mind="; ".join(word for each in circuits for word in _mind(job.rig, each)),
    )  # fmt: skip


def _ratings(words: str, device: Device | None) -> tuple[str, ...]:
    if device is None or not isinstance(device.rating_a, float | int):
        return (words,)
    return words, wording.amps(device.rating_a)


def _warnings(study: Study, device: Device, largest: str) -> tuple[str, ...]:
    """Wordings of a device that does not belong where it is.

    With what it is not fit for, or, of one that is too large, with the `largest` in its place.
    """
    fitted = wording.amps(device.rating_a)
    unfit = unfit_of(study, device)
    if not largest and unfit:
        kind, what, mark = device.kind.upper(), wording.rating_and_kind(device), unfit[0].mark
        whys = "; ".join(one.why for one in unfit)
        marks = ", ".join(one.mark for one in unfit)
        made = (f"{kind} {marks}: {what}, {whys}", f"{kind} {marks}: {what}", f"{marks}: {fitted}")
        return (*dict.fromkeys(map(_firm, made)), marks, *((mark,) if mark != marks else ()))
    if not largest[0].isdigit():
        return _firm(f"{device.kind.upper()} TOO LARGE: {fitted}"), "TOO LARGE"
    return (
        _firm(f"{device.kind.upper()} TOO LARGE: {fitted}, max {largest}"),
        _firm(f"{fitted} TOO LARGE, max {largest}"),
        _firm(f"TOO LARGE, max {largest}"),
        "TOO LARGE",
    )


def _firm(words: str) -> str:
    """Words that no line break parts from their figures."""
    for unit in ("A", "V", "?"):
        words = words.replace(f" {unit}", f"{_BLANK}{unit}")
    return words.replace("max ", f"max{_BLANK}")


def _mind(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    said = (circuit.condition.upper(), circuit.note, _remarks(rig, circuit.place))
    return tuple(word for word in said if word)


def _remarks(rig: Rig, place: str) -> str:
    """What was remarked of a slot itself."""
    found = [one for one in rig.remarks if one.place == place]
    return "; ".join(w for one in found for w in (one.condition.upper(), one.note) if w)


def _wires_below(job: Job, circuits: Sequence[Circuit]) -> tuple[str, ...]:
    """Wordings of the first wire, behind what is braked first: that stands there in any case."""
    wires, first = _wires(job.rig, circuits[0]), brake_words(job.study, circuits)
    return (*(f"{first}; {one}" for one in wires), first) if first else wires


def _wires(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    """Wordings of the first wire of a circuit, from long to short."""
    if not circuit.wires:
        return ("no wire stated",)
    wire = rig.conductor(circuit.wires[0])
    size, few = wording.there_words(wire), wording.there_words(wire, short=True)
    words, short = wording.colour_text(wire.colour), wording.colour_short(wire.colour)
    made = f"{size} {words}", f"{size} {short}", f"{few} {short}"
    return tuple(dict.fromkeys(map(_joined, made)))


def _joined(words: str) -> str:
    """A gauge that no line break parts from its figure."""
    for unit in ("AWG", "mm²"):
        words = words.replace(f" {unit}", f"{_BLANK}{unit}")
    return words


def with_note(label: SlotLabel, number: str) -> SlotLabel:
    """A label that bears the number of a note."""
    return replace(label, note=number)
