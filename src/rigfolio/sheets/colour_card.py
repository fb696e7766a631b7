"""Colour card: from the colour of a wire to its circuit, on cards for the pocket.

Each card has the size of a bank card (ISO/IEC 7810 ID-1). Two that lie beside each other are folded
back to back. The colour is drawn, and stands as a code and in words, so that the card works without
colour as well; wires of one colour are told apart by slot and gauge.
"""

from collections.abc import Iterator, Sequence

from rigfolio import wording
from rigfolio.draw import (
    FLOOR_PT,
    Box,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Style,
    block,
    body,
    first_uncut,
    numbered,
    patch,
    rect,
)
from rigfolio.job import Job
from rigfolio.labels import GRAVE, guard_told
from rigfolio.model import Conductor, Rig
from rigfolio.record import record
from rigfolio.reports import COLOUR_TELLS, SIGNED
from rigfolio.sheet import Sheet, SheetPart

SHEET = Sheet("Colour cards", "colour-card", binder="to-file", bound=60, beside=True)

WIDE_MM, HIGH_MM = 85.6, 53.98
"""Size of a card, ISO/IEC 7810 ID-1 (from memory)."""
ROWS = 7
_HEAD_MM = 6.0
_LEAD_MM = 9.0
_GAP_MM = 2.0
_CUT = Pen(0.1)
_FOLD = Pen(0.1, "#606060", (0.8, 0.8))
_HAIR = Pen(0.1, "#a0a0a0")


@record
class _CardLine:
    """A line of a card: a wire, its colour, where it is and what it feeds."""

    wire: Conductor
    code: str
    place: str
    words: str


def pages(job: Job) -> tuple[Page, ...]:
    """Cards in pairs, as many as the wires need."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    entries = tuple(_entries(job))
    cards = [entries[start : start + ROWS] for start in range(0, len(entries), ROWS)]
    down = max(1, int((high - _LEAD_MM) / (HIGH_MM + _GAP_MM)))
    lots = [cards[start : start + 2 * down] for start in range(0, len(cards), 2 * down)] or [[]]
    inset = left + max(0.0, (wide - 2 * WIDE_MM) / 2.0)
    bodies = []
    for number, lot in enumerate(lots):
        marks: list[Mark] = [*_lead((left, top, wide, _LEAD_MM - 1), has_cards=bool(cards))]
        for place, card in enumerate(lot):
            row, column = divmod(place, 2)
            at = (inset + column * WIDE_MM, top + _LEAD_MM + row * (HIGH_MM + _GAP_MM))
            order = f"{number * 2 * down + place + 1} of {len(cards)}"
            if column == 0:
                marks += _outline(at, 2 if place + 1 < len(lot) else 1)
            marks += _card(job, card, at, order)
        bodies.append(tuple(marks))
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=COLOUR_TELLS)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, line by line."""
    yield SheetPart(job.rig.name)
    for entry in _entries(job):
        wire = entry.wire
        told = (wire.name, entry.code, entry.place, entry.words, wording.shades(wire.colour))
        yield SheetPart((*told, _gauge(job, wire)))


def _outline(at: tuple[float, float], count: int) -> Iterator[Mark]:
    """The line to cut along, about one card or two, and the one to fold along between two."""
    left, top = at
    yield rect(left, top, count * WIDE_MM, HIGH_MM, pen=_CUT)
    if count > 1:
        yield Line(((left + WIDE_MM, top), (left + WIDE_MM, top + HIGH_MM)), _FOLD)


def _lead(box: Box, *, has_cards: bool) -> tuple[Mark, ...]:
    words = (
        f"True scale. Cut along the outer line, fold along the dashed one, tape it over. {SIGNED}"
        if has_cards
        else wording.NO_COLOUR
    )
    return block(words, box, Style(8, FLOOR_PT, 2, align="start", is_top=True))


