"""Where the links of pages stand and where they lead, in millimetres from the top left corner."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import Box
from rigfolio.draw.page import Circle, Group, Line, Page, Picture, Text, flat, groups

_AIR_MM = 0.6


def link_areas(page: Page) -> Iterator[tuple[Box, Group]]:
    """Left, top, right and bottom of each link [mm], and the group that leads somewhere.

    A link is as large as the words of its group, and without words there is none: a wire that
    winds about the page is pressed at its name only.
    """
    for group in groups(page.marks):
        box = _extent(group) if group.goes_to and _has_words(group) else None
        if box is not None:
            left, top, right, bottom = box
            yield (left - _AIR_MM, top - _AIR_MM, right + _AIR_MM, bottom + _AIR_MM), group


def link_goals(pages: Iterable[Page]) -> frozenset[str]:
    """Every identifier that a link of these pages leads to."""
    return frozenset(g.goes_to for page in pages for g in groups(page.marks) if g.goes_to)


def link_places(pages: Sequence[Page], wanted: Collection[str]) -> Mapping[str, tuple[int, Box]]:
    """Page, from 0, and box [mm] of each wanted group; the first one where several share a name.

    What has words comes before what is drawn without any.
    """
    found: dict[str, tuple[int, Box]] = {}
    wordless: dict[str, tuple[int, Box]] = {}
    for number, page in enumerate(pages):
        for group in groups(page.marks):
            if group.ident not in wanted or group.ident in found:
                continue
            box = _extent(group)
            if box is None:
                continue
            (found if _has_words(group) else wordless).setdefault(group.ident, (number, box))
    return {**wordless, **found}


def _has_words(group: Group) -> bool:
    return any(isinstance(mark, Text) for mark in flat(group.marks))


def _extent(group: Group) -> Box | None:
    """Box about the words of a group, or about its strokes where it has no words."""
    marks = tuple(flat(group.marks))
    boxes = [text_box(mark) for mark in marks if isinstance(mark, Text)]
    boxes = boxes or [box for box in map(_box, marks) if box is not None]
    if not boxes:
        return None
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _box(mark: Line | Circle | Text | Picture) -> Box | None:
    match mark:
        case Picture():
            x, y = mark.at
            return x, y, x + mark.width_mm, y + mark.height_mm
        case Line():
            if not mark.points:
                return None
            across, down = zip(*mark.points, strict=True)
            return min(across), min(down), max(across), max(down)
        case Circle():
            (x, y), r = mark.centre, mark.radius_mm
            return x - r, y - r, x + r, y + r
        case Text():
            return text_box(mark)
