"""Read a part of the rig, or the type that it is a unit of, from another file."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import Said, Word

WORD = Word(
    "include",
    ("<label>",),
    facts("thing*: except <thing>", "head: except rig", "title*: except <label>"),
)


def add(said: Said, draft: Draft) -> None:
    """Nothing: the files are read, and what is excepted is left out, before the statements are."""
