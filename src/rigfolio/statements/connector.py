"""A plug between two vehicles, pin by pin; each pin has a line and a load end."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, Said, Word, needs, problem, series_said
from rigfolio.record import replace

MOST_PINS = 120

WORD = Word(
    "connector",
    ("<name>",),
    (*facts("pins: <n pins>", "rating: of <current>"), *COMMON),
    also=("plug, socket: between two vehicles",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the plug with all its pins."""
    if needs(said, draft, "pins", "its pins, such as `7 pins`"):
        made = series_said(said, "connector")
        pins = said.count("pins")
        if pins > MOST_PINS:
            draft.found.append(
                problem(
                    "pin-count",
                    said.facts.span("pins") or said.span,
                    f"a plug of {pins} pins, {MOST_PINS} are read",
                    "count the pins again, or write two plugs",
                )
            )
        draft.series.append(replace(made, pins=min(pins, MOST_PINS)))
