"""Colour legend: which wires have a given colour.

For the person who holds a wire and knows its colour only: find the colour, then tell the wires of
that colour apart by slot and gauge; the count says how many there are to choose from. A colour is
evidence and never proof; plus and minus are printed beside it. What is not surveyed stands at the
end.
"""

from collections.abc import Collection, Iterator
from itertools import groupby

from rigfolio import wording
from rigfolio.books import colour_book
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
    pieces,
    prose,
)
from rigfolio.job import Job
from rigfolio.model import Conductor
from rigfolio.protection import guard_words
from rigfolio.record import replace
from rigfolio.reports import COLOUR_TELLS
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.values import Colour

SHEET = Sheet("Colours and circuits", "colour-legend", command="legend", bound=40, beside=True)

_LEAD_MM = 6.0
_PAD_MM, _CLOSE_MM = 0.7, 0.35
_COLUMNS = (
    Column("colour", 12),
    Column("in words", 27, bold=True),
    Column("IEC 60757", 13),
    Column("of this colour", 14),
    Column("wire", 27, bold=True),
    Column("side", 15),
    Column("slot", 13, bold=True),
    Column("circuit or ends", 65),
    Column("gauge", 14),
    Column("fuse", 31),
)


def pages(job: Job) -> tuple[Page, ...]:
    """Every wire by colour; bare and unknown ones too."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    tables = tuple(_tables(job))
    area = (left, top + _LEAD_MM, wide, high - _LEAD_MM)
    lead = _lead(left, top, wide)
    made = flow(tables, area)
    closer = flow([replace(table, pad_mm=_CLOSE_MM) for table in tables], area)
    made = closer if len(closer) < len(made) else made
    bodies = [(*lead, *marks) for marks in made]
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=COLOUR_TELLS)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: line by line, then table by table."""
    yield from map(SheetPart, _rows(job, _known(job)))
    yield from map(SheetPart, _tables(job))


def _known(job: Job) -> list[Conductor]:
    """The wires that are listed, by colour."""
    wires = (wire for wire in wording.wires_in_order(job.rig) if not _is_folded(wire))
    return sorted(wires, key=lambda wire: wording.colour_order(wire.colour))


def _tables(job: Job) -> Iterator[Table]:
    wires, known = wording.wires_in_order(job.rig), _known(job)
    if known:
        yield Table(_COLUMNS, tuple(_rows(job, known)), "", FLOOR_PT, _PAD_MM)
    folded = [wire for wire in wires if _is_folded(wire)]
    if folded:
        homes = wording.in_a_row(dict.fromkeys(wire.circuit for wire in folded))
        words = f"Not listed, for nobody has stated them: the returns of {homes}, each ASSUMED."
        yield prose("", *pieces(words), size_pt=FLOOR_PT)
    if not wires:
        yield prose("", wording.NO_COLOUR)


def _is_folded(wire: Conductor) -> bool:
    """Whether a wire is a mere assumption without a colour: there is nothing to look up by it."""
    return wire.assumed and wire.colour is None


def _lead(left: float, top: float, wide: float) -> tuple[Mark, ...]:
    text = (
        "Base colour first, stripe after the stroke, in words and in the codes of IEC 60757. "
        "Leads of fixtures are not listed."
    )
    style = Style(8, FLOOR_PT, 2, align="start", is_top=True)
    return block(text, (left, top, wide, _LEAD_MM - 1), style)


def _rows(job: Job, wires: list[Conductor]) -> Iterator[Row]:
    """A row for each wire; lengths of one run that look alike share one."""
    told: set[str] = set()
    of_colour: dict[object, dict[int, int]] = {}
    for wire in wires:
        alike = of_colour.setdefault(wire.colour, {})
        alike[id(wire)] = len(alike) + 1
    for _, run in groupby(wires, key=lambda wire: _looks(job, wire)):
        held = list(run)
        wire = held[0]
        alike = of_colour[wire.colour]
        begins = alike[id(wire)] == 1
        words = wording.colour_words(wire.colour).removeprefix("colour ")
        words = f"{_named(wire, words, told)}{_turned(wire, of_colour)}" if begins else words
        places = ", ".join(str(alike[id(each)]) for each in held)
        yield Row(_cells(job, held, words, f"{places} of {len(alike)}"), ruled=begins)


def _named(wire: Conductor, words: str, told: set[str]) -> str:
    """The words of a colour, the first time with what else it is called: `violet (purple)`."""
    if not isinstance(wire.colour, Colour):
        return words
    for word in filter(None, (wire.colour.base, wire.colour.stripe)):
        called = colour_book().by_word[word].called if word in colour_book().by_word else ()
        if called and word not in told:
            told.add(word)
            words = words.replace(word, f"{word} ({', '.join(called)})")
    return words


def _looks(job: Job, wire: Conductor) -> tuple[object, ...]:
    """What tells a wire apart; a wire of no circuit is alone."""
    facts = (wire.colour, wording.there_words(wire), guard_words(job.study, wire))
    return (*facts, wire.circuit or wire.name, wording.is_return(job.rig, wire), wire.assumed)


def _cells(job: Job, wires: list[Conductor], words: str, count: str) -> tuple[Cell, ...]:
    rig, wire = job.rig, wires[0]
    circuit = wording.circuit_of(rig, wire)
    return (
        Swatch(*wording.shades(wire.colour)),
        words,
        wording.colour_code(wire.colour) or "no code",
        count,
        ", ".join(each.name for each in wires),
        wording.polarity_words(job.study.polarity(wire)),
        circuit.place if circuit else "–",
        _purpose(job, wire),
        wording.there_words(wire),
        guard_words(job.study, wire),
    )


def _turned(wire: Conductor, known: Collection[object]) -> str:
    """Pointer to the colour with base and stripe the other way round: they are easily confused."""
    if not isinstance(wire.colour, Colour) or not wire.colour.stripe:
        return ""
    other = Colour(wire.colour.stripe, wire.colour.base)
    return f" (see {other} too)" if other in known else ""


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
