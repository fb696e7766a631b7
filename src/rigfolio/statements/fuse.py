"""A fuse of its own, not in a panel; `on B1+` where it sits on a battery post."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import FAMILY, INTERRUPTS, SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("fuse", ("<name>",), (*SERIES, *INTERRUPTS, *FAMILY, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the fuse with its two ends."""
    draft.series.append(series_said(said, "fuse"))
