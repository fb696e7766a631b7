"""The metal frame, where it carries current or bonds; taken to have no resistance."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Junction
from rigfolio.reading import COMMON, Said, Word

WORD = Word("chassis", ("<name>",), (*facts("rating: <current>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the terminal that all its wires share."""
    draft.junctions.append(Junction(said.about, "chassis", said.facts.number("rating")))
