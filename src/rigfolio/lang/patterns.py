"""Whether a fact's pattern stands at a place of a line, and what values it gives there."""

from collections.abc import Sequence

from rigfolio.findings import UNKNOWN
from rigfolio.lang.amounts import SIZE_UNITS, measure, measured, size_of, spelt
from rigfolio.lang.fact import Context, Fact, One
from rigfolio.lang.lines import Kind, Token
from rigfolio.record import record
from rigfolio.units import UNITS
from rigfolio.values import Colour, read_place

STUDS = ("M3", "M4", "M5", "M6", "M8", "M10", "M12", "No6", "No8", "No10")
_STUDS = {stud.casefold(): stud for stud in STUDS}
TERMINALS = ("ring", "fork", "blade", "pin", "ferrule", "butt", "lug", "plain")


@record
class Got:
    """The values that a pattern found, and where it ended."""

    values: tuple[One, ...]
    end: int


def match(parts: tuple[str, ...], items: Sequence[Token], at: int, context: Context) -> Got | None:
    """The values of a pattern at a place of a line; None where it does not stand there."""
    values: list[One] = []
    for number, part in enumerate(parts):
        got = _part(part, items, at, context)
        if got is None and number and part.startswith("<"):
            got = _asked(part, items, at)
        if got is None:
            return None
        values += got.values
        at = got.end
    return Got(tuple(values), at)


def _asked(part: str, items: Sequence[Token], at: int) -> Got | None:
    """A `?` behind the keyword that says what it stands for: `internal ?`."""
    if at < len(items) and items[at].kind == "unknown" and part != "<label>":
        return Got((UNKNOWN,), at + 1)
    return None


def _part(part: str, items: Sequence[Token], at: int, context: Context) -> Got | None:
    if at >= len(items):
        return None
    item = items[at]
    if not part.startswith("<"):
        return _literal(part.split("|"), items, at)
    name = part[1:-1]
    if name.startswith("n "):
        return _count(name[2:], items, at)
    if name == "colour":
        return _colour(items, at, context)
    if name == "size":
        return _size(items, at)
    if name == "terminal":
        return _terminal(items, at)
    if name == "called":
        return _called(items, at, context)
    if name in _WRITTEN:
        joined = _joined(name, items, at) if name in ("tag", "thing") else None
        return joined or _written(name, item, at, context)
    return _measure(name, items, at)


def _literal(words: Sequence[str], items: Sequence[Token], at: int) -> Got | None:
    """One of some words; what is written with a hyphen may be two words, `class T`."""
    if items[at].kind not in ("word", "number"):
        return None
    text, end = items[at].plain, at + 1
    if text not in words and end < len(items):
        text, end = f"{text}-{items[end].plain}", end + 1
    return Got((text,) if len(words) > 1 else (), end) if text in words else None


def _count(noun: str, items: Sequence[Token], at: int) -> Got | None:
    item = items[at]
    nouns = (noun, noun.rstrip("s"))
    if item.kind == "quantity" and item.unit.casefold() in nouns and _is_count(noun, item.text):
        return Got((float(item.text),), at + 1)
    if item.kind == "unknown" and at + 1 < len(items) and items[at + 1].plain in nouns:
        return Got((UNKNOWN,), at + 2)
    return None


def _is_count(noun: str, text: str) -> bool:
    """Whether there can be so many; things are counted 1, 2, 3, and only times have parts."""
    if noun == "times" and text.replace(".", "", 1).isdigit():
        return 0.0 < float(text) <= 1000.0
    return text.isdigit() and 0 < int(text) <= 100_000


_WORDS = frozenset({"word", "place", "unknown"})
_NUMBERS = frozenset({"quantity", "number", "unknown"})
_PIECES = frozenset({"word", "place", "quantity", "number"})
_MEASURES = frozenset([unit.kind for unit in UNITS.values()]) | {"size"}
_STARTS = {
    "label": frozenset({"label"}), "date": frozenset({"date"}), "colour": frozenset({"word"}),
    "terminal": frozenset({"word"}), "place": _WORDS, "name": frozenset({"word"}),
    "title": frozenset({"word", "label"}), "tag": _WORDS | _NUMBERS | {"label"},
    "thing": _WORDS | _NUMBERS | {"label"}, "stud": _WORDS | _NUMBERS,
    "called": frozenset({"word"}),
}  # fmt: skip


class Starts:
    """The facts of a statement by what they may start with.

    Every item of a text asks, and most facts start with a word that stands at few of them.
    """

    def __init__(self, takes: tuple[Fact, ...]) -> None:
        self.takes = takes
        self._opened = frozenset([word for fact in takes for word in fact.opens])
        self._met: dict[tuple[Kind, str, str], tuple[Fact, ...]] = {}

    def at(self, item: Token) -> tuple[Fact, ...]:
        """The facts that can start at an item at all, in the order in which they are taken."""
        word = item.plain
        key = (item.kind, word if word in self._opened else "", measured(item.unit))
        found = self._met.get(key)
        if found is None:
            found = self._met[key] = tuple([fact for fact in self.takes if _may_start(fact, *key)])
        return found


_KEPT: dict[int, Starts] = {}


def starts_of(takes: tuple[Fact, ...]) -> Starts:
    """The facts that a statement takes, by what they may start with; kept for each word."""
    # To hash some thirty facts would cost more than it saves. What is kept holds on to them, so
    # that no others can get their number.
    found = _KEPT.get(id(takes))
    if found is None:
        found = _KEPT[id(takes)] = Starts(takes)
    return found


def _may_start(fact: Fact, kind: Kind, word: str, measured: str) -> bool:
    if fact.opens:
        return word in fact.opens
    value = fact.parts[0][1:-1]
    if measured and value in _MEASURES:
        return value == measured
    return kind in _STARTS.get(value, _NUMBERS)


