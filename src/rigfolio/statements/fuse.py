"""A fuse of its own, not in a panel; `on B1+` where it sits on a battery post."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, FAMILY, FOUND, INTERRUPTS, SERIES, Said, Word, series_said

WORD = Word(
    "fuse", ("<name>",), (*SERIES, *INTERRUPTS, *FOUND, *FAMILY, *COMMON), inner=("<name>?",)
)


def add(said: Said, draft: Draft) -> None:
    """Add the fuse with its two ends."""
    draft.series.append(series_said(said, "fuse"))
