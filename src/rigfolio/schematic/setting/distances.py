"""How far things must stand apart from left to right: rungs, bars, their names and marks.

What is asked again while words are narrowed and given back is kept: a rung keeps its distances as
long as its words stay, bars keep theirs as long as the mains in frames of panels do.
"""

from collections.abc import Hashable, Iterator, Sequence
from functools import cached_property
from itertools import combinations

from rigfolio.draw import width_mm
from rigfolio.schematic.ordering import Program, RowPlan
from rigfolio.schematic.setting.courses import ASIDE_MM, Course, Courses, edge_of, extents
from rigfolio.schematic.setting.ruler import Ruler, Set

EDGE, LEFT = "right edge", "left edge"
"""What stands at both sides of all that is drawn."""
_GAP_MM, _HEAD_GAP_MM, _PASS_MM, _HOP_MM = 6.0, 2.5, 1.5, 6.0
_RING_MM = 2.6
_CLEAR_MM = 2.0
"""From a free end to the next bar."""
_Gap = tuple[Hashable, Hashable, float, float]


class Distances:
    """The distances that the rungs of a grid and its bars have to keep."""

    def __init__(self, grid: RowPlan, ruler: Ruler) -> None:
        self.courses = Courses(grid, ruler)
        self._kept = _KeptApart(grid, ruler)
        self._turn = 0

    def now(self) -> tuple[tuple[Course, ...], Program]:
        """The rungs in the words that they have now, and all distances that have to be kept."""
        courses = self.courses.now()
        if self._turn != self.courses.turn:
            self._kept = _KeptApart(self._kept.grid, self._kept.ruler)
            self._turn = self.courses.turn
        return courses, self._kept.program(courses)


