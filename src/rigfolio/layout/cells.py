"""One line cut into the cells of its columns."""

import re
from collections.abc import Callable, Mapping, Sequence

from rigfolio.lang import BLANKS, TextLine, Token
from rigfolio.layout.shapes import (
    CIRCUIT,
    HEAD,
    LISTED,
    PART,
    PLAIN,
    RUN,
    WIRE,
    LineShape,
    fact as fact_shape,
    inner as inner_shape,
    state as state_shape,
)
from rigfolio.reading import known_word
from rigfolio.record import record

_BLANKS = re.compile(f"[{BLANKS}]+")
_CLOSE = 2
"""Characters between two figures up to which they may be one length, `2 ft 6 in`."""
_FIGURES = frozenset({"current", "power", "resistance", "rating"})


@record
class TabCell:
    """What stands in one column: its text, and the least number of blanks before it."""

    text: str
    before: int = 1


EMPTY = TabCell("")


@record
class LinePiece:
    """An item as it is to be written, with the fact it belongs to and how it joins the one before.

    `fact` is empty for the word that opens the line and for what follows it by its order.
    """

    text: str
    kind: str
    fact: str
    before: int


def pieces_of(
    text: str, line: TextLine, end: int, facts: Mapping[int, str]
) -> tuple[LinePiece, ...]:
    """The items of a line, each with the commas behind it; `facts` names the fact at a character.

    Parameters
    ----------
    text : str
        The whole text.
    line : TextLine
        The line.
    end : int
        Where its items end, and its comment or its line break begins.
    facts : mapping of int to str
        The fact that each item belongs to, by where the item starts.
    """
    stops = [*(item.span.start for item in line.items[1:]), end]
    made: list[LinePiece] = []
    for number, (item, stop) in enumerate(zip(line.items, stops, strict=True)):
        between = text[item.span.end : stop]
        shown = _BLANKS.sub(" ", text[item.span.start : item.span.end])
        if item.kind == "label":
            shown = text[item.span.start : item.span.end]
        fact = facts.get(item.span.start, "")
        before = _blanks(text, line.items, number, fact) if number else 0
        made.append(LinePiece(shown + "," * between.count(","), item.kind, fact, before))
    return tuple(made)


def _blanks(text: str, items: Sequence[Token], number: int, fact: str) -> int:
    """The least number of blanks that keeps two items what they are."""
    one, two = items[number - 1], items[number]
    between = text[one.span.end : two.span.start]
    commas = between.count(",")
    if "slash" in (one.kind, two.kind) and not commas:
        return 0 if fact == "colour" or not between else 1
    figures = {"number", "quantity"}
    is_apart = one.kind in figures and two.kind in figures and len(between) > _CLOSE
    return max(_CLOSE + 1 - commas, 1) if is_apart else 1


def joined(pieces: Sequence[LinePiece]) -> TabCell:
    """Some pieces as one cell."""
    if not pieces:
        return EMPTY
    rest = "".join(" " * piece.before + piece.text for piece in pieces[1:])
    return TabCell(pieces[0].text + rest, pieces[0].before)


@record
class LineRole:
    """What a line is: the word that its block opens with, and whether it is read as a statement."""

    header: str
    is_header: bool = False
    is_statement: bool = False
    goes_on: bool = False


def cells_of(pieces: Sequence[LinePiece], role: LineRole) -> tuple[LineShape, tuple[TabCell, ...]]:
    """The columns of a line, and a cell for each of them; the last cell stands behind them all."""
    shape = _shape(pieces, role)
    cells, at = [], 0
    for column in shape.columns:
        end = at + _length(column.name, pieces, at)
        cells.append(joined(pieces[at:end]))
        at = end
    return shape, (*cells, joined(pieces[at:]))


def _shape(pieces: Sequence[LinePiece], role: LineRole) -> LineShape:
    head = pieces[0].text.rstrip(",").casefold()
    if role.goes_on or (len(pieces) > 1 and pieces[0].text.endswith(",")):
        return PLAIN
    if role.is_header:
        return _header(head, pieces)
    if role.header == "circuit":
        return _in_circuit(head, pieces) if pieces[0].kind == "word" else PLAIN
    if role.is_statement:
        return WIRE
    return _said(pieces)


def _header(head: str, pieces: Sequence[LinePiece]) -> LineShape:
    if head == "wire":
        return WIRE
    if head == "circuit":
        return CIRCUIT
    if head == "state":
        return state_shape(sum(_opens(pieces, at) for at in range(len(pieces))))
    opening = known_word(head)[0].opening
    if opening and opening[0].startswith("<name>"):
        return PART
    return LISTED if head == "ac" else PLAIN


def _in_circuit(head: str, pieces: Sequence[LinePiece]) -> LineShape:
    if head not in ("wire", "return"):
        return inner_shape(head)
    first = next((piece.fact for piece in pieces[1:] if piece.fact not in ("", "tag")), "")
    return RUN if first in ("size", "colour", "length") else HEAD


def _said(pieces: Sequence[LinePiece]) -> LineShape:
    """A line that says facts of its header; where it says one, each item has its column."""
    if pieces[0].kind != "word" or len(pieces) < 2:
        return PLAIN
    key = pieces[0].fact
    is_one = all(piece.fact == key for piece in pieces)
    return fact_shape(key, len(pieces) if is_one else 1)


def _length(column: str, pieces: Sequence[LinePiece], at: int) -> int:
    """How many pieces from one on stand in a column."""
    if at >= len(pieces):
        return 0
    if column == "head" or column.startswith("item "):
        return 1
    if column == "opening":
        end = _while(pieces, 1, lambda piece: not piece.fact)
        return end + (end < len(pieces) and pieces[end].fact == "label")
    if column == "name" and pieces[at].fact == "tag" and pieces[at].text.casefold() != "tag":
        # A name right behind `wire` is read as its tag.
        return 1
    if column in ("name", "title"):
        return _while(pieces, at, lambda piece: not piece.fact) - at
    return _of_fact(column, pieces, at)


def _of_fact(column: str, pieces: Sequence[LinePiece], at: int) -> int:
    fact = pieces[at].fact
    whole = _while(pieces, at, lambda piece: piece.fact == fact) - at
    if column == "from":
        return 1 if fact == "run" else 0
    if column == "to":
        return whole if fact == "run" else 0
    if column == "figure":
        return whole if fact in _FIGURES else 0
    if column.startswith("set "):
        return _next_set(pieces, at) - at if fact == "set" else 0
    return whole if fact == column else 0


def _opens(pieces: Sequence[LinePiece], at: int) -> bool:
    """Whether a setting of a state starts here: a switch or source, before what it is set to."""
    return pieces[at].fact == "set" and not _is_second(pieces, at)


def _is_second(pieces: Sequence[LinePiece], at: int) -> bool:
    start = at
    while start and pieces[start - 1].fact == "set":
        start -= 1
    return (at - start) % 2 == 1


def _next_set(pieces: Sequence[LinePiece], at: int) -> int:
    return min(at + 2, _while(pieces, at, lambda piece: piece.fact == "set"))


def _while(pieces: Sequence[LinePiece], at: int, holds: Callable[[LinePiece], bool]) -> int:
    while at < len(pieces) and holds(pieces[at]):
        at += 1
    return at
