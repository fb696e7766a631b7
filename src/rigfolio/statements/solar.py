"""A solar charge controller; its rated output limits what it can drive."""

from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft
from rigfolio.model.graph import Source
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("solar", ("<name>",), (*facts("limit!: <current>", "volts: <voltage>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the controller with its two output terminals."""
    given = said.facts
    draft.sources.append(
        Source(
            about=said.about,
            kind="solar",
            plus=f"{said.name}+",
            minus=f"{said.name}-",
            voltage_v=given.known("volts") or 0.0,
            limit_a=given.needed("limit"),
        )
    )
