"""A relay that joins two banks while one of them is charged: ends 1 and 2."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, SERIES, Said, Word, series_said

WORD = Word(
    "combiner",
    ("<name>",),
    (*SERIES, *COMMON),
    also=("battery isolator, contactor, solenoid: joins banks by itself",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the relay with its two ends."""
    draft.series.append(series_said(said, "combiner"))
