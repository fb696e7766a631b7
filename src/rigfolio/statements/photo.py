"""A picture of a panel taken before the work, with a mark for each slot or wire on it."""

from rigfolio.calc import COLUMNS, ROWS, GridField, grid_field
from rigfolio.findings import Span
from rigfolio.lang import facts
from rigfolio.model import Draft, Photo, PhotoMark
from rigfolio.reading import Said, Word, problem
from rigfolio.values import Place

WORD = Word(
    "photo",
    ("<label>",),
    facts(
        "mark*: mark <thing> at <share> <share>",
        "on_grid*: mark <thing> at <place>",
        "in_pixels*: mark <thing> at <n px> <n px>",
        "white: white <share> <share> to <share> <share>",
        "white_fields: white <place> to <place>",
    ),
    also=("picture",),
)
_FIX = (
    f"a field of the grid is a letter {COLUMNS[0]} to {COLUMNS[-1]} and a number 1 to {ROWS}, "
    "`C4`, or a ninth of it, `C4.7`; `rigfolio photo FILE --form grid` prints it"
)


def add(said: Said, draft: Draft) -> None:
    """Keep the picture by the name of its file; it is opened when it is printed."""
    marks = sorted(_marks(said, draft), key=lambda mark: mark.span.start)
    draft.photos.append(Photo(said.name, tuple(marks), _white(said, draft), said.span))


def _marks(said: Said, draft: Draft) -> list[PhotoMark]:
    marks = []
    for key in ("mark", "in_pixels"):
        for given in said.facts.all(key):
            if isinstance(given.value, tuple):
                place, x, y = given.value
                if isinstance(place, Place) and isinstance(x, float) and isinstance(y, float):
                    is_pixels = key == "in_pixels"
                    marks.append(PhotoMark(str(place), x, y, given.span, is_pixels))
    for given in said.facts.all("on_grid"):
        if isinstance(given.value, tuple):
            place, at = given.value
            field = _field(at, given.span, draft)
            if isinstance(place, Place) and field is not None:
                marks.append(PhotoMark(str(place), *field.middle, given.span))
    return marks


def _white(said: Said, draft: Draft) -> tuple[float, float, float, float] | None:
    """Two corners of something white, by shares or by the fields that it covers."""
    for given in said.facts.all("white"):
        if isinstance(given.value, tuple):
            sides = [value for value in given.value if isinstance(value, float)]
            if len(sides) == 4:
                return sides[0], sides[1], sides[2], sides[3]
    for given in said.facts.all("white_fields"):
        if isinstance(given.value, tuple):
            one, two = (_field(at, given.span, draft) for at in given.value)
            if one is not None and two is not None:
                return (
                    min(one.left, two.left), min(one.top, two.top),
                    max(one.left + one.wide, two.left + two.wide),
                    max(one.top + one.high, two.top + two.high),
                )  # fmt: skip
    return None


def _field(at: object, span: Span, draft: Draft) -> GridField | None:
    """A field of the grid; an error of the text is noted where it is none."""
    found = grid_field(str(at)) if isinstance(at, Place) else None
    if found is None:
        shown = str(at) if isinstance(at, Place) else "?"
        draft.found.append(
            problem("field-not-on-grid", span, f"`{shown}` is no field of the grid", _FIX)
        )
    return found
