"""A switch for a load, in the line of a circuit or between two wires."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, SERIES, Said, Word, series_said

WORD = Word("switch", ("<name>",), (*SERIES, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the switch with its two ends."""
    draft.series.append(series_said(said, "switch"))
