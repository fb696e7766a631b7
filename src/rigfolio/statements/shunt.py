"""A measuring shunt, most often in the minus line of the battery."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, SERIES, Said, Word, series_said

WORD = Word("shunt", ("<name>",), (*SERIES, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the shunt with its two ends."""
    draft.series.append(series_said(said, "shunt"))
