"""A picture of a panel taken before the work, with a mark for each slot or wire on it."""

from rigfolio.lang import facts
from rigfolio.model import Draft, Photo, PhotoMark
from rigfolio.reading import Said, Word
from rigfolio.values import Place

WORD = Word(
    "photo",
    ("<label>",),
    facts(
        "mark*: mark <thing> at <share> <share>",
        "white: white <share> <share> to <share> <share>",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Keep the picture by the name of its file; it is opened when it is printed."""
    marks = []
    for given in said.facts.all("mark"):
        if isinstance(given.value, tuple):
            place, x, y = given.value
            if isinstance(place, Place) and isinstance(x, float) and isinstance(y, float):
                marks.append(PhotoMark(str(place), x, y, given.span))
    patch = None
    for given in said.facts.all("white"):
        if isinstance(given.value, tuple):
            sides = [value for value in given.value if isinstance(value, float)]
            if len(sides) == 4:
                patch = (sides[0], sides[1], sides[2], sides[3])
    draft.photos.append(Photo(said.name, tuple(marks), patch, said.span))
