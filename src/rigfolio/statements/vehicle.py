"""The supply line of a towing vehicle; a battery stands behind it, so nothing limits it."""

from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft
from rigfolio.reading.sources import source_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("vehicle", ("<name>",), (*facts("limit: <current>", "volts: <voltage>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the supply with its two terminals."""
    draft.sources.append(source_said(said, "vehicle", said.facts.number("limit")))
