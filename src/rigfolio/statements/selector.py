"""A battery selector: ends 1 and 2 for the banks, and the common end; positions 1, 2, both, off."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("selector", ("<name>",), (*SERIES, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the selector with its three ends."""
    draft.series.append(series_said(said, "selector"))
