"""An AC breaker, listed by name and rating so that the directory is complete; never judged."""

from rigfolio.lang import facts
from rigfolio.model import AcBreaker, Draft
from rigfolio.reading import Said, Word

WORD = Word(
    "ac",
    ("<label>",),
    facts("rating!: <current>"),
    also=("mains, shore: a breaker of the mains",),
)


def add(said: Said, draft: Draft) -> None:
    """List the breaker."""
    draft.ac.append(AcBreaker(said.name, said.facts.number("rating"), said.span))
