"""A slot without a circuit: spare for a later one, or blank with nothing behind it."""

from rigfolio.lang import facts
from rigfolio.model import Draft, SlotSaid
from rigfolio.reading import Said, Word, needs

WORD = Word("slot", ("<place>",), facts("use: spare|blank", "label: <label>"))


def add(said: Said, draft: Draft) -> None:
    """Keep the slot."""
    if needs(said, draft, "use", "`spare` or `blank`"):
        use = said.facts.word("use")
        draft.slots.append(
            SlotSaid(
                said.place, "spare" if use == "spare" else "blank", said.span,
                said.facts.word("label"),
            )
        )  # fmt: skip
