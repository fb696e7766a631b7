"""Kinds of fuse that break a current, in words."""

from rigfolio.books import fuse_families, fuse_series, interrupt_a
from rigfolio.protection.ways_out import joined_words
from rigfolio.units import show


def kinds_that_break(current_a: float, volts: float) -> str:
    """The kinds that break a current at a voltage, with the ratings that they come in.

    Empty where none does.
    """
    words = []
    for family in fuse_families():
        figure = interrupt_a(family, volts)
        if figure is not None and figure.value >= current_a:
            series = fuse_series(family)
            span = f"{show(series[0], 'A')} to {show(series[-1], 'A')}"
            words.append(f"`{family.replace(' ', '-')}` ({span})")
    return joined_words(words) if words else ""
