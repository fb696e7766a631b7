"""A joint on the way: a crimp, a terminal strip, a taped-off end."""

from rigfolio.lang.fact import facts
from rigfolio.model.draft import Draft
from rigfolio.model.graph import Junction
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("splice", ("<name>",), (*facts("rating: <current>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the terminal that all its wires share."""
    draft.junctions.append(Junction(said.about, "splice", said.facts.number("rating")))
