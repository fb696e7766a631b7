"""What a slot label says, and how it is drawn in a box of any size."""

from collections.abc import Iterator, Sequence

from rigfolio.books.loader import colour_book
from rigfolio.draw.fit import Box, Style, block, width_mm
from rigfolio.draw.frame import first_uncut
from rigfolio.draw.page import Line, Mark, Pen, rect
from rigfolio.draw.striped import patch
from rigfolio.model.graph import Circuit, Panel, Rig, Slot
from rigfolio.record import record
from rigfolio.study import wording
from rigfolio.study.job import Job

FLOOR_PT = 5.5
"""Smallest type of a label."""
_CUT = Pen(0.1)
_FOLD = Pen(0.1, "#606060", (0.8, 0.8))
_NUMBER_MM = 9.0
_BAR_MM = 3.2
_INSET_MM = 0.4


@record
class Label:
    """What one label says; `ratings` and `wires` are wordings from long to short."""

    number: str
    above: str
    name: str
    ratings: tuple[str, ...] = ("",)
    largest: str = ""
    wires: tuple[str, ...] = ("",)
    shade: str | None = None
    always_on: bool = False
    too_large: bool = False
    has_circuit: bool = False


def labels_of(job: Job, panel: Panel) -> tuple[tuple[int, Label], ...]:
    """The labels of the slots of a panel that are wanted, each with its number."""
    name = panel.about.name
    return tuple(
        (held[0], _label(job, panel, *held))
        for held in wording.slot_holders(job.rig, panel)
        if job.wants(name, f"{name}.{held[0]}")
    )


def loose_labels(job: Job) -> tuple[Label, ...]:
    """The labels of circuits that start at no slot, for fuse holders elsewhere."""
    return tuple(
        _filled(job, (circuit,), wording.place_words(job.rig, circuit), "")
        for circuit in wording.circuits_in_order(job.rig)
        if not circuit.slot and job.wants(circuit.place)
    )


def _label(
    job: Job, panel: Panel, number: int, circuits: tuple[Circuit, ...], kept: Slot | None
) -> Label:
    above = panel.about.name
    if not circuits:
        use = kept.use if kept else "not stated"
        name = f"{use}: {kept.label}" if kept and kept.label else use
        return Label(str(number), above, name)
    return _filled(job, circuits, str(number), above)


def _filled(job: Job, circuits: Sequence[Circuit], number: str, above: str) -> Label:
    first = circuits[0]
    device = wording.device_named(job.rig, first.device)
    too_large = any(wording.is_too_large(job, circuit) for circuit in circuits)
    word = wording.fuse_word(device)
    shade = colour_book().by_word[word].rgb if word and not too_large else None
    ratings: tuple[str, ...] = (wording.rating_words(device),)
    if too_large and device is not None:
        largest = wording.largest_words(job, first, short=False)
        fitted = wording.amps(device.rating_a)
        ratings = (
            f"{device.kind.upper()} TOO LARGE: {fitted}, max {largest}",
            f"{fitted} TOO LARGE, max {largest}",
            f"TOO LARGE, max {largest}",
        )
    return Label(
        number, above, " + ".join(each.label or "no name stated" for each in circuits),
        ratings=ratings, largest=wording.largest_words(job, first),
        wires=_wires(job.rig, first), shade=shade,
        always_on=any(each.always_on for each in circuits), too_large=too_large,
        has_circuit=True,
    )  # fmt: skip


