"""The metal frame, where it carries current or bonds; without resistance where none is said."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Junction
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "chassis",
    ("<name>",),
    (*facts("rating: <current>", "ohm: <resistance>"), *COMMON),
    also=(
        "earth, ground: the frame",
        "frame: where it carries current",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the terminal that all its wires share."""
    rating_a, ohm = said.facts.number("rating"), said.facts.known("ohm")
    draft.junctions.append(Junction(said.about, "chassis", rating_a, ohm))
