"""A named state of the rig: which switches are open, which sources are off."""

from rigfolio.lang import facts
from rigfolio.model import Draft, State
from rigfolio.reading import Said, Word
from rigfolio.values import Place

WORD = Word(
    "state",
    ("<title>",),
    facts("set*: <place> open|closed|on|off|both|1|2", "note: note <label>"),
)


def add(said: Said, draft: Draft) -> None:
    """Add the state with its settings."""
    settings: list[tuple[str, str]] = []
    places: list[Place] = []
    for given in said.facts.all("set"):
        if isinstance(given.value, tuple):
            place, word = given.value
            if isinstance(place, Place) and isinstance(word, str):
                settings.append((str(place), word))
                places.append(place)
    state = State(said.name, tuple(settings), said.span, said.facts.word("note"))
    draft.states.append((state, tuple(places)))
