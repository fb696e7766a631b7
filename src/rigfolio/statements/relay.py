"""A relay contact between two ends; its coil is a load of its own."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("relay", ("<name>",), (*SERIES, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the contact with its two ends."""
    draft.series.append(series_said(said, "relay"))
