"""A mains converter or charger; its rated output limits what it can drive."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said
from rigfolio.record import replace

WORD = Word(
    "charger",
    ("<name>",),
    (*OUTPUT, *facts("outputs: two outputs"), *COMMON),
    also=(
        "converter, transformer: fed by the mains",
        "mains, shore: what they charge by",
        "genset, generator: what it charges by",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the charger with its two terminals; one for two banks has a plus for each of them."""
    made = source_said(said, "charger", said.facts.needed("limit"))
    if not said.facts.has("outputs"):
        draft.sources.append(made)
        return
    for number in (1, 2):
        end = f"{said.name}.{number}"
        about = replace(said.about, name=end)
        draft.sources.append(replace(made, about=about, plus=end, unit=said.name))
