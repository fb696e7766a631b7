"""Slot labels: one for each slot, at the pitch of the panel.

Print at full size and hold the ruler of the page against a rule. Cut each strip along its outer
line and lay it beside the fuses, or cut at the ticks for single labels. A label says what the
slot feeds, which fuse is in it, the largest fuse that its wires allow, and the wire. A circuit
that does not start in a panel has a loose label for its fuse holder.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rigfolio.books.loader import colour_book
from rigfolio.draw.fit import Box, Style, block, width_mm
from rigfolio.draw.frame import body, first_uncut, numbered
from rigfolio.draw.page import Group, Line, Mark, Page, Pen, rect
from rigfolio.draw.ruler import ruler
from rigfolio.draw.striped import patch
from rigfolio.model.graph import Circuit, Panel, Rig, Slot
from rigfolio.study import wording
from rigfolio.study.job import Job

TITLE = "Slot labels"
NAME = "slot-labels"

WIDTH_MM = 45.0
DEFAULT_PITCH_MM = 14.0
"""Taken, and said so, where the text gives no pitch: in the span of usual fuse panels."""

_FLOOR_PT = 5.5
_CUT = Pen(0.1)
_FOLD = Pen(0.1, "#606060", (0.8, 0.8))
_GAP_MM = 4.0
_HEAD_MM = 11.0
_LEAD_MM = 8.0
_RULER_MM = 15.0
_NUMBER_MM = 9.0
_BAR_MM = 3.2
_INSET_MM = 0.4
_WORDS_MM = WIDTH_MM - _NUMBER_MM - _BAR_MM - 2.2


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Strip:
    """Labels that hang together, top to bottom, each `pitch_mm` high."""

    title: str
    about: str
    pitch_mm: float
    labels: tuple[Label, ...]


def pages(job: Job) -> tuple[Page, ...]:
    """Strips of labels, side by side."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    room_mm = area[3] - _LEAD_MM - _HEAD_MM - _RULER_MM
    strips = [part for strip in _strips(job) for part in _divided(strip, room_mm)]
    across = max(1, int((area[2] + _GAP_MM) / (WIDTH_MM + _GAP_MM)))
    gap_mm = (area[2] - across * WIDTH_MM) / max(1, across - 1)
    lots = [strips[start : start + across] for start in range(0, len(strips), across)] or [[]]
    bodies = [_body(lot, area, min(gap_mm, 2 * _GAP_MM)) for lot in lots]
    note = "Print at full size: 100 mm on the ruler must measure 100 mm."
    return numbered(job.paper, TITLE, job.strip, bodies, note=note)


def _strips(job: Job) -> Iterator[Strip]:
    for panel in job.rig.panels:
        stated = panel.pitch_m is not None
        pitch_mm = panel.pitch_m * 1e3 if panel.pitch_m is not None else DEFAULT_PITCH_MM
        about = f"pitch {pitch_mm:g} mm"
        if not stated:
            about = f"PITCH NOT STATED: {pitch_mm:g} mm taken, measure the panel first"
        every = wording.slot_holders(job.rig, panel)
        name = panel.about.name
        chosen = [held for held in every if job.wants(name, f"{name}.{held[0]}")]
        if not chosen:
            continue
        if len(chosen) < len(every):
            about = f"only these slots, {about}"
        columns: dict[int, list[Label]] = {}
        for held in chosen:
            columns.setdefault(panel.cell(held[0])[0], []).append(_label(job, panel, *held))
        for _, labels in sorted(columns.items()):
            yield Strip(str(panel.about), about, pitch_mm, tuple(labels))
    loose = [
        each
        for each in wording.circuits_in_order(job.rig)
        if not each.slot and job.wants(each.place)
    ]
    if loose:
        labels = [_loose(job, circuit) for circuit in loose]
        about = "for fuse holders elsewhere, cut apart"
        yield Strip("Not in a panel", about, DEFAULT_PITCH_MM, tuple(labels))


def _divided(strip: Strip, room_mm: float) -> Iterator[Strip]:
    """A strip in parts that the paper holds, divided between slots."""
    pitch_mm = min(strip.pitch_mm, room_mm)
    about = strip.about
    if pitch_mm < strip.pitch_mm:
        about = f"{about}: more than the paper holds, NOT TO SCALE"
    count = max(1, int(room_mm / pitch_mm + 1e-9))
    for start in range(0, len(strip.labels), count):
        yield Strip(strip.title, about, pitch_mm, strip.labels[start : start + count])


def _label(
    job: Job, panel: Panel, number: int, circuits: tuple[Circuit, ...], kept: Slot | None
) -> Label:
    above = panel.about.name
    if not circuits:
        use = kept.use if kept else "not stated"
        name = f"{use}: {kept.label}" if kept and kept.label else use
        return Label(str(number), above, name)
    return _filled(job, circuits, str(number), above)


def _loose(job: Job, circuit: Circuit) -> Label:
    return _filled(job, (circuit,), wording.place_words(job.rig, circuit), "")


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


def _body(strips: Sequence[Strip], area: Box, gap_mm: float) -> tuple[Mark, ...]:
    left, top, wide, high = area
    lead = (
        "True scale. Cut along the outer line and lay the strip beside its slots; cut at the ticks "
        "for single labels. “max” is the largest fuse that the wires of the circuit allow."
        if strips
        else "This rig states no panel and no circuit: there is nothing to label."
    )
    style = Style(8, 6, 2, align="start", is_top=True)
    marks: list[Mark] = [*block(lead, (left, top, wide, _LEAD_MM), style)]
    for place, strip in enumerate(strips):
        marks += _strip(strip, left + place * (WIDTH_MM + gap_mm), top + _LEAD_MM)
    down = top + high - 7
    marks += ruler(left + 4, down, 100.0)
    says = "measure: 100 mm from 0 to 100"
    marks += block(says, (left + 109, down - 4, wide - 109, 8), Style(8, 6, 2, align="start"))
    return tuple(marks)