def _wires(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    """Wordings of the first wire of a circuit, from long to short."""
    if not circuit.wires:
        return ("no wire stated",)
    wire = rig.conductor(circuit.wires[0])
    size = wording.gauge_words(wire)
    words = wording.colour_text(wire.colour)
    return f"{size} {words}", f"{size} {wording.colour_short(wire.colour)}"


def drawn(label: Label, box: Box, *, framed: bool = True) -> tuple[Mark, ...]:
    """A label in a box: number, name, fuse, wire, and a bar in the colour of the fuse."""
    left, top, wide, high = box
    inner = high - 0.8
    marks: list[Mark] = [rect(left, top, wide, high, pen=_FOLD)] if framed else []
    number = (left + 0.5, top + 0.4, _NUMBER_MM - 1, inner)
    if label.above and high >= 7:
        small = (number[0], number[1], number[2], 2.4)
        marks += block(label.above, small, Style(6.5, 4))
        number = (number[0], number[1] + 2.4, number[2], inner - 2.4)
    marks += block(label.number, number, Style(20, FLOOR_PT, 3, bold=True))
    edge = left + _NUMBER_MM
    marks.append(Line(((edge, top + 0.6), (edge, top + high - 0.6)), _CUT))
    words = (left + _NUMBER_MM + 0.8, top + 0.4, wide - _NUMBER_MM - _BAR_MM - 2.2, inner)
    marks += _said(label, words) if label.has_circuit else _empty(label, words)
    bar = (left + wide - _BAR_MM - 0.4, top + 0.6, _BAR_MM, high - 1.2)
    if label.shade:
        marks += patch(*bar, label.shade)
    return tuple(marks)


def _empty(label: Label, box: Box) -> Iterator[Mark]:
    yield from block(label.name, box, Style(11, FLOOR_PT, 2, align="start"))


def _said(label: Label, box: Box) -> Iterator[Mark]:
    """Name, fuse and wire in rows; at a pitch too small for three rows the wire is left out."""
    left, top, wide, high = box
    shares = (0.41, 0.31, 0.28) if high >= 7.0 else (0.5, 0.5, 0.0) if high >= 4.0 else (0, 1.0, 0)
    name, fuse, wire = (share * high for share in shares)
    if name:
        style = Style(max(8.0, min(14.0, 0.68 * high)), FLOOR_PT, 4, bold=True, align="start")
        yield from block(label.name, (left, top, wide, name), style)
    yield from _fuse(label, (left, top + name, wide, fuse), with_name=not name)
    if wire:
        yield from _wire(label, (left, top + name + fuse, wide, wire))


def _fuse(label: Label, box: Box, *, with_name: bool) -> Iterator[Mark]:
    left, top, wide, high = box
    if label.too_large:
        # A colour patch would invite the same fuse again, so its room goes to the warning.
        wide += _BAR_MM
        said = first_uncut(label.ratings, wide - 2 * _INSET_MM, FLOOR_PT, bold=True)
        yield from _inverse(said, (left, top, wide, high))
        return
    half = 0.52 * wide
    rating = label.ratings[0]
    first = f"{rating} {label.name}" if with_name else rating
    style = Style(min(12.0, 2.0 + 1.9 * high), FLOOR_PT, bold=True, align="start")
    yield from block(first, (left, top, half - 0.6, high), style)
    second = (left + half, top, wide - half, high)
    yield from block(label.largest, second, Style(min(9.0, 2.6 * high), FLOOR_PT, align="end"))


def _wire(label: Label, box: Box) -> Iterator[Mark]:
    left, top, wide, high = box
    wide += _BAR_MM if label.too_large else 0.0
    if label.always_on:
        mark_mm = width_mm("ALWAYS ON", 6, bold=True) + 1.0
        yield from _inverse("ALWAYS ON", (left + wide - mark_mm, top, mark_mm, high), lines=1)
        wide -= mark_mm + 0.8
    said = first_uncut(label.wires, wide, FLOOR_PT)
    # A second line only where the words do not fit on one: a break inside a code misleads.
    lines = 2 if width_mm(said, FLOOR_PT) > wide else 1
    yield from block(said, (left, top, wide, high), Style(8, FLOOR_PT, lines, align="start"))


def _inverse(text: str, box: Box, lines: int = 2) -> Iterator[Mark]:
    """White on black: seen from afar, with or without colour."""
    left, top, wide, high = box
    yield rect(left, top + 0.1, wide, high - 0.2, pen=None, fill="#000000")
    style = Style(10, FLOOR_PT, lines, bold=True, colour="#ffffff")
    yield from block(text, (left + _INSET_MM, top, wide - 2 * _INSET_MM, high), style)
