"""A wind turbine with its rectifier and regulator; its rated output limits what it can drive."""

from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said

WORD = Word(
    "turbine",
    ("<name>",),
    (*OUTPUT, *COMMON),
    also=(
        "wind, wind turbine, wind generator, windmill, wind charger, wind regulator, "
        "wind controller: turned by the wind, with its rectifier and regulator",
        "generator: turned by the wind",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the turbine with the two terminals of its output."""
    draft.sources.append(source_said(said, "turbine", said.facts.needed("limit")))
