"""A remark or a condition on anything that has a name: a part, a slot, a wire."""

from rigfolio.lang import facts
from rigfolio.model import Draft, NoteSaid
from rigfolio.reading import CONDITION, Said, Word, needs

WORD = Word(
    "note",
    ("<thing>",),
    facts("text: <label>", CONDITION),
    also=("remark, comment",),
)


def add(said: Said, draft: Draft) -> None:
    """Keep the remark until all names are known."""
    given = said.facts
    if not given.has("text") and not given.has("condition"):
        needs(said, draft, "text", "what there is to say, such as `loose`")
        return
    draft.notes.append(NoteSaid(said.place, given.word("text"), given.word("condition"), said.span))
