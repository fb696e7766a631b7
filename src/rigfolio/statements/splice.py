"""A joint on the way: a crimp, a terminal strip, a taped-off end."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Junction
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "splice",
    ("<name>",),
    (*facts("rating: <current>"), *COMMON),
    also=("joint, junction",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the terminal that all its wires share."""
    draft.junctions.append(Junction(said.about, "splice", said.facts.number("rating")))
