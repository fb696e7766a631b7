"""A switch for a load, in the line of a circuit or between two wires."""

from rigfolio.model.draft import Draft
from rigfolio.reading.series import SERIES, series_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("switch", ("<name>",), (*SERIES, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the switch with its two ends."""
    draft.series.append(series_said(said, "switch"))
