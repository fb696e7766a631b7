"""A switch that makes one of two ways at a time: its common end, an end for each position."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, POSITIONS, Said, Word, series_said

_TAKES = (*facts("rating!: <current>"), *POSITIONS, *COMMON)
WORD = Word(
    "changeover",
    ("<name>",),
    _TAKES,
    inner=("<name>",),
    inner_takes=_TAKES,
    also=("two-way switch, spdt, three-position switch: of which one position is made at a time",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the switch with its three ends."""
    draft.series.append(series_said(said, "changeover"))