def _strip(strip: Strip, left: float, top: float) -> Iterator[Mark]:
    first, last = strip.labels[0].number, strip.labels[-1].number
    slots = f"slots {first} to {last}" if first != last else f"slot {first}"
    if not strip.labels[0].above:
        slots = f"{len(strip.labels)} labels" if len(strip.labels) > 1 else "1 label"
    title = (left, top, WIDTH_MM, 4.2)
    yield from block(strip.title, title, Style(8, 6, bold=True, align="start"))
    about = f"{slots}, {strip.about}"
    yield from block(about, (left, top + 4.4, WIDTH_MM, 6.2), Style(7, 5.5, 2, align="start"))
    down, pitch = top + _HEAD_MM, strip.pitch_mm
    for place, label in enumerate(strip.labels):
        box = (left, down + place * pitch, WIDTH_MM, pitch)
        ident = f"label-{label.above}.{label.number}" if label.above else f"label-{label.number}"
        yield Group(ident, f"{label.above} {label.number} {label.name}".strip(), _drawn(label, box))
        for side, way in ((left, -1.5), (left + WIDTH_MM, 1.5)):
            yield Line(((side, box[1]), (side + way, box[1])), _CUT)
    half = _CUT.width_mm / 2
    yield rect(left - half, down - half, WIDTH_MM + 2 * half,
               len(strip.labels) * pitch + 2 * half, pen=_CUT)  # fmt: skip


def _drawn(label: Label, box: Box) -> tuple[Mark, ...]:
    left, top, wide, high = box
    inner = high - 0.8
    marks: list[Mark] = [rect(left, top, wide, high, pen=_FOLD)]
    number = (left + 0.5, top + 0.4, _NUMBER_MM - 1, inner)
    if label.above and high >= 7:
        small = (number[0], number[1], number[2], 2.4)
        marks += block(label.above, small, Style(6.5, 4))
        number = (number[0], number[1] + 2.4, number[2], inner - 2.4)
    marks += block(label.number, number, Style(20, _FLOOR_PT, 3, bold=True))
    edge = left + _NUMBER_MM
    marks.append(Line(((edge, top + 0.6), (edge, top + high - 0.6)), _CUT))
    words = (left + _NUMBER_MM + 0.8, top + 0.4, _WORDS_MM, inner)
    marks += _said(label, words) if label.has_circuit else _empty(label, words)
    bar = (left + wide - _BAR_MM - 0.4, top + 0.6, _BAR_MM, high - 1.2)
    if label.shade:
        marks += patch(*bar, label.shade)
    return tuple(marks)


def _empty(label: Label, box: Box) -> Iterator[Mark]:
    yield from block(label.name, box, Style(11, _FLOOR_PT, 2, align="start"))


def _said(label: Label, box: Box) -> Iterator[Mark]:
    """Name, fuse and wire in rows; at a pitch too small for three rows the wire is left out."""
    left, top, wide, high = box
    shares = (0.41, 0.31, 0.28) if high >= 7.0 else (0.5, 0.5, 0.0) if high >= 4.0 else (0, 1.0, 0)
    name, fuse, wire = (share * high for share in shares)
    if name:
        style = Style(max(8.0, min(14.0, 0.68 * high)), _FLOOR_PT, 4, bold=True, align="start")
        yield from block(label.name, (left, top, wide, name), style)
    yield from _fuse(label, (left, top + name, wide, fuse), with_name=not name)
    if wire:
        yield from _wire(label, (left, top + name + fuse, wide, wire))


def _fuse(label: Label, box: Box, *, with_name: bool) -> Iterator[Mark]:
    left, top, wide, high = box
    if label.too_large:
        # A colour patch would invite the same fuse again, so its room goes to the warning.
        wide += _BAR_MM
        said = first_uncut(label.ratings, wide - 2 * _INSET_MM, _FLOOR_PT, bold=True)
        yield from _inverse(said, (left, top, wide, high))
        return
    half = 0.52 * wide
    rating = label.ratings[0]
    first = f"{rating} {label.name}" if with_name else rating
    style = Style(min(12.0, 2.0 + 1.9 * high), _FLOOR_PT, bold=True, align="start")
    yield from block(first, (left, top, half - 0.6, high), style)
    second = (left + half, top, wide - half, high)
    yield from block(label.largest, second, Style(min(9.0, 2.6 * high), _FLOOR_PT, align="end"))


def _wire(label: Label, box: Box) -> Iterator[Mark]:
    left, top, wide, high = box
    wide += _BAR_MM if label.too_large else 0.0
    if label.always_on:
        mark_mm = width_mm("ALWAYS ON", 6, bold=True) + 1.0
        yield from _inverse("ALWAYS ON", (left + wide - mark_mm, top, mark_mm, high))
        wide -= mark_mm + 0.8
    said = first_uncut(label.wires, wide, _FLOOR_PT)
    # A second line only where the words do not fit on one: a break inside a code misleads.
    lines = 2 if width_mm(said, _FLOOR_PT) > wide else 1
    yield from block(said, (left, top, wide, high), Style(8, _FLOOR_PT, lines, align="start"))


def _inverse(text: str, box: Box) -> Iterator[Mark]:
    """White on black: seen from afar, with or without colour."""
    left, top, wide, high = box
    yield rect(left, top + 0.1, wide, high - 0.2, pen=None, fill="#000000")
    style = Style(10, _FLOOR_PT, 2, bold=True, colour="#ffffff")
    yield from block(text, (left + _INSET_MM, top, wide - 2 * _INSET_MM, high), style)
