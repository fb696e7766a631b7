"""A solar charge controller; its rated output limits what it can drive."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said
from rigfolio.record import replace

WORD = Word(
    "solar",
    ("<name>",),
    (*OUTPUT, *facts("input: input <voltage>"), *COMMON),
    also=(
        "controller, regulator, mppt, pwm, "
        "solar controller, solar regulator, charge controller: "
        "the controller between modules and battery",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the controller with its two output terminals, and those for an array."""
    made = source_said(said, "solar", said.facts.needed("limit"))
    lit = (f"{said.name}.in", f"{said.name}.in-")
    draft.sources.append(replace(made, lit=lit, input_most_v=said.facts.number("input")))
