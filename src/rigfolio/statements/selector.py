"""A battery selector: ends 1 and 2 for the banks, and the common end; positions 1, 2, both, off."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, SERIES, Said, Word, series_said

WORD = Word(
    "selector",
    ("<name>",),
    (*SERIES, *COMMON),
    also=("isolator, main switch, battery switch: of banks",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the selector with its three ends."""
    draft.series.append(series_said(said, "selector"))