class _KeptApart:
    """Distances of rungs and bars for mains that stay as they are."""

    def __init__(self, grid: RowPlan, ruler: Ruler) -> None:
        self.grid, self.ruler = grid, ruler
        self._of_rungs: dict[int, tuple[Course, tuple[_Gap, ...], tuple[_Gap, ...]]] = {}
        self._heads: dict[str, tuple[float, float]] = {}
        self._marks: dict[str, tuple[float, float]] = {}
        self._sides: dict[str, tuple[float, float]] = {}

    def program(self, courses: Sequence[Course]) -> Program:
        """All of them, rung by rung, then those of bars and of free ends."""
        program = Program()
        of_rungs = [self._of_rung(course) for course in courses]
        for _, gaps, _ in of_rungs:
            for gap in gaps:
                program.apart(*gap)
        for gap in self._of_bars:
            program.apart(*gap)
        for _, _, gaps in of_rungs:
            for gap in gaps:
                program.apart(*gap)
        for key in list(program.keys):
            if key not in (EDGE, LEFT):
                if isinstance(key, str):
                    left, right = self._side(key)
                    program.apart(key, EDGE, right)
                    program.apart(LEFT, key, left)
                else:
                    program.apart(key, EDGE, 0.0)
                program.cost(key, 1e-4 * (1 + program.keys[key] % 7))
        return program

    def _of_rung(self, course: Course) -> tuple[Course, tuple[_Gap, ...], tuple[_Gap, ...]]:
        """A rung, which keeps its identity, its own distances and those of its free end."""
        found = self._of_rungs.get(id(course))
        if found is None:
            found = (course, tuple(self._along(course)), tuple(self._beyond(course)))
            self._of_rungs[id(course)] = found
        return found

    def _along(self, course: Course) -> Iterator[_Gap]:
        points = course.points
        left = points[0]
        for one, two, run, (after, before) in zip(
            points, points[1:], course.runs, course.rooms, strict=False
        ):
            wide, stretch = _widths(run)
            yield one, two, after + wide + before, stretch
        wide, stretch = _widths(course.runs[0])
        wide += course.rooms[0][1]
        for bar in course.seat.passed:
            reach = extents(self.ruler, self.grid, bar)
            if course.laid.left == course.seat.left:
                yield left, bar, _HOP_MM + reach[0] + course.pads[0], 0.0
                yield bar, points[1], _HOP_MM + reach[1] + wide, stretch
            else:
                yield bar, left, _HOP_MM + reach[1], 0.0

    def _beyond(self, course: Course) -> Iterator[_Gap]:
        """What ends freely keeps clear of the next bars on its rows."""
        seat = course.seat
        if seat.left and seat.right:
            return
        start = seat.left or seat.right
        own = self._place[start]
        for name in self.grid.bars:
            first, last = self.grid.spans[name]
            if name == start or last < seat.row or first > seat.last:
                continue
            reach = extents(self.ruler, self.grid, name)
            if seat.left and self._place[name] > own:
                for key in _keys(course):
                    yield key, name, _CLEAR_MM + self._own_mm(key) + reach[0], 0.0
            elif seat.right and self._place[name] < own:
                for key in _keys(course):
                    yield name, key, _CLEAR_MM + self._own_mm(key) + reach[1], 0.0

    @cached_property
    def _place(self) -> dict[str, int]:
        return {name: n for n, name in enumerate(self.grid.bars)}

    def _own_mm(self, key: Hashable) -> float:
        return self.ruler.head_mm(self.ruler.bars[key]) if isinstance(key, str) else 0.0

    @cached_property
    def _of_bars(self) -> tuple[_Gap, ...]:
        """Bars that share a row, and heads beside bars that pass."""
        found: list[_Gap] = []
        for left, right in combinations(self.grid.bars, 2):
            one, two = self.grid.spans[left], self.grid.spans[right]
            gap = 0.0
            if one[0] <= two[1] and two[0] <= one[1]:
                gap = _GAP_MM + self._reach(left)[1] + self._reach(right)[0]
            gap = max(gap, self._heads_mm(left, right), self._marks_mm(left, right))
            if gap:
                found.append((left, right, gap, 0.0))
        return tuple(found)

    def _heads_mm(self, left: str, right: str) -> float:
        one, two = self.grid.spans[left], self.grid.spans[right]
        halves = self._head_mm(left)[1], self._head_mm(right)[0]
        gap = 0.0
        if one[0] == two[0] and (halves[0] or halves[1]) and not (halves[0] and halves[1]):
            frame = self._reach(left)[1] if halves[1] else self._reach(right)[0]
            gap = halves[0] + halves[1] + _PASS_MM + frame
        if one[0] == two[0] and halves[0] and halves[1]:
            gap = halves[0] + halves[1] + _HEAD_GAP_MM
        if one[0] < two[0] <= one[1] and halves[1]:
            gap = max(gap, halves[1] + _PASS_MM + self._reach(left)[1])
        if two[0] < one[0] <= two[1] and halves[0]:
            gap = max(gap, halves[0] + _PASS_MM + self._reach(right)[0])
        return gap

    def _marks_mm(self, left: str, right: str) -> float:
        """Room for the words of the marks of both."""
        unmarked = (False, False)
        marks = (self.ruler.marked.get(left, unmarked), self.ruler.marked.get(right, unmarked))
        gap = 0.0
        if not any((*marks[0], *marks[1])):
            return gap
        one, two = self.grid.spans[left], self.grid.spans[right]
        to_right, to_left = self._marked_mm(left)[1], self._marked_mm(right)[0]
        for place, (mine, other) in enumerate(zip(one, two, strict=True)):
            beyond = mine - 1 if place == 0 else mine + 1
            passes = two[0] <= mine <= two[1] and two[0] <= beyond <= two[1]
            if marks[0][place] and marks[1][place] and mine == other:
                gap = max(gap, to_right + _PASS_MM + to_left)
            if marks[0][place] and passes:
                gap = max(gap, to_right + _PASS_MM + self._reach(right)[0])
            across = (
                one[0] <= other <= one[1]
                and one[0] <= (other - 1 if place == 0 else other + 1) <= one[1]
            )
            if marks[1][place] and across:
                gap = max(gap, to_left + _PASS_MM + self._reach(left)[1])
        return gap

    def _side(self, name: str) -> tuple[float, float]:
        """How far a bar reaches with its name and its marks to the left and to the right."""
        if name not in self._sides:
            head = self._head_mm(name)
            right_mm = 0.0 if self.ruler.bars[name].is_minor else head[1]
            sides = (
                max(self._reach(name)[0], head[0]),
                max(self._reach(name)[1], right_mm),
            )
            if any(self.ruler.marked.get(name, ())):
                marked = self._marked_mm(name)
                sides = max(sides[0], marked[0]), max(sides[1], marked[1])
            self._sides[name] = sides
        return self._sides[name]

    def _reach(self, name: str) -> tuple[float, float]:
        return extents(self.ruler, self.grid, name)

    def _head_mm(self, name: str) -> tuple[float, float]:
        if name not in self._heads:
            self._heads[name] = _head_mm(self.ruler, self.grid, name)
        return self._heads[name]

    def _marked_mm(self, name: str) -> tuple[float, float]:
        """How far a mark of a bar reaches to the left and to the right of it."""
        if name not in self._marks:
            reach = _RING_MM, _mark_mm(self.ruler)
            is_last = edge_of(self.grid, self.ruler.bars[name]) > 0
            self._marks[name] = reach[::-1] if is_last else reach
        return self._marks[name]


def _head_mm(ruler: Ruler, grid: RowPlan, name: str) -> tuple[float, float]:
    """How far the name of a bar reaches to the left and to the right of it.

    It stands in the middle of its bar, begins at the first and ends at the last one; that of a
    panel stands in its frame.
    """
    bar = ruler.bars[name]
    if bar.panel is not None and bar.panel.about.name in ruler.slot_mm:
        return 0.0, 0.0
    half = ruler.head_mm(bar)
    aside = edge_of(grid, bar)
    if not (half and aside):
        return half, half
    reach = ASIDE_MM, 2 * half - ASIDE_MM
    return reach if aside < 0 else reach[::-1]


def _mark_mm(ruler: Ruler) -> float:
    """From a bar to the right end of the words of its mark."""
    return 3.2 + width_mm("from page 88, D8", ruler.size_pt)


def _widths(sets: Sequence[Set]) -> tuple[float, float]:
    return sum(s.width_mm for s in sets), sum(s.stretch_mm for s in sets)


def _keys(course: Course) -> Iterator[Hashable]:
    """Everything of a rung whose place is sought, but the bar that its seat begins at."""
    own = course.seat.left or course.seat.right
    yield from (key for key in course.points if key != own)
