"""Gauges, lengths, amperes and watts as people write them at a panel, as the language has them.

A bare number stays one: what it is a number of is asked for, never guessed.
"""

import re
from collections.abc import Mapping, Sequence

from rigfolio.lang import Token, match, parse
from rigfolio.reading import context
from rigfolio.record import record
from rigfolio.units import MEANT, UNITS

BARE = "no unit: write it behind the number, or name it in the heading, such as `length (ft)`"
COMMA = "a comma in a number: write a point, or store the table with semicolons between its cells"
THOUSANDS = "a comma before three digits: write `1.5` or `1500`, whichever is meant"
_NONE: Mapping[str, str] = {
    "size": "no gauge, such as `16 AWG` or `1.5 mm2`",
    "length": "no length, such as `9 ft`, `18' 6\"` or `2.5 m`",
    "current": "no amperes, such as `7.5 A`",
    "draw": "neither amperes nor watts, such as `7 A` or `48 W`",
}
_PATTERNS: Mapping[str, tuple[str, ...]] = {
    "size": ("<size>",), "length": ("<length>",), "current": ("<current>",),
    "draw": ("<current>", "<power>"),
}  # fmt: skip
_KINDS: Mapping[str, tuple[str, ...]] = {
    "length": ("length",), "current": ("current",), "draw": ("current", "power"),
}  # fmt: skip

_SIGNS: dict[int, str] = str.maketrans({
    "’": "'", "′": "'", "‘": "'", "`": "'", "”": '"', "“": '"', "″": '"', "\u00a0": " ",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8",
    "⅞": " 7/8",
})  # fmt: skip
_ABOUT_BEFORE = re.compile(
    r"(?:~|≈|±|\+/-|about|approx(?:imately)?\b\.?|ca\b\.?|circa|around|roughly|abt\b\.?)\s*"
)
_ABOUT_BEHIND = re.compile(r"\s*(?:\?|or so|ish|approx\.?|about|~)$")
_AWG = r"(?P<gauge>\d{1,2}|[1-4]/0|0{2,4})"
_GA = r"(?:gauge|guage|gage|awg|ga|g)\.?"
_GAUGES = tuple(
    re.compile(pattern)
    for pattern in (
        rf"(?:#|no\.?|nr\.?)\s*{_AWG}(?:\s*-?\s*{_GA})?",
        rf"{_GA}\s*#?\s*{_AWG}",
        rf"{_AWG}\s*-?\s*{_GA}(?:\s+(?:wire|stranded|primary))?",
        r"(?P<gauge>[1-4]/0|0{2,4})",
    )
)
_METRIC = re.compile(r"(\d+(?:\.\d+)?)\s*(?:mm2|mm²|mm\^2|sq\.?\s*mm|qmm|mm\s*sq|square mm)\.?")
_NUMBER = r"(?:\d+(?:\.\d+)?(?:[ -]\d+/\d+)?|\d+/\d+|\.\d+)"
_BARE = re.compile(_NUMBER)
_TERM = re.compile(rf"(?P<number>{_NUMBER})\s*-?\s*(?P<unit>''|'|\"|[^\W\d_]+)\.?")
_BETWEEN = re.compile(r"\s*(?:,|\+|&|and\b)?\s*")
_WORDS: Mapping[str, str] = {
    "'": "ft", '"': "in", "''": "in", "ins": "in", "foots": "ft", "milliamps": "mA", "mtr": "m",
    "mtrs": "m", "metres": "m", "millimetres": "mm", "millimeters": "mm", "kilowatts": "kW",
}  # fmt: skip


@record
class ReadCell:
    """A cell as the language has it, or what is wrong with it and what may help.

    `is_about` is whether the person was not sure of it; `aside` is what else it says, for a note.
    """

    value: str = ""
    is_about: bool = False
    wrong: str = ""
    hint: str = ""
    aside: str = ""


