"""What is stated of one fact in each of two versions, told apart to the last digit."""

from collections.abc import Iterator, Mapping

from rigfolio.record import record
from rigfolio.units import UNITS, is_same, show
from rigfolio.wording import DIGITS, length_words

_MOST_DIGITS = 10


@record
class StatedFigure:
    """A figure in SI units, and the unit that it is told in; `ft` stands for feet and inches."""

    value: float
    unit: str

    def words(self, digits: int = DIGITS) -> str:
        """The figure as it is told."""
        if self.unit == "ft" and digits == DIGITS:
            return length_words(self.value, imperial=True)
        if self.unit in UNITS:
            return show(self.value, self.unit, digits)
        return f"{self.value:.{digits}g} {self.unit}".rstrip()


Stated = str | StatedFigure | tuple[StatedFigure, ...]
Said = Mapping[str, Stated]
"""Facts by name; what is not stated is left out, or empty words."""


def in_words(stated: Stated, digits: int = DIGITS) -> str:
    """A fact as it is told: words, a figure, or several figures."""
    if isinstance(stated, str):
        return stated
    figures = stated if isinstance(stated, tuple) else (stated,)
    return " by ".join(one.words(digits) for one in figures)


def unlike(before: Said, after: Said) -> Iterator[tuple[str, str, str]]:
    """Name, later and former words of every fact that is not the same.

    30 cm is 0.3 m; 12.84 V is not 12.8 V, and is written so that it can be seen.

    Examples
    --------
    >>> was, now = StatedFigure(12.8, "V"), StatedFigure(12.84, "V")
    >>> list(unlike({"volts": was}, {"volts": now, "note": "new"}))
    [('volts', '12.84 V', '12.8 V'), ('note', 'new', '')]
    >>> list(unlike({"length": StatedFigure(0.1 + 0.2, "m")}, {"length": StatedFigure(0.3, "m")}))
    []
    """
    for name in dict.fromkeys((*after, *before)):
        was, now = before.get(name, ""), after.get(name, "")
        if was != now and not _is_one(was, now):
            yield name, *_apart(now, was)


def _is_one(one: Stated, two: Stated) -> bool:
    if isinstance(one, str) or isinstance(two, str):
        return one == two
    first = one if isinstance(one, tuple) else (one,)
    second = two if isinstance(two, tuple) else (two,)
    return len(first) == len(second) and all(
        a.unit == b.unit and is_same(a.value, b.value) for a, b in zip(first, second, strict=True)
    )


def _apart(one: Stated, two: Stated) -> tuple[str, str]:
    """Both in words, with as many digits as tell them apart."""
    for digits in range(DIGITS, _MOST_DIGITS + 1):
        pair = in_words(one, digits), in_words(two, digits)
        if pair[0] != pair[1]:
            break
    return pair
