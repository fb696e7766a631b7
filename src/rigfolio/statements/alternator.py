"""An engine alternator; its rated output limits what it can drive."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said

WORD = Word(
    "alternator",
    ("<name>",),
    (*OUTPUT, *COMMON),
    also=("genset, generator: of an engine",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the alternator with its two terminals."""
    draft.sources.append(source_said(said, "alternator", said.facts.needed("limit")))
