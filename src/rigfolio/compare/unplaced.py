"""What two versions hold, whatever the file and the line that it was written in."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

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


def is_same_but_for_places(one: object, two: object) -> bool:
    """Whether `placeless` is the same of two values, told without making either.

    It ends at the first difference, where there is one.
    """
    found: dict[Span, Span] = {}
    if not _is_alike(one, two, found):
        return False
    others = [found[span] for span in sorted(found)]
    return all(before < after for before, after in pairwise(others))


def _is_alike(one: object, two: object, found: dict[Span, Span]) -> bool:
    """Whether two values are made alike; `found` are their places, those of one by the other's."""
    if isinstance(one, str | float | int | None):
        return one == two
    if isinstance(one, Span):
        return isinstance(two, Span) and found.setdefault(one, two) == two
    if isinstance(one, Place):
        return isinstance(two, Place) and str(one) == str(two)
    if isinstance(one, Record):
        if type(one) is not type(two):
            return False
        one, two = fields_of(one), fields_of(two)
    elif isinstance(one, Mapping):
        if not isinstance(two, Mapping) or one.keys() != two.keys():
            return False
        one, two = list(one.values()), [two[key] for key in one]
    if isinstance(one, tuple | list):
        return (
            isinstance(two, tuple | list)
            and len(one) == len(two)
            and all(_is_alike(*pair, found) for pair in zip(one, two, strict=True))
        )
    return one == two


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