_WRITTEN = frozenset({"place", "name", "label", "date", "stud", "tag", "title", "thing"})


def _written(name: str, item: Token, at: int, context: Context) -> Got | None:
    if item.kind == "unknown":
        return Got((UNKNOWN,), at + 1) if name == "place" else None
    if item.kind == "word" and not item.text:
        # It stands for a line of which nothing could be read.
        return None
    if item.kind == "label":
        text = " ".join(item.text.split())
        return Got((text,), at + 1) if name in ("label", "title", "tag") else None
    if name == "date":
        return Got((item.text,), at + 1) if item.kind == "date" and is_day(item.text) else None
    if name == "stud":
        return _stud(item, at)
    if item.kind == "word" and (item.plain in context.keywords or item.plain in context.colours):
        return None
    if name in ("place", "thing") and item.kind in ("place", "word"):
        return Got((read_place(item.text, item.span.start),), at + 1)
    if name in ("name", "title", "tag") and item.kind == "word":
        return Got((item.text,), at + 1)
    # Wires are often called by a number, or by a number and a letter.
    if name in ("tag", "thing") and item.kind in ("number", "quantity"):
        text = item.text + item.unit
        return Got((read_place(text, item.span.start) if name == "thing" else text,), at + 1)
    return None


def _joined(name: str, items: Sequence[Token], at: int) -> Got | None:
    """The name of a wire by what it joins, `B1+/F1`, or any name in quotes.

    In quotes it opens a statement only if something is said of it: `note "dirty"` names nothing.
    """
    head = items[at]
    if head.kind == "label":
        text = " ".join(head.text.split())
        is_name = name == "thing" and text and at + 1 < len(items)
        return Got((read_place(text, head.span.start),), at + 1) if is_name else None
    pieces = items[at : at + 3]
    kinds = tuple(piece.kind for piece in pieces)
    if len(pieces) < 3 or kinds[1] != "slash" or not {kinds[0], kinds[2]} <= _PIECES:
        return None
    text = "".join(piece.text + piece.unit for piece in pieces)
    if pieces[2].span.end - head.span.start != len(text):
        return None
    value = read_place(text, head.span.start) if name == "thing" else text
    return Got((value,), at + 3)


def _stud(item: Token, at: int) -> Got | None:
    if item.plain in _STUDS:
        return Got((_STUDS[item.plain],), at + 1)
    if item.kind == "quantity" and "/" in item.text and item.unit == "in":
        return Got((f"{item.text} in",), at + 1)
    return None


def _called(items: Sequence[Token], at: int, context: Context) -> Got | None:
    """The name of a wire right behind its word; the first of its two places is none.

    It holds a digit: a colour that is misspelt must not become a name.
    """
    text = items[at].text
    goes_on = at + 1 < len(items) and items[at + 1].plain == "to"
    if goes_on or items[at].kind != "word" or not any(sign.isdigit() for sign in text):
        return None
    return _written("tag", items[at], at, context)


def _terminal(items: Sequence[Token], at: int) -> Got | None:
    """What is crimped to the end of a wire, and for which stud: `ring M8`."""
    if items[at].kind != "word" or items[at].plain not in TERMINALS:
        return None
    text, end = items[at].plain, at + 1
    stud = _stud(items[end], end) if end < len(items) else None
    if stud is None:
        return Got((text,), end)
    return Got((f"{text} {stud.values[0]}",), stud.end)


def is_day(text: str) -> bool:
    """Whether a written date can be in a calendar."""
    _, month, day = text.split("-")
    return 1 <= int(month) <= 12 and 1 <= int(day) <= 31


def _measure(kind: str, items: Sequence[Token], at: int) -> Got | None:
    if items[at].kind == "unknown":
        unit, end = _unit(items, at + 1)
        known = unit in UNITS and UNITS[unit].kind == kind
        return Got((UNKNOWN,), end) if known else None
    found = measure(kind, items, at)
    return None if found is None else Got((found[0],), found[1])


def _unit(items: Sequence[Token], at: int) -> tuple[str, int]:
    """The unit that stands behind a `?`."""
    words = [item.text if item.kind in ("word", "slash", "percent") else " "
             for item in items[at : at + 3]]  # fmt: skip
    whole = spelt("".join(words))
    if whole in UNITS:
        return whole, at + len(words)
    return (spelt(words[0]) if words else ""), at + 1


def _size(items: Sequence[Token], at: int) -> Got | None:
    item = items[at]
    if item.kind == "unknown":
        unit = spelt(items[at + 1].text) if at + 1 < len(items) else ""
        return Got((UNKNOWN,), at + 2) if unit in SIZE_UNITS else None
    if item.kind != "quantity" or item.unit not in SIZE_UNITS:
        return None
    size = size_of(item)
    return None if size is None else Got((size,), at + 1)


def _colour(items: Sequence[Token], at: int, context: Context) -> Got | None:
    base = _colour_word(items, at, context)
    if base is None:
        return None
    word, at = base
    if at < len(items) and items[at].kind == "slash":
        stripe = _colour_word(items, at + 1, context) if at + 1 < len(items) else None
        return None if stripe is None else Got((Colour(word, stripe[0]),), stripe[1])
    return Got((Colour(word),), at)


def _colour_word(items: Sequence[Token], at: int, context: Context) -> tuple[str, int] | None:
    if at + 1 < len(items):
        pair = f"{items[at].plain} {items[at + 1].plain}"
        if pair in context.colours:
            return context.colours[pair], at + 2
    if items[at].kind == "word" and items[at].plain in context.colours:
        return context.colours[items[at].plain], at + 1
    return None
