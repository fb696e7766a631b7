"""Rungs as marks: pieces in a row with the thin line between them; each at height 0."""

from collections.abc import Iterator, Sequence

from rigfolio.draw import STROKE, Line, Mark, Point
from rigfolio.model import Conductor
from rigfolio.schematic.chains import Piece
from rigfolio.schematic.painting.ends import EndPainter
from rigfolio.schematic.painting.pieces import PiecePainter
from rigfolio.schematic.painting.placement import Placement
from rigfolio.schematic.painting.wires import ASSUMED
from rigfolio.schematic.setting import HALF_MM, Course, Extent, Stop, is_pin, packed

HOP_MM = 1.7
"""How high a rung hops over a bar that is not its own."""
_AFTER_HOP_MM = 3.0
_BOW = ((-1.0, 0.0), (-0.92, 0.38), (-0.71, 0.71), (-0.38, 0.92), (0.0, 1.0), (0.38, 0.92),
        (0.71, 0.71), (0.92, 0.38), (1.0, 0.0))  # fmt: skip


class RungPainter:
    """Draws the rungs of one page at height 0."""

    def __init__(self, place: Placement) -> None:
        self.place = place
        self.pieces = PiecePainter(place.ruler)
        self.ends = EndPainter(place.ruler.speaker)

    def rung(self, course: Course) -> tuple[Mark, ...]:
        """All marks of a rung, thin lines first."""
        at = self.place.columns.at
        points = [at[key] for key in course.points]
        rooms = course.rooms
        marks: list[Mark] = []
        left = points[0] + self.place.half(course.laid.left)
        first = points[0] + rooms[0][0]
        if not course.laid.left:
            left = first
        if course.seat.passed and course.laid.left == course.seat.left:
            if course.inner[0] is not None:
                # What stands in the frame does so before the bars.
                edge = points[0] + course.inner[0].width_mm
                marks += self._thin([Extent(course.inner[0], points[0], edge)], left, edge)
                left = edge
            left, hops = self._hops(course, left)
            first = left + _AFTER_HOP_MM
            marks += hops
        is_right = False
        spans: list[Extent] = []
        for number, run in enumerate(course.runs):
            here = first if not number else points[number] + rooms[number][0]
            there = points[number + 1] - rooms[number][1]
            run_spans = [*packed(run, here, there, is_right=is_right)]
            run_spans += self._mains(course, number)
            right = points[number + 1] - self.place.half(course.laid.right)
            if number < len(course.stops):
                right = points[number + 1] - HALF_MM
                is_right = is_right or course.stops[number].is_part
            elif not course.laid.right:
                right = there
            if not (course.laid.rung.end and course.laid.rung.end.kind == "slot"):
                marks += self._thin(run_spans, left, right)
            left = points[number + 1] + HALF_MM
            spans += run_spans
        for span in spans:
            marks += self.pieces.piece(course, span)
        for stop in course.stops:
            marks += self._stop(course, stop, at[stop.key])
        return (*marks, *self._end(course))

    def _mains(self, course: Course, number: int) -> Iterator[Extent]:
        """The mains that stand in frames at the ends of a run."""
        at = self.place.columns.at
        left, right = course.inner
        if left is not None and not number:
            yield Extent(left, at[course.ends[0]], at[course.ends[0]] + left.width_mm)
        if right is not None and number == len(course.runs) - 1:
            yield Extent(right, at[course.ends[1]] - right.width_mm, at[course.ends[1]])

    def _stop(self, course: Course, stop: Stop, x: float) -> Iterator[Mark]:
        if is_pin(stop.each.piece):
            yield from self.pieces.piece(course, Extent(stop.each, x - HALF_MM, x + HALF_MM))
        else:
            yield from self.pieces.part(stop.each, (x, 0.0))

    def _hops(self, course: Course, left: float) -> tuple[float, list[Mark]]:
        """The line over bars that a rung passes, and where it goes on."""
        passed = sorted(self.place.x(name) for name in course.seat.passed)
        points: list[Point] = [(left, 0.0)]
        for x in passed:
            points += [(x + HOP_MM * dx, -HOP_MM * dy) for dx, dy in _BOW]
        end = passed[-1] + _AFTER_HOP_MM
        points.append((end, 0.0))
        return end, [Line(tuple(points), STROKE)]

    def _thin(self, spans: Sequence[Extent], left: float, right: float) -> Iterator[Mark]:
        """The line between pieces, with a gap for each of them."""
        here = left
        dashed = [s for s in spans if _is_assumed(s.each.piece)]
        pen = ASSUMED if dashed and len(dashed) == len(spans) else STROKE
        for span in sorted(spans, key=lambda s: s.left_mm):
            one, two = span.left_mm, span.right_mm
            if not isinstance(span.each.piece.thing, Conductor):
                one, two = self.pieces.leads(span)
            if one > here + 0.01:
                yield Line(((here, 0.0), (one, 0.0)), pen)
            here = max(here, two)
        if right > here + 0.01:
            yield Line(((here, 0.0), (right, 0.0)), pen)

    def _end(self, course: Course) -> Iterator[Mark]:
        """What is drawn where the rung leads to no bar."""
        end = course.laid.rung.end
        if end is None or (course.laid.left and course.laid.right):
            return
        side = 0 if course.laid.right else 1
        way = 1.0 if side else -1.0
        x = self.place.columns.at[course.ends[side]] - way * course.pads[side]
        yield from self.ends.end(end, x, way)


def _is_assumed(piece: Piece) -> bool:
    return isinstance(piece.thing, Conductor) and piece.thing.assumed
