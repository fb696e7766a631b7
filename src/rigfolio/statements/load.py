"""A consumer: what it draws, how it runs, what it must not go without."""

from rigfolio.model.draft import Draft
from rigfolio.reading.loads import LOAD, load_problems, load_said
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word("load", ("<name>",), (*LOAD, *COMMON), inner=())


def add(said: Said, draft: Draft) -> None:
    """Add the load with its two terminals, for wires to land on."""
    draft.found += load_problems(said)
    draft.loads.append(load_said(said))