def quantity(text: str, kind: str, unit: str, *, has_commas: bool) -> ReadCell:
    """A written quantity.

    Parameters
    ----------
    text : str
        What the cell says.
    kind : str
        `size`, `length`, `current`, or `draw` for amperes or watts.
    unit : str
        That of a bare number; empty where none is known.
    has_commas : bool
        Whether a comma between digits is a decimal one.

    Examples
    --------
    >>> [quantity(text, "size", "", has_commas=False).value for text in ("14ga", "#12", "2.5 qmm")]
    ['14 AWG', '12 AWG', '2.5 mm2']
    >>> quantity("~18' 6", "length", "", has_commas=False)
    ReadCell(value='18 ft 6 in', is_about=True, wrong='', hint='', aside='')
    """
    plain, is_about = _plain(text)
    if re.search(r"\d,\d", plain):
        if not has_commas:
            return ReadCell(wrong=COMMA)
        if re.search(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)", plain):
            return ReadCell(wrong=THOUSANDS)
        plain = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    if unit and _BARE.fullmatch(plain):
        plain = f"{plain} {unit.casefold()}"
    value = _size(plain) if kind == "size" else _terms(plain, kind)
    if value and is_read(value, _PATTERNS[kind]):
        return ReadCell(value, is_about)
    return ReadCell(wrong=BARE if _BARE.fullmatch(plain) else _NONE[kind])


def is_read(value: str, patterns: Sequence[str]) -> bool:
    """Whether the language reads a text as one of some values, and all of it."""
    items = tokens(value)
    found = [match((one,), items, 0, context()) for one in patterns] if items else []
    return any(got is not None and got.end == len(items) for got in found)


def tokens(text: str) -> Sequence[Token]:
    """The items of a line; none where it is no line."""
    lines, found = parse(text, "")
    return () if found or len(lines) != 1 else lines[0].items


def _plain(text: str) -> tuple[str, bool]:
    """A text in small letters, with plain signs, and whether it says `about`."""
    plain = " ".join(text.casefold().translate(_SIGNS).split())
    before = _ABOUT_BEFORE.match(plain)
    if before is not None and before.end() < len(plain):
        plain = plain[before.end() :]
    behind = _ABOUT_BEHIND.search(plain)
    if behind is not None and behind.start() > 0:
        plain = plain[: behind.start()]
    return plain, before is not None or behind is not None


def _size(plain: str) -> str:
    metric = _METRIC.fullmatch(plain)
    if metric is not None:
        return f"{metric[1]} mm2"
    for pattern in _GAUGES:
        found = pattern.fullmatch(plain)
        if found is not None:
            gauge = found["gauge"]
            return f"{f'{len(gauge)}/0' if not gauge.strip('0') else gauge.lstrip('0')} AWG"
    return ""


def _terms(plain: str, kind: str) -> str:
    """Numbers with their units one behind the other: `18' 6"`, `7.5 amp`; empty if it is not so."""
    plain = re.sub(r"\s*\b(?:fuse|breaker|each)$", "", plain)
    made: list[str] = []
    at, feet = 0, False
    while at < len(plain):
        found = _TERM.match(plain, at)
        last = _BARE.fullmatch(plain, at) if found is None and feet else None
        if last is not None:
            # Behind a foot mark a last number is inches, as on every tape: 18'6.
            return " ".join((*made, last.group(), "in"))
        unit = _symbol(found["unit"], kind) if found is not None else ""
        if found is None or not unit:
            return ""
        made += [_number(found["number"].replace("-", " "), kind), unit]
        feet = found["unit"] == "'"
        between = _BETWEEN.match(plain, found.end())
        at = between.end() if between is not None else found.end()
    return " ".join(made)


def _number(text: str, kind: str) -> str:
    """A number as the language has it; fractions are of lengths only, `7 1/2 A` is 7.5 A."""
    whole, _, part = text.rpartition(" ")
    above, _, below = part.partition("/")
    if below and kind != "length" and int(below):
        return f"{float(whole or 0) + int(above) / int(below):g}"
    return f"0{text}" if text.startswith(".") else text


def _symbol(word: str, kind: str) -> str:
    """The unit that a word means, if it is one of a kind."""
    for symbol in (_WORDS.get(word, ""), MEANT.get(word, ""), *_BY_LETTERS.get(word, ())):
        if symbol in UNITS and UNITS[symbol].kind in _KINDS[kind]:
            return symbol
    return ""


_BY_LETTERS: Mapping[str, tuple[str, ...]] = {
    letters: tuple(symbol for symbol in UNITS if symbol.casefold() == letters)
    for letters in {symbol.casefold() for symbol in UNITS}
}
"""Symbols by their letters without capitals."""
