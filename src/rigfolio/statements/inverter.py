"""An inverter, as the load that it is on the DC side."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, INVERTER, Said, Word, inverter_said, load_problems

WORD = Word(
    "inverter",
    ("<name>",),
    (*INVERTER, *COMMON),
    inner=("<name>?",),
    also=("converter: from the battery to mains voltage",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the inverter with its two terminals, for wires to land on."""
    draft.found += load_problems(said)
    draft.loads.append(inverter_said(said))
