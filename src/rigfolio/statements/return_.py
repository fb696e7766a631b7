"""How a circuit comes back: by its own wire, to a bar or a frame, or not surveyed yet."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import CONDUCTOR, Said, Word, problem

WORD = Word("return", (), (*facts("to: to <place>"), *CONDUCTOR))


def add(said: Said, draft: Draft) -> None:
    """Refuse: a return belongs to a circuit."""
    draft.found.append(
        problem(
            "not-inside",
            said.span,
            "`return` stands only inside `circuit`",
            "indent it below its circuit, or write a `wire`",
        )
    )
