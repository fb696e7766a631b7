"""A battery, or a bank of equal batteries taken as one."""

from rigfolio.books import marine_over_cold
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
            "cold: cold cranking <current>",
            "marine: marine cranking <current>",
            "lasting: gives <current> for hours",
            "own_guard: cuts off above <current>",
            "cold_limit: no charge below <temperature>",
        ),
        *COMMON,
    ),
    also=("bank",),
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
            cranking_a=_cranking_a(said),
            hours_a=given.known("lasting"),
            cut_off_a=given.known("own_guard"),
            charge_least_c=given.known("cold_limit"),
        )
    )


def _cranking_a(said: Said) -> float | None:
    """The cranking current when cold, worked out from that at 0 °C where only that is said [A]."""
    cold, marine = said.facts.known("cold"), said.facts.known("marine")
    return marine / marine_over_cold().value if cold is None and marine is not None else cold
