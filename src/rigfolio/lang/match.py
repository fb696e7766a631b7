"""Whether a fact's pattern stands at a place of a line, and what values it gives there."""

from collections.abc import Sequence

from rigfolio.findings import UNKNOWN
from rigfolio.lang.facts import Context, One
from rigfolio.lang.lines import Item
from rigfolio.record import record
from rigfolio.units import UNITS, awg_size, metric_size, to_si
from rigfolio.values import Colour, read_place

_STUDS = ("M4", "M5", "M6", "M8", "M10", "M12", "No6", "No8", "No10")


@record
class Got:
    """The values that a pattern found, and where it ended."""

    values: tuple[One, ...]
    end: int


def match(parts: tuple[str, ...], items: Sequence[Item], at: int, context: Context) -> Got | None:
    """The values of a pattern at a place of a line; None where it does not stand there."""
    values: list[One] = []
    for part in parts:
        got = _part(part, items, at, context)
        if got is None and values == [] and part == parts[0]:
            return None
        if got is None and part.startswith("<"):
            got = _asked(part, items, at)
        if got is None:
            return None
        values += got.values
        at = got.end
    return Got(tuple(values), at)


def _asked(part: str, items: Sequence[Item], at: int) -> Got | None:
    """A `?` behind the keyword that says what it stands for: `internal ?`."""
    if at < len(items) and items[at].kind == "unknown" and part != "<label>":
        return Got((UNKNOWN,), at + 1)
    return None


def _part(part: str, items: Sequence[Item], at: int, context: Context) -> Got | None:
    if at >= len(items):
        return None
    item = items[at]
    if not part.startswith("<"):
        words = part.split("|")
        if item.kind in ("word", "number") and item.text in words:
            return Got((item.text,) if len(words) > 1 else (), at + 1)
        return None
    name = part[1:-1]
    if name.startswith("n "):
        return _count(name[2:], items, at)
    if name == "colour":
        return _colour(items, at, context)
    if name == "size":
        return _size(items, at)
    if name in ("place", "name", "label", "date", "stud"):
        return _written(name, item, at, context)
    return _measure(name, items, at)


def _count(noun: str, items: Sequence[Item], at: int) -> Got | None:
    item = items[at]
    nouns = (noun, noun.rstrip("s"))
    if item.kind == "quantity" and item.unit in nouns and item.text.isdigit():
        return Got((float(item.text),), at + 1)
    if item.kind == "unknown" and at + 1 < len(items) and items[at + 1].text in nouns:
        return Got((UNKNOWN,), at + 2)
    return None


def _written(name: str, item: Item, at: int, context: Context) -> Got | None:
    if item.kind == "unknown" and name == "place":
        return Got((UNKNOWN,), at + 1)
    if name in ("label", "date") and item.kind == name:
        return Got((" ".join(item.text.split()),), at + 1)
    if name == "stud" and item.text in _STUDS:
        return Got((item.text,), at + 1)
    if name == "stud" and item.kind == "quantity" and "/" in item.text and item.unit == "in":
        return Got((f"{item.text} in",), at + 1)
    is_free = item.kind == "word" and item.text not in context.keywords
    is_free = is_free and item.text not in context.colours
    if name == "place" and (item.kind == "place" or is_free):
        return Got((read_place(item.text),), at + 1)
    if name == "name" and is_free:
        return Got((item.text,), at + 1)
    return None


def measures(item: Item) -> str:
    """What a quantity measures; empty where its number does not fit its unit."""
    if item.unit == "AWG":
        return "size" if _gauge(item.text) is not None else ""
    kind = UNITS[item.unit].kind if item.unit in UNITS else ""
    if kind == "area" and "/" not in item.text:
        return "size" if float(item.text) > 0 else ""
    return kind if _number(item) is not None else ""


def _number(item: Item) -> float | None:
    if "/" not in item.text:
        return float(item.text)
    top, bottom = item.text.split("/")
    return int(top) / int(bottom) if item.unit == "in" and int(bottom) else None


def _gauge(text: str) -> int | None:
    if "/" in text:
        top, bottom = text.split("/")
        return 1 - int(top) if bottom == "0" and 1 <= int(top) <= 4 else None
    return int(text) if text.isdigit() and 1 <= int(text) <= 40 else None


def _measure(kind: str, items: Sequence[Item], at: int) -> Got | None:
    item = items[at]
    if item.kind == "unknown":
        unit = items[at + 1].text if at + 1 < len(items) and items[at + 1].kind == "word" else ""
        if unit in UNITS and UNITS[unit].kind == kind:
            return Got((UNKNOWN,), at + 2)
        return None
    if item.kind != "quantity" or item.unit not in UNITS or UNITS[item.unit].kind != kind:
        return None
    number = _number(item)
    if number is None:
        return None
    total, end = to_si(number, item.unit), at + 1
    # "2 ft 6 in" is one length.
    if item.unit == "ft" and end < len(items) and items[end].unit == "in":
        inches = _number(items[end])
        touching = items[end].span.start - item.span.end <= 2
        if inches is not None and inches < 12 and touching:
            return Got((total + to_si(inches, "in"),), end + 1)
    return Got((total,), end)


def _size(items: Sequence[Item], at: int) -> Got | None:
    item = items[at]
    if item.kind == "unknown":
        unit = items[at + 1].text if at + 1 < len(items) else ""
        return Got((UNKNOWN,), at + 2) if unit in ("AWG", "mm2", "mm²") else None
    if item.kind != "quantity" or measures(item) != "size":
        return None
    if item.unit != "AWG":
        return Got((metric_size(float(item.text)),), at + 1)
    gauge = _gauge(item.text)
    return None if gauge is None else Got((awg_size(gauge),), at + 1)


def _colour(items: Sequence[Item], at: int, context: Context) -> Got | None:
    base = _colour_word(items, at, context)
    if base is None:
        return None
    word, at = base
    if at + 1 < len(items) and items[at].kind == "slash":
        stripe = _colour_word(items, at + 1, context)
        if stripe is None:
            return None
        return Got((Colour(word, stripe[0]),), stripe[1])
    return Got((Colour(word),), at)


def _colour_word(items: Sequence[Item], at: int, context: Context) -> tuple[str, int] | None:
    if at + 1 < len(items):
        pair = f"{items[at].text} {items[at + 1].text}"
        if pair in context.colours:
            return context.colours[pair], at + 2
    if items[at].kind == "word" and items[at].text in context.colours:
        return context.colours[items[at].text], at + 1
    return None
