"""A solar charge controller; its rated output limits what it can drive."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said

WORD = Word("solar", ("<name>",), (*OUTPUT, *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the controller with its two output terminals."""
    draft.sources.append(source_said(said, "solar", said.facts.needed("limit")))
