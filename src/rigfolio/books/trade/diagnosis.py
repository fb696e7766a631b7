"""Where a search for a fault starts: weights of faults, errors of meters, what people see."""

import re
from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import Table, number, source_of, table, texts
from rigfolio.findings import Citation

_FILE = Path(__file__).parent / "diagnosis.toml"


@cache
def _data() -> Table:
    return read_toml(_FILE)


@cache
def figure(group: str, key: str) -> float:
    """A figure as it is written in the table: shares [-], `volt` [V], `_w` [W], `mohm` [mohm].

    Examples
    --------
    >>> figure("meter", "share"), figure("weight", "joint")
    (0.005, 1.0)

    Raises
    ------
    KeyError
        There is none.
    """
    return number(table(_data(), group), key)


def meter_volt(volts: float, *, fine: bool) -> float:
    """How far a meter may be off at some voltage [V]; `fine` is its range of millivolts.

    Examples
    --------
    >>> meter_volt(12.0, fine=False), meter_volt(-0.4, fine=True)
    (0.08, 0.004)
    """
    return figure("meter", "share") * abs(volts) + figure("meter", "volt") / (10.0 if fine else 1.0)


@cache
def origin(group: str) -> Citation:
    """Where the figures of a group come from.

    Raises
    ------
    KeyError
        There is no such group.
    """
    return source_of(table(_data(), group))


@cache
def spoken() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each symptom with what people say for it; `everything` with their words for all loads.

    Examples
    --------
    >>> dict(spoken())["slow"][0]
    'slow'
    """
    group = table(_data(), "said")
    kinds = [key for key in group if key not in ("source", "status")]
    return tuple((kind, texts(group, kind)) for kind in kinds)


@cache
def _meant() -> dict[str, str]:
    said = (pair for pair in spoken() if pair[0] != "everything")
    return {word.casefold(): kind for kind, words in said for word in words}


def symptom_of(words: str) -> str:
    """The symptom that is meant by what people say.

    Examples
    --------
    >>> symptom_of("Does not  work")
    'dead'

    Raises
    ------
    KeyError
        Nobody says so.
    """
    return _meant()[" ".join(words.casefold().split())]


def is_overnight(words: str) -> bool:
    """Whether what is said of a battery says that it empties while nothing is on.

    Examples
    --------
    >>> is_overnight("B1 flat in the morning"), is_overnight("B1 is flat")
    (True, False)
    """
    said = " ".join(words.casefold().split())
    return any(each in said for each in texts(table(_data(), "overnight"), "words"))


@cache
def symptom_words() -> re.Pattern[str]:
    """Any of the words that are said for a symptom, the longest that fits at a place."""
    by_length = sorted(_meant(), key=len, reverse=True)
    words = "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in by_length)
    return re.compile(rf"(?<!\w)(?:{words})(?!\w)", re.IGNORECASE)
