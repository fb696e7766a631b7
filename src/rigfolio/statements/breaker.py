"""A breaker of its own, not in a panel."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import INTERRUPTS, SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("breaker", ("<name>",), (*SERIES, *INTERRUPTS, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the breaker with its two ends."""
    draft.series.append(series_said(said, "breaker"))
