"""An engine alternator; its rated output limits what it can drive."""

from rigfolio.model.draft import Draft
from rigfolio.reading.sources import OUTPUT, source_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("alternator", ("<name>",), (*OUTPUT, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the alternator with its two terminals."""
    draft.sources.append(source_said(said, "alternator", said.facts.needed("limit")))
