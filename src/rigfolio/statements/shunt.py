"""A measuring shunt, most often in the minus line of the battery."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("shunt", ("<name>",), (*SERIES, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the shunt with its two ends."""
    draft.series.append(series_said(said, "shunt"))
