"""Statements that were read before: the same words mean the same at every place of a text.

A way out that is tried, or a key stroke in an editor, changes one statement of a text; all the
others were read a moment ago.
"""

from collections.abc import Hashable

from rigfolio.findings import Span
from rigfolio.lang import Block, Facts, Given, One, Value
from rigfolio.reading.word import Said
from rigfolio.record import replace
from rigfolio.values import Place

MOST = 10_000
"""Statements that are kept."""

_KEPT: dict[Hashable, tuple[Span, Said]] = {}


def words_of(block: Block) -> Hashable:
    """All that a statement is read from: its words, and where they stand from its first one."""
    start = block.header.span.start
    return tuple(
        [
            (line.indent, line.is_cut)
            if item is None
            else (item.kind, item.text, item.unit, item.span.start - start, item.span.end - start)
            for line in (block.header, *block.body)
            for item in (None, *line.items)
        ]
    )


def keep(words: Hashable, block: Block, said: Said) -> None:
    """Keep what a block of these words says; the one kept longest makes room."""
    if len(_KEPT) >= MOST:
        del _KEPT[next(iter(_KEPT))]
    _KEPT[words] = block.header.span, said


def kept(words: Hashable, block: Block) -> Said | None:
    """What a block of these words says at its place; None where none was read before."""
    found = _KEPT.get(words)
    if found is None:
        return None
    place, said = found
    here = block.header.span
    if (here.file, here.start) == (place.file, place.start):
        return said
    return _moved(said, here.file, here.start - place.start)


def _moved(said: Said, file: str, by: int) -> Said:
    given = {
        key: tuple([_given(one, file, by) for one in values])
        for key, values in said.facts.given.items()
    }
    return Said(
        said.word,
        tuple([_one(value, by) for value in said.opening]),
        Facts(given),
        _span(said.span, file, by),
        tuple([_moved(inner, file, by) for inner in said.inside]),
    )


def _given(given: Given, file: str, by: int) -> Given:
    return Given(_value(given.value, by), _span(given.span, file, by), given.unit)


def _span(span: Span, file: str, by: int) -> Span:
    return Span(file, span.start + by, span.end + by)


def _value(value: Value, by: int) -> Value:
    return tuple([_one(one, by) for one in value]) if isinstance(value, tuple) else _one(value, by)


def _one(value: One, by: int) -> One:
    if isinstance(value, Place) and value.start >= 0:
        return replace(value, start=value.start + by, end=value.end + by)
    return value
