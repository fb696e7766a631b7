"""Read a part of the rig from another file, found beside this one or in a folder below it."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import Said, Word

WORD = Word("include", ("<label>",), facts())


def add(said: Said, draft: Draft) -> None:
    """Nothing: the files are read before the statements are."""
