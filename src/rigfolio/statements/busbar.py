"""A bar where wires meet, on the plus or the minus side; the wiring tells which."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Junction
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "busbar",
    ("<name>",),
    (*facts("rating: <current>", "ways: <n ways>"), *COMMON),
    also=(
        "earth, ground: a bar where wires meet",
        "bus, bar",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the terminal that all its wires share."""
    rating_a, ways = said.facts.number("rating"), said.count("ways")
    draft.junctions.append(Junction(said.about, "busbar", rating_a, ways=ways))
