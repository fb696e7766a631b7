"""A relay contact between two ends; its coil is a load of its own."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, RESTS, SERIES, Said, Word, series_said

WORD = Word(
    "relay",
    ("<name>",),
    (*SERIES, *RESTS, *COMMON),
    inner=("<name>?",),
    also=("contactor, solenoid: worked by a coil",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the contact with its two ends."""
    draft.series.append(series_said(said, "relay"))
