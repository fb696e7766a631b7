"""Kinds of fuse that break a current, in words."""

from collections.abc import Iterable

from rigfolio.books import fuse_families, fuse_series, interrupt_a
from rigfolio.model import Device
from rigfolio.protection.ways_out import joined_words
from rigfolio.units import show


def kinds_that_break(current_a: float, volts: float, devices: Iterable[Device]) -> str:
    """The kinds that break a current at a voltage, with the ratings that they come in.

    Only those that come as small and as large as the devices in whose place they are to stand;
    empty where none does.
    """
    ratings = [one.rating_a for one in devices if isinstance(one.rating_a, float)]
    words = []
    for family in fuse_families():
        figure = interrupt_a(family, volts)
        if figure is not None and figure.value >= current_a:
            series = fuse_series(family)
            if any(not series[0] <= rating_a <= series[-1] for rating_a in ratings):
                continue
            span = f"{show(series[0], 'A')} to {show(series[-1], 'A')}"
            words.append(f"`{family.replace(' ', '-')}` ({span})")
    return joined_words(words) if words else ""
