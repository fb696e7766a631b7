"""The headings of a survey, on the sheet and in the table, and what people write for them.

A heading may name a unit, `found [A]`, `length ft`: a bare number in that column is in that unit.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Literal

from rigfolio.nearness import ENOUGH, nearest
from rigfolio.record import record
from rigfolio.units import MEANT, UNITS

Column = Literal[
    "place", "name", "colour", "gauge", "length", "found", "marked", "belongs", "wires",
    "went dead", "draws", "tail", "leaves loom at", "plate", "condition", "note",
]  # fmt: skip

COLUMNS: tuple[Column, ...] = (
    "place", "name", "colour", "gauge", "length", "found", "marked", "belongs", "wires",
    "went dead", "draws", "tail", "leaves loom at", "plate", "condition", "note",
)  # fmt: skip
"""The columns of a survey, in the order in which a person walks a panel.

`found` is the fuse that is there, `marked` the rating beside its slot, `belongs` what should be
there. `draws` has the amperes or watts of what went dead, `plate` what is printed on a battery, a
panel or a source.
"""

_OTHER_NAMES: Mapping[Column, str] = {
    "place": "slot, slots, position, no, part, part wire, id",
    "name": "circuit, label, what, description",
    "colour": "color, colour stripe, wire colour, wire color, insulation colour",
    "gauge": "size, wire size, wire gauge, cross section, section",
    "length": "wire length, length one way, run",
    "found": "fuse found, found fuse, fuse fitted, fitted",
    "marked": "fuse marked, marking, mark, printed beside it",
    "belongs": "fuse, should be, fuse belongs, belonging fuse, fuse size, fuse rating, rating",
    "wires": "wires on terminal, wires on its terminal, number of wires",
    "went dead": "dead, load, loads, went dead when pulled, what went dead, feeds",
    "draws": "draw, draws each, a or w each, load current, load power, power, consumption, drawn",
    "tail": "tail length",
    "leaves loom at": "breakout, leaves the loom at, out of loom at",
    "plate": "nameplate, name plate, printed on it, data",
    "condition": "heat, marks, heat damp loose, state, damage",
    "note": "remark, remarks, notes, comment, comments",
}
_KNOWN: Mapping[str, Column] = {
    name: column
    for column in COLUMNS
    for name in (column, *_OTHER_NAMES.get(column, "").split(", "))
}
_LOAD_UNITS = ("A", "W", "mA", "kW")
_BRACKETS = re.compile(r"[\[(]([^\])]*)[\])]")
_GAUGES = {"awg": "AWG", "ga": "AWG", "mm²": "mm2", "mm2": "mm2", "sqmm": "mm2", "qmm": "mm2"}
_SYMBOLS = {symbol.casefold(): symbol for symbol, unit in UNITS.items() if unit.kind in (
    "length", "current", "power")} | {"milliamps": "mA"}  # fmt: skip


@record
class Heading:
    """A column of a table: what it has, and the unit of a bare number in it."""

    column: Column
    unit: str = ""


def heading(cell: str) -> Heading | None:
    """What a heading means; None where that is not known.

    Examples
    --------
    >>> heading("Length (ft)") == heading("length ft") == Heading("length", "ft")
    True
    >>> heading("AWG"), heading("load watts")
    (Heading(column='gauge', unit='AWG'), Heading(column='draws', unit='W'))
    """
    bracketed = " ".join(_BRACKETS.findall(cell))
    name = _plain(_BRACKETS.sub(" ", cell))
    unit = next((unit for word in _plain(bracketed).split() if (unit := _unit(word))), "")
    if name not in _KNOWN:
        words = name.split()
        units = [found for word in words if (found := _unit(word))]
        name = " ".join(word for word in words if not _unit(word) and word != "in")
        # `length in feet`: a second unit makes `in` the small word that it also is.
        units = [found for found in units if found != "in"] or units
        unit = unit or (units[0] if units else "")
    if not name and unit in ("AWG", "mm2"):
        return Heading("gauge", unit)
    column = _KNOWN.get(name or ("draws" if unit in ("W", "kW") else ""))
    if column is None:
        return None
    return Heading("draws" if column == "went dead" and unit in _LOAD_UNITS else column, unit)


def nearest_heading(cell: str) -> str:
    """The known heading that is most like another; empty where none is."""
    return nearest(_plain(_BRACKETS.sub(" ", cell)), _KNOWN, least=ENOUGH)


def listed(columns: Sequence[Column] = COLUMNS) -> str:
    """Headings as a message lists them."""
    return ", ".join(f"`{name}`" for name in columns)


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[,;:/_.\-]+", " ", text.casefold()).split())


def _unit(word: str) -> str:
    """The unit that a word of a heading names; empty where it names none.

    `gauge` is none: a metric wire has one as well.
    """
    if word in _GAUGES:
        return _GAUGES[word]
    symbol = MEANT.get(word, "")
    found = _SYMBOLS.get(word) or (symbol if symbol in UNITS else "")
    return found if found and UNITS[found].kind in ("length", "current", "power") else ""
