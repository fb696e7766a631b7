"""What two versions hold, whatever the file and the line that it was written in."""

from collections.abc import Iterator, Mapping

from rigfolio.findings import Span
from rigfolio.record import Record, fields_of
from rigfolio.values import Place


def placeless(value: object) -> object:
    """A value with every place in the text replaced by its turn among all places within it.

    Where this is the same of two versions they differ in nothing, and whatever is put into the
    order of the text comes in the same order in both.
    """
    turns = {span: turn for turn, span in enumerate(sorted(set(_spans(value))))}
    return _without(value, turns)


def _spans(value: object) -> Iterator[Span]:
    if isinstance(value, Span):
        yield value
    elif isinstance(value, Record) and not isinstance(value, Place):
        for field in fields_of(value):
            yield from _spans(field)
    elif isinstance(value, tuple | list):
        for each in value:
            yield from _spans(each)
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _spans(each)


def _without(value: object, turns: Mapping[Span, int]) -> object:
    if isinstance(value, str | float | int | None):
        return value
    if isinstance(value, Span):
        return turns[value]
    if isinstance(value, Place):
        return str(value)
    if isinstance(value, Record):
        return (type(value), *[_without(field, turns) for field in fields_of(value)])
    if isinstance(value, tuple | list):
        return tuple([_without(each, turns) for each in value])
    if isinstance(value, Mapping):
        return {key: _without(each, turns) for key, each in value.items()}
    return value