def _entries(job: Job) -> Iterator[_CardLine]:
    """Wires out by colour; returns are left to the legend: they all look alike."""
    wires = [
        wire
        for wire in wording.wires_in_order(job.rig)
        if not wire.assumed and not wording.is_return(job.rig, wire)
    ]
    told: set[tuple[str, str, str]] = set()
    stubs = frozenset(_stubs(job.rig))
    for wire in sorted(wires, key=lambda one: wording.colour_order(one.colour)):
        circuit = wording.circuit_of(job.rig, wire)
        code = wording.colour_short(wire.colour)
        if circuit is None:
            ends = " to ".join(_seat(job.rig, wire, end) for end in (wire.a, wire.b))
            yield _CardLine(wire, code, wire.name, ends)
            continue
        place = circuit.place
        key = (code, place, wording.there_words(wire))
        if key not in told and wire.name not in stubs:
            told.add(key)
            yield _CardLine(wire, code, place, circuit.label or circuit.place)


def _stubs(rig: Rig) -> Iterator[str]:
    """The pieces of circuits before the fuse that they begin with: the same wire goes on behind."""
    for circuit in rig.circuits:
        device = rig.by_name.devices.get(circuit.device)
        wires = [rig.conductor(name) for name in circuit.wires]
        if device is not None:
            behind = {_looks(w) for w in wires if device.load in (w.a, w.b)}
            yield from (w.name for w in wires
                        if device.line in (w.a, w.b) and _looks(w) in behind)  # fmt: skip


def _looks(wire: Conductor) -> tuple[str, str]:
    """What a wire looks like: as pieces of one wire do."""
    return wording.there_words(wire), wording.colour_short(wire.colour)


def _seat(rig: Rig, wire: Conductor, end: str) -> str:
    """Where an end lands, in few letters: for a fuse on the wire, the terminal that it sits on."""
    for device in rig.seated.get(wire.name, ()):
        if end in (device.line, device.load):
            end = device.load if end == device.line else device.line
    return wording.short_end(rig, end)


def _card(
    job: Job, entries: Sequence[_CardLine], at: tuple[float, float], order: str
) -> Iterator[Mark]:
    left, top = at
    title = (left + 2, top + 0.8, WIDE_MM - 26, _HEAD_MM - 1.6)
    yield from block(job.rig.name, title, Style(9, FLOOR_PT, bold=True, align="start"))
    count = (left + WIDE_MM - 23, top + 0.8, 21, _HEAD_MM - 1.6)
    yield from block(f"colours {order}", count, Style(7, FLOOR_PT, align="end"))
    high = (HIGH_MM - _HEAD_MM - 1.0) / ROWS
    for row, entry in enumerate(entries):
        down = top + _HEAD_MM + row * high
        yield Line(((left + 2, down), (left + WIDE_MM - 2, down)), _HAIR)
        marks = tuple(_line(job, entry, (left + 2, down, WIDE_MM - 4, high)))
        yield Group(f"card-{entry.wire.name}", f"{entry.code} {entry.words}", marks)


def _line(job: Job, entry: _CardLine, box: Box) -> Iterator[Mark]:
    left, top, wide, high = box
    wire = entry.wire
    yield from patch(left, top + 0.7, 9, high - 1.4, *wording.shades(wire.colour))
    style = Style(7, FLOOR_PT, 2, align="start")
    bold = Style(7, FLOOR_PT, 2, bold=True, align="start")
    inner = (top + 0.1, high - 0.2)
    columns = (
        (10.0, 15.0, entry.code, bold),
        (25.5, 12.0, entry.place, bold),
        (38.0, 24.0, entry.words, style),
        (62.5, wide - 62.5, first_uncut(_gauges(job, wire), wide - 63.0, FLOOR_PT, lines=2), style),
    )
    for start, room, words, how in columns:
        yield from block(words, (left + start, inner[0], room - 0.5, inner[1]), how)


def _gauge(job: Job, wire: Conductor) -> str:
    return _gauges(job, wire)[0]


def _gauges(job: Job, wire: Conductor) -> tuple[str, ...]:
    """Size and what guards it; where there is no room for all of it, a warning without figures."""
    sign = wording.sign(job.study.polarity(wire))
    _, fuse = guard_told(job.study, wire)
    size = f"{sign} {wording.there_words(wire, short=True)}"
    whole = ", ".join(filter(None, (size, fuse)))
    return (whole, *(f"{size}, {word}" for word in GRAVE if word in fuse))
