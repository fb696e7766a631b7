"""A battery, or a bank of equal batteries taken as one."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Source
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "battery",
    ("<name>",),
    (
        *facts(
            "chemistry: flooded|agm|gel|lithium",
            "capacity!: <charge>",
            "internal: internal <resistance>",
            "delivers: delivers <current>",
            "volts: <voltage>",
        ),
        *COMMON,
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the bank with its two posts."""
    given = said.facts
    draft.sources.append(
        Source(
            about=said.about,
            kind="battery",
            plus=f"{said.name}+",
            minus=f"{said.name}-",
            voltage_v=given.known("volts") or 0.0,
            capacity_c=given.needed("capacity"),
            internal_ohm=given.number("internal"),
            short_a=given.number("delivers"),
            chemistry=given.word("chemistry"),
        )
    )
