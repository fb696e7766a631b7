"""A battery disconnect: what lies behind it is dead when it is open."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("disconnect", ("<name>",), (*SERIES, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the disconnect with its two ends."""
    draft.series.append(series_said(said, "disconnect"))
