"""What series devices say: what they interrupt, their family, where they sit."""

from rigfolio.lang import facts
from rigfolio.model import SeriesSaid
from rigfolio.reading.wiring import FAMILIES
from rigfolio.reading.word import Said
from rigfolio.values import Place

SERIES = facts("rating!: <current>", "on: on <place>")
"""What may be said of any device with two ends."""

FOUND = facts("found: found <current>")
"""What more may be said of one that guards: the rating that was found there."""

RESTS = facts("rests: rests open|closed")
"""What more may be said of a switch, a disconnect or a contact."""

POSITIONS = facts(
    "rests: rests 1|2|off", "centre: centre off", "first: 1 <label>", "second: 2 <label>"
)
"""What more may be said of a switch that makes one of several ways."""

POLES = facts("poles: two poles")
"""What more may be said of one that a hand opens."""

RESETS = facts("resets: resets by itself")
"""What more may be said of a breaker."""

INTERRUPTS = facts("interrupts: interrupts <current>")
"""What more may be said of one that opens by itself."""

FAMILY = facts(f"family: {FAMILIES}")
"""The make of a fuse."""


def series_said(said: Said, kind: str) -> SeriesSaid:
    """The device that a line describes."""
    given = said.facts
    on = given.place("on")
    return SeriesSaid(
        about=said.about,
        kind=kind,
        rating_a=given.needed("rating"),
        rating_span=given.span("rating"),
        interrupts_a=given.number("interrupts"),
        resets_itself=given.has("resets"),
        family=given.word("family").replace("-", " "),
        on=on if isinstance(on, Place) else None,
        poles=2 if given.has("poles") else 0,
        rests=given.word("rests"),
        found_a=given.number("found"),
        called=(given.word("first"), given.word("second")),
        turns_off=given.has("centre") or given.word("rests") == "off",
    )
