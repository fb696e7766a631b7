"""A mains converter or charger; its rated output limits what it can drive."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said

WORD = Word("charger", ("<name>",), (*OUTPUT, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the charger with its two output terminals."""
    draft.sources.append(source_said(said, "charger", said.facts.needed("limit")))
