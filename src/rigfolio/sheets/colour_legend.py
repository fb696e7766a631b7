"""Colour legend: which wires have a given colour.

For the person who holds a wire and knows its colour only: find the colour, then tell the wires of
that colour apart by slot and gauge; the count says how many there are to choose from. A colour is
evidence and never proof; plus and minus are printed beside it. What is not surveyed stands at the
end.
"""

from collections.abc import Iterator

from rigfolio import wording
from rigfolio.draw import (
    FLOOR_PT,
    Cell,
    Column,
    Mark,
    Page,
    Row,
    Style,
    Swatch,
    Table,
    block,
    body,
    flow,
    numbered,
    prose,
)
from rigfolio.job import Job
from rigfolio.model import Conductor
from rigfolio.protection import guard_words
from rigfolio.sheet import Sheet
from rigfolio.values import Colour

SHEET = Sheet("Colours and circuits", "colour-legend", command="legend", bound=40, beside=True)

_LEAD_MM = 6.0
_PAD_MM = 0.7
_COLUMNS = (
    Column("colour", 12),
    Column("in words", 25, bold=True),
    Column("IEC 60757", 13),
    Column("of this colour", 13),
    Column("wire", 19, bold=True),
    Column("side", 14),
    Column("slot", 18, bold=True),
    Column("circuit or ends", 68),
    Column("gauge", 15),
    Column("fuse", 22),
)


def pages(job: Job) -> tuple[Page, ...]:
    """Every wire by colour; bare and unknown ones too."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    wires = wording.wires_in_order(job.rig)
    known = sorted(wires, key=lambda wire: wording.colour_order(wire.colour))
    tables = [Table(_COLUMNS, tuple(_rows(job, known)), "", FLOOR_PT, _PAD_MM)] if known else []
    if not known:
        tables = [prose("", "This rig states no wire: there is no colour to look up.")]
    area = (left, top + _LEAD_MM, wide, high - _LEAD_MM)
    lead = _lead(left, top, wide)
    bodies = [(*lead, *marks) for marks in flow(tables, area)]
    note = "A colour is evidence, never proof: measure before you cut or join."
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=note)


def _lead(left: float, top: float, wide: float) -> tuple[Mark, ...]:
    text = (
        "Base colour first, stripe after the stroke, in words and in the codes of IEC 60757. "
        "Leads of fixtures are not listed."
    )
    style = Style(8, FLOOR_PT, 2, align="start", is_top=True)
    return block(text, (left, top, wide, _LEAD_MM - 1), style)


def _rows(job: Job, wires: list[Conductor]) -> Iterator[Row]:
    for wire in wires:
        alike = [each for each in wires if each.colour == wire.colour]
        begins = wire is alike[0]
        words = wording.colour_words(wire.colour).removeprefix("colour ")
        words = f"{words}{_turned(wire, wires)}" if begins else words
        count = f"{alike.index(wire) + 1} of {len(alike)}"
        yield Row(_cells(job, wire, words, count), ruled=begins)


def _cells(job: Job, wire: Conductor, words: str, count: str) -> tuple[Cell, ...]:
    rig = job.rig
    circuit = wording.circuit_of(rig, wire)
    return (
        Swatch(*wording.shades(wire.colour)),
        words,
        wording.colour_code(wire.colour) or "no code",
        count,
        wire.name,
        wording.polarity_words(job.study.polarity(wire)),
        circuit.place if circuit else "–",
        _purpose(job, wire),
        wording.gauge_words(wire),
        guard_words(job.study, wire),
    )


def _turned(wire: Conductor, wires: list[Conductor]) -> str:
    """Pointer to the colour with base and stripe the other way round: they are easily confused."""
    if not isinstance(wire.colour, Colour) or not wire.colour.stripe:
        return ""
    other = Colour(wire.colour.stripe, wire.colour.base)
    return f" (see {other} too)" if any(each.colour == other for each in wires) else ""


def _purpose(job: Job, wire: Conductor) -> str:
    circuit = wording.circuit_of(job.rig, wire)
    if circuit is None:
        ends = " to ".join(wording.end_words(job.rig, end) for end in (wire.a, wire.b))
        return f"{ends}{_parallel(wire)}"
    name = circuit.label or circuit.place
    if wording.is_return(job.rig, wire):
        name = f"return of {name}"
    if wire.assumed:
        name = f"{name}, ASSUMED"
    return name


def _parallel(wire: Conductor) -> str:
    return f", {wire.count} side by side" if wire.count > 1 else ""
