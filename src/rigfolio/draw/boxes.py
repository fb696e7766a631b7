"""The room that marks take."""

from collections.abc import Iterable, Iterator

from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import Box
from rigfolio.draw.page import Circle, Line, Mark, Picture, Text, flat


def boxes_of(marks: Iterable[Mark]) -> Iterator[Box]:
    """Left, top, right, bottom of each mark."""
    for mark in flat(marks):
        match mark:
            case Text():
                yield text_box(mark)
            case Circle():
                (x, y), r = mark.centre, mark.radius_mm
                yield x - r, y - r, x + r, y + r
            case Line():
                half = mark.pen.width_mm / 2 if mark.pen else 0.0
                # Most lines have two ends.
                if len(mark.points) == 2:
                    (x, y), (x2, y2) = mark.points
                    yield min(x, x2), min(y, y2) - half, max(x, x2), max(y, y2) + half
                    continue
                across, down = zip(*mark.points, strict=True)
                yield min(across), min(down) - half, max(across), max(down) + half
            case Picture():
                pass
