"""A breaker of its own, not in a panel."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, FOUND, INTERRUPTS, RESETS, SERIES, Said, Word, series_said

WORD = Word(
    "breaker", ("<name>",), (*SERIES, *INTERRUPTS, *FOUND, *RESETS, *COMMON), inner=("<name>?",)
)


def add(said: Said, draft: Draft) -> None:
    """Add the breaker with its two ends."""
    draft.series.append(series_said(said, "breaker"))
