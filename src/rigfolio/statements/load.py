"""A consumer: what it draws, how it runs, what it must not go without."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, LOAD, Said, Word, load_problems, load_said

WORD = Word(
    "load",
    ("<name>",),
    (*LOAD, *COMMON),
    inner=(),
    also=(
        "plug, socket, outlet: of what is plugged in",
        "lamp, lamps, light, lights, pump, fan, fridge, appliance, consumer: "
        "inside the circuit that feeds it",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the load with its two terminals, for wires to land on."""
    draft.found += load_problems(said)
    draft.loads.append(load_said(said))
