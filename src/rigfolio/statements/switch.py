"""A switch for a load, in the line of a circuit or between two wires."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, POLES, RESTS, SERIES, Said, Word, series_said

# Inside a circuit there is one way to open.
_INNER = (*SERIES, *RESTS, *COMMON)
WORD = Word(
    "switch",
    ("<name>",),
    (*_INNER, *POLES),
    inner=("<name>?",),
    inner_takes=_INNER,
    also=("isolator, main switch, battery switch: of a load",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the switch with its two ends, or those of each pole."""
    draft.series.append(series_said(said, "switch"))
