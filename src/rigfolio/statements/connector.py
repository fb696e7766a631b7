"""A plug between two vehicles, pin by pin; each pin has a line and a load end."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, Said, Word, needs, series_said
from rigfolio.record import replace

WORD = Word("connector", ("<name>",), (*facts("pins: <n pins>", "rating: of <current>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the plug with all its pins."""
    if needs(said, draft, "pins", "its pins, such as `7 pins`"):
        made = series_said(said, "connector")
        draft.series.append(replace(made, pins=said.count("pins")))
