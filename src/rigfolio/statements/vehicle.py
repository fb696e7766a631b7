"""The supply line of a towing vehicle; a battery stands behind it, so nothing limits it."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, Said, Word, source_said
from rigfolio.record import replace

WORD = Word(
    "vehicle",
    ("<name>",),
    (
        *facts(
            "limit: <current>",
            "volts: <voltage>",
            "internal: internal <resistance>",
            "delivers: delivers <current>",
        ),
        *COMMON,
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the supply with its two terminals."""
    given = said.facts
    supply = source_said(said, "vehicle", given.number("limit"))
    internal, short = given.number("internal"), given.number("delivers")
    draft.sources.append(replace(supply, internal_ohm=internal, short_a=short))
