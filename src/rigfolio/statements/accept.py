"""A finding that is known and left for a stated reason, by its rule and the part it is found at."""

from rigfolio.lang import facts
from rigfolio.model import Acceptance, Draft
from rigfolio.reading import Said, Word, needs
from rigfolio.values import Place

WORD = Word(
    "accept",
    ("<name>",),
    facts("at: at <thing>", "reason: <label>", "date: <date>"),
)


def add(said: Said, draft: Draft) -> None:
    """Keep what is accepted, where, why and since when; all of it has to be said."""
    given = said.facts
    place = next((one.value for one in given.all("at")), None)
    needed = (
        needs(said, draft, "at", "where it is found, such as `at P1.3`"),
        needs(said, draft, "reason", 'why, such as `"new fan comes in May"`'),
        needs(said, draft, "date", "since when, such as `2026-03-14`"),
    )
    if all(needed) and isinstance(place, Place):
        draft.accepted.append(
            Acceptance(
                said.name.casefold(), str(place), given.word("reason"), given.word("date"),
                said.span,
            )
        )  # fmt: skip
