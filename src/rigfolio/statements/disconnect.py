"""A battery disconnect: what lies behind it is dead when it is open."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, POLES, RESTS, SERIES, Said, Word, series_said

WORD = Word(
    "disconnect",
    ("<name>",),
    (*SERIES, *RESTS, *POLES, *COMMON),
    also=(
        "isolator, main switch, battery switch: of a battery or of all",
        "battery isolator: opened by hand",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the disconnect with its two ends, or those of each pole."""
    draft.series.append(series_said(said, "disconnect"))
