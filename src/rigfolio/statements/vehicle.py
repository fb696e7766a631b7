"""The supply line of a towing vehicle: a battery stands behind it, so it has no limit of its own."""

from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft
from rigfolio.model.graph import Source
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("vehicle", ("<name>",), (*facts("limit: <current>", "volts: <voltage>"), *COMMON))


def add(said: Said, draft: Draft) -> None:
    """Add the supply with its two terminals."""
    given = said.facts
    draft.sources.append(
        Source(
            about=said.about,
            kind="vehicle",
            plus=f"{said.name}+",
            minus=f"{said.name}-",
            voltage_v=given.known("volts") or 0.0,
            limit_a=given.number("limit"),
        )
    )
