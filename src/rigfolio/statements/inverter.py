"""An inverter, as the load that it is on the DC side."""

from rigfolio.model.draft import Draft
from rigfolio.reading.loads import INVERTER, inverter_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("inverter", ("<name>",), (*INVERTER, *COMMON), inner=("<name>?",))


def add(said: Said, draft: Draft) -> None:
    """Add the inverter with its two terminals, for wires to land on."""
    draft.loads.append(inverter_said(said))
