"""Colour legend: which wires have a given colour.

For the person who holds a wire and knows its colour only: find the colour, then tell the wires of
that colour apart by slot and gauge. A colour is evidence and never proof; plus and minus are
printed beside it. What is not surveyed stands at the end.
"""

from collections.abc import Iterator

from rigfolio.draw.fit import Style, block
from rigfolio.draw.frame import Cell, Column, Row, Swatch, Table, body, flow, numbered, prose
from rigfolio.draw.page import Mark, Page
from rigfolio.findings import Unknown
from rigfolio.model.graph import Conductor
from rigfolio.study import wording
from rigfolio.study.job import Job
from rigfolio.values import Colour

TITLE = "Colours and circuits"
NAME = "colour-legend"

_LEAD_MM = 9.0
_MOST_NAMED = 3
_COLUMNS = (
    Column("colour", 13),
    Column("in words", 24, bold=True),
    Column("IEC 60757", 14),
    Column("wire", 19, bold=True),
    Column("side", 15),
    Column("slot", 13, bold=True),
    Column("circuit or ends", 46),
    Column("gauge", 16),
    Column("fuse", 20),
    Column("also this colour", 30),
)


def pages(job: Job) -> tuple[Page, ...]:
    """Every wire by colour; bare and unknown ones too."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    wires = wording.wires_in_order(job.rig)
    known = sorted(wires, key=lambda wire: wording.colour_order(wire.colour))
    tables = [Table(_COLUMNS, tuple(_rows(job, known)), "", 7.5)] if known else []
    if not known:
        tables = [prose("", "This rig states no wire: there is no colour to look up.")]
    area = (left, top + _LEAD_MM, wide, high - _LEAD_MM)
    lead = _lead(left, top, wide)
    bodies = [(*lead, *marks) for marks in flow(tables, area)]
    note = "A colour is evidence, never proof: measure before you cut or join."
    return numbered(job.paper, TITLE, job.strip, bodies, note=note)


def _lead(left: float, top: float, wide: float) -> tuple[Mark, ...]:
    text = (
        "Base colour first, stripe after the stroke; the codes of IEC 60757 are joined in the same "
        "way. Colours without a code have words only. Leads of fixtures are not listed."
    )
    style = Style(8, 6, 2, align="start", is_top=True)
    return block(text, (left, top, wide, _LEAD_MM - 1), style)


def _rows(job: Job, wires: list[Conductor]) -> Iterator[Row]:
    before: Colour | Unknown | str | None = ""
    for wire in wires:
        begins = wire.colour != before
        before = wire.colour
        yield Row(_cells(job, wire, wires, begins=begins), ruled=begins)


def _cells(job: Job, wire: Conductor, wires: list[Conductor], *, begins: bool) -> tuple[Cell, ...]:
    rig = job.rig
    circuit = wording.circuit_of(rig, wire)
    slot = circuit.place if circuit else ""
    words = wording.colour_words(wire.colour).removeprefix("colour ")
    return (
        Swatch(*wording.shades(wire.colour)),
        f"{words}{_turned(wire, wires)}" if begins else words,
        wording.colour_code(wire.colour) or "no code",
        wire.name,
        wording.polarity_words(job, wire),
        slot or "no slot",
        _purpose(job, wire),
        wording.gauge_words(wire),
        _fuse(job, wire),
        _also(job, wire, wires),
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


def _fuse(job: Job, wire: Conductor) -> str:
    if wording.is_return(job.rig, wire):
        return "none"
    circuit = wording.circuit_of(job.rig, wire)
    if circuit is not None:
        return wording.fitted_words(job, circuit)
    device = wording.fuse_of(job.rig, wire)
    return wording.rating_words(device) if device else "none at its ends"


def _also(job: Job, wire: Conductor, wires: list[Conductor]) -> str:
    """Where else the colour is found, by slot or by the name of the wire."""
    if not isinstance(wire.colour, Colour):
        return ""
    own = _place(job, wire)
    others = [_place(job, each) for each in wires if each.colour == wire.colour]
    names = list(dict.fromkeys(name for name in others if name != own))
    if len(names) > _MOST_NAMED + 1:
        return f"also: {', '.join(names[:_MOST_NAMED])} and {len(names) - _MOST_NAMED} more"
    return f"also: {', '.join(names)}" if names else ""


def _place(job: Job, wire: Conductor) -> str:
    circuit = wording.circuit_of(job.rig, wire)
    if circuit is None:
        return wire.name
    return f"{circuit.place} return" if wording.is_return(job.rig, wire) else circuit.place
