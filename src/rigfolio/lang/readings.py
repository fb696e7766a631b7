"""What a meter showed: `11.2 V`, `40 mV`, `1.2 kohm`, `open`."""

import re
from collections.abc import Iterator

from rigfolio.lang.passage import READING_FORMS, Passage, hidden
from rigfolio.lang.typed_reading import meter_unit
from rigfolio.units import METER_UNITS

_AMOUNT = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\W\d_°][\w°]*)?", re.UNICODE)
_COMMA = re.compile(r"([+-]?\d+),(\d+)(?!,?\d)\s*([^\W\d_°][\w°]*)?", re.UNICODE)
_COMMAS = re.compile(r"[+-]?\d+,\d")
_THOUSANDS = 3
_BARE = re.compile(r"(?:^|(?<=\s)|(?<=:))[+-]?\d+(?:[.,]\d+)?\s*([^\W\d_][^\W_]*)?(?=[\s,;.]|$)")
_LINK = re.compile(
    r"(?:\s*[:,]|\s+(?:is|at|reads|shows|measures|has|gets|only))*\s*$", re.IGNORECASE
)
_OF = re.compile(r"\s*(?:at|across|on|in|from|between|through)\s+(?:the\s+)?", re.IGNORECASE)
_NEXT = re.compile(r"\s*,|\s+(?:with|at|in)\s")
_UNITS = "V, mV, A, mA, ohm, mohm, kohm or Mohm"


def reading_amount(right: Passage) -> tuple[str, float, int]:
    """What is measured, how much [V, A, ohm], and where the rest of the line starts.

    Raises
    ------
    NotReadError
        It is no amount, or one of something else.
    """
    opened = re.match(r"(open|OL)\b", right.text)
    if opened:
        return "resistance", float("inf"), opened.end()
    number = _AMOUNT.match(right.text)
    if number is None:
        raise right.wrong("no number behind `=`", f"write it as {READING_FORMS}")
    figure, written = number.group(1), number.group(2) or ""
    here = right.part(0, number.end())
    comma = _COMMA.match(right.text)
    if comma is None and _COMMAS.match(right.text):
        raise right.wrong("commas between digits", "write the figure with a point, and no comma")
    if comma:
        raise right.part(0, comma.end()).wrong("a decimal comma", _with_point(*comma.groups()))
    if not written:
        raise here.wrong(f"`{figure}` without a unit", f"`{figure} V`, if volts are meant")
    symbol = meter_unit(written)
    if not symbol:
        raise here.wrong(f"`{written}` found, expected {_UNITS}", f"`{figure} V`")
    unit = METER_UNITS[symbol]
    value = float(figure) * unit.factor
    if unit.kind == "resistance" and value < 0.0:
        raise here.wrong("ohms below zero", "swap the probes: there is current in the part")
    return unit.kind, value, number.end()


def _with_point(whole: str, part: str, unit: str | None) -> str:
    """What was meant by a figure with a comma, in the unit that was written."""
    behind = f" {unit or 'V'}"
    meant = f"write it with a point: `{whole}.{part}{behind}`"
    if len(part) != _THOUSANDS:
        return meant
    return f"{meant}, or without a comma if thousands are meant: `{whole}{part}{behind}`"


def bare_readings(body: Passage) -> Iterator[tuple[Passage, Passage]]:
    """Where a line may be a reading without its `=`: the place, and the amount with the rest.

    The amount stands behind its place, or before it: `Pump 9.6 V`, `9.6 V at Pump, with Pump on`.
    """
    text = hidden(body.text)
    for found in _BARE.finditer(text):
        unit = found.group(1)
        if unit and not meter_unit(unit):
            continue
        link = _LINK.search(text, 0, found.start())
        if link is not None and link.start() > 0:
            yield body.part(0, link.start()), body.part(found.start())
        of = _OF.match(text, found.end())
        if of is not None and not text[: found.start()].strip():
            amount_text = body.text[: found.end()]
            for end in (len(text), *(cut.start() for cut in _NEXT.finditer(text, of.end()))):
                right = Passage(f"{amount_text}{body.text[end:]}", body.start)
                yield body.part(of.end(), end), right
