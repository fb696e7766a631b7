"""Places from left to right: of bars, of sources and loads, of pins, of free ends."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from rigfolio.draw import width_mm
from rigfolio.model import Device
from rigfolio.record import record
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.ordering import Program, RowPlan
from rigfolio.schematic.setting.courses import (
    ASIDE_MM,
    Course,
    courses_of,
    edge_of,
    extents,
    is_pin,
)
from rigfolio.schematic.setting.ruler import Ruler, Set

_GAP_MM, _HEAD_GAP_MM, _PASS_MM, _HOP_MM = 6.0, 2.5, 1.5, 6.0
_RING_MM = 2.6
_STEPS, _TRIES = 7, 16
"""A wire is drawn no longer than is good to see, one of a circuit a little longer."""
_EDGE, _LEFT = "right edge", "left edge"


@record
class Columns:
    """Where everything stands from left to right [mm], and the courses of all rungs."""

    at: Mapping[Hashable, float]
    courses: tuple[Course, ...]
    wide_mm: float


def columns_of(grid: RowPlan, ruler: Ruler, room_mm: float) -> Columns | None:
    """Places from left to right, or None where a page of this width is too narrow."""
    while True:
        courses = courses_of(grid, ruler)
        program = _program(grid, ruler, courses)
        if _fits(program, 0.0, room_mm):
            break
        tight = program.tight(_EDGE)
        widths = [(c.key, c.words_mm) for c in courses if _is_on(c, tight)]
        if not ruler.is_narrowed(widths):
            return None
    courses, program = _widened(grid, ruler, (courses, program), room_mm)
    for key, members in _align(program, ruler.bars, courses).items():
        _level(program, key, members, room_mm)
    _shorten(program, courses)
    share = _largest_share(program, room_mm)
    if share is None:
        return None
    found = program.best(share, room_mm)
    if found is None:
        return None
    at = {key: found[number] for key, number in program.keys.items()}
    return Columns(at, courses, at[_EDGE])


def _widened(
    grid: RowPlan, ruler: Ruler, narrow: tuple[tuple[Course, ...], Program], room_mm: float
) -> tuple[tuple[Course, ...], Program]:
    """Courses and distances after words were given back what others left of the room.

    Rungs are narrowed one after the other until all fit, so that the last ones may leave more than
    an earlier one had lost.
    """
    best = narrow
    lines = {c.key: c.lines for c in best[0] if ruler.levels.get(c.key, 0)}
    for key in sorted(lines, key=lambda key: (-lines[key], key))[:_TRIES]:
        least = ruler.levels[key]
        for level in range(least):
            ruler.levels[key] = level
            courses = courses_of(grid, ruler)
            program = _program(grid, ruler, courses)
            if _fits(program, 0.0, room_mm):
                best = courses, program
                break
            ruler.levels[key] = least
    return best


def _program(grid: RowPlan, ruler: Ruler, courses: Sequence[Course]) -> Program:
    """All distances that have to be kept."""
    program = Program()
    for course in courses:
        _keep_course(program, grid, ruler, course)
    _keep_bars(program, grid, ruler)
    _keep_ends(program, grid, ruler, courses)
    for key in list(program.keys):
        if key not in (_EDGE, _LEFT):
            program.apart(key, _EDGE, _reach_mm(ruler, grid, key))
            if isinstance(key, str):
                program.apart(_LEFT, key, _left_mm(ruler, grid, key))
            program.cost(key, 1e-4 * (1 + program.keys[key] % 7))
    return program


def _is_on(course: Course, tight: frozenset[tuple[Hashable, Hashable]]) -> bool:
    """Whether a rung lies on a way that makes the drawing as wide as it is."""
    points = course.points
    first = [(bar, points[1]) for bar in course.seat.passed]
    return any(pair in tight for pair in (*pairwise(points), *first))


def _largest_share(program: Program, room_mm: float) -> float | None:
    """How much of their full length all wires can have; None where not even the least fits."""
    if _fits(program, 1.0, room_mm):
        return 1.0
    if not _fits(program, 0.0, room_mm):
        return None
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        middle = (low + high) / 2
        if _fits(program, middle, room_mm):
            low = middle
        else:
            high = middle
    return low


def _fits(program: Program, share: float, room_mm: float) -> bool:
    found = program.least(share)
    return found is not None and found[program.place(_EDGE)] <= room_mm


def _reach_mm(ruler: Ruler, grid: RowPlan, key: Hashable) -> float:
    """How far something reaches to the right of its place."""
    if not isinstance(key, str):
        return 0.0
    bar = ruler.bars[key]
    head = 0.0 if bar.is_minor else _head_mm(ruler, grid, key)[1]
    reach = max(extents(ruler, grid, key)[1], head)
    return max(reach, _marked_mm(ruler, grid, key)[1] if any(ruler.marked.get(key, ())) else 0.0)


def _left_mm(ruler: Ruler, grid: RowPlan, name: str) -> float:
    reach = max(extents(ruler, grid, name)[0], _head_mm(ruler, grid, name)[0])
    return max(reach, _marked_mm(ruler, grid, name)[0] if any(ruler.marked.get(name, ())) else 0.0)


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


def _marked_mm(ruler: Ruler, grid: RowPlan, name: str) -> tuple[float, float]:
    """How far a mark of a bar reaches to the left and to the right of it."""
    reach = _RING_MM, mark_mm(ruler)
    return reach[::-1] if edge_of(grid, ruler.bars[name]) > 0 else reach


def mark_mm(ruler: Ruler) -> float:
    """From a bar to the right end of the words of its mark."""
    return 3.2 + width_mm("from page 88, D8", ruler.size_pt)


def _widths(sets: Sequence[Set]) -> tuple[float, float]:
    return sum(s.width_mm for s in sets), sum(s.stretch_mm for s in sets)


def _keep_course(program: Program, grid: RowPlan, ruler: Ruler, course: Course) -> None:
    points = course.points
    left = points[0]
    for one, two, run, (after, before) in zip(
        points, points[1:], course.runs, course.rooms, strict=False
    ):
        wide, stretch = _widths(run)
        program.apart(one, two, after + wide + before, stretch)
    wide, stretch = _widths(course.runs[0])
    wide += course.rooms[0][1]
    for bar in course.seat.passed:
        reach = extents(ruler, grid, bar)
        if course.laid.left == course.seat.left:
            program.apart(left, bar, _HOP_MM + reach[0] + course.pads[0])
            program.apart(bar, points[1], _HOP_MM + reach[1] + wide, stretch)
        else:
            program.apart(bar, left, _HOP_MM + reach[1])


def _shorten(program: Program, courses: Sequence[Course]) -> None:
    """Rungs as short as can be; those between the same bars of a panel count as a few."""
    pairs: dict[Hashable, int] = {}
    for course in courses:
        key = (course.seat.panel, *course.ends)
        pairs[key] = pairs.get(key, 0) + 1
    for course in courses:
        count = pairs[course.seat.panel, *course.ends]
        weight = 1.0 if not course.seat.panel else min(1.0, 3.0 / count)
        program.cost(course.ends[1], weight)
        program.cost(course.ends[0], -weight)


def _keep_bars(program: Program, grid: RowPlan, ruler: Ruler) -> None:
    """Bars that share a row, and heads beside bars that pass."""
    for left, right in combinations(grid.bars, 2):
        one, two = grid.spans[left], grid.spans[right]
        gap = 0.0
        if one[0] <= two[1] and two[0] <= one[1]:
            gap = _GAP_MM + extents(ruler, grid, left)[1] + extents(ruler, grid, right)[0]
        gap = max(gap, _heads_mm(ruler, grid, left, right), _marks_mm(ruler, grid, left, right))
        if gap:
            program.apart(left, right, gap)


def _heads_mm(ruler: Ruler, grid: RowPlan, left: str, right: str) -> float:
    one, two = grid.spans[left], grid.spans[right]
    halves = _head_mm(ruler, grid, left)[1], _head_mm(ruler, grid, right)[0]
    gap = 0.0
    if one[0] == two[0] and (halves[0] or halves[1]) and not (halves[0] and halves[1]):
        frame = extents(ruler, grid, left)[1] if halves[1] else extents(ruler, grid, right)[0]
        gap = halves[0] + halves[1] + _PASS_MM + frame
    if one[0] == two[0] and halves[0] and halves[1]:
        gap = halves[0] + halves[1] + _HEAD_GAP_MM
    if one[0] < two[0] <= one[1] and halves[1]:
        gap = max(gap, halves[1] + _PASS_MM + extents(ruler, grid, left)[1])
    if two[0] < one[0] <= two[1] and halves[0]:
        gap = max(gap, halves[0] + _PASS_MM + extents(ruler, grid, right)[0])
    return gap


def _marks_mm(ruler: Ruler, grid: RowPlan, left: str, right: str) -> float:
    """Room for the words of the marks of both."""
    marks = (ruler.marked.get(left, (False, False)), ruler.marked.get(right, (False, False)))
    one, two = grid.spans[left], grid.spans[right]
    to_right = _marked_mm(ruler, grid, left)[1]
    to_left = _marked_mm(ruler, grid, right)[0]
    gap = 0.0
    for place, (mine, other) in enumerate(zip(one, two, strict=True)):
        beyond = mine - 1 if place == 0 else mine + 1
        passes = two[0] <= mine <= two[1] and two[0] <= beyond <= two[1]
        if marks[0][place] and marks[1][place] and mine == other:
            gap = max(gap, to_right + _PASS_MM + to_left)
        if marks[0][place] and passes:
            gap = max(gap, to_right + _PASS_MM + extents(ruler, grid, right)[0])
        across = (
            one[0] <= other <= one[1]
            and one[0] <= (other - 1 if place == 0 else other + 1) <= one[1]
        )
        if marks[1][place] and across:
            gap = max(gap, to_left + _PASS_MM + extents(ruler, grid, left)[1])
    return gap


def _keep_ends(
    program: Program, grid: RowPlan, ruler: Ruler, courses: Sequence[Course]
) -> None:  # fmt: skip
    """What ends freely keeps clear of the next bars on its rows."""
    place = {name: n for n, name in enumerate(grid.bars)}
    for course in courses:
        seat = course.seat
        if seat.left and seat.right:
            continue
        own = place[seat.left or seat.right]
        for name in grid.bars:
            first, last = grid.spans[name]
            if name == (seat.left or seat.right) or last < seat.row or first > seat.last:
                continue
            reach = extents(ruler, grid, name)
            if seat.left and place[name] > own:
                for key in _keys(course):
                    program.apart(key, name, 2.0 + _own_mm(ruler, key) + reach[0])
            elif seat.right and place[name] < own:
                for key in _keys(course):
                    program.apart(name, key, 2.0 + _own_mm(ruler, key) + reach[1])


def _keys(course: Course) -> Iterator[Hashable]:
    """Everything of a rung whose place is sought, but the bar that its seat begins at."""
    own = course.seat.left or course.seat.right
    yield from (key for key in course.points if key != own)


def _own_mm(ruler: Ruler, key: Hashable) -> float:
    return ruler.head_mm(ruler.bars[key]) if isinstance(key, str) else 0.0


def _depths(courses: Sequence[Course]) -> dict[Hashable, int]:
    """How many joints of its unit stand at the left of each minor bar."""
    depths: dict[Hashable, int] = {}
    for _ in range(3):
        for course in courses:
            left, right = course.laid.left, course.laid.right
            if right and right != course.seat.right:
                start = 0 if left == course.seat.left else depths.get(left, 0)
                depths[right] = max(depths.get(right, 0), start + 1)
    return depths


def _joints(
    course: Course, bars: Mapping[str, Bar], depths: Mapping[Hashable, int]
) -> Iterator[tuple[str, Hashable]]:
    """The minor bars of a rung in a panel, and the column that each belongs to."""
    seat = course.seat
    for name in (course.laid.left, course.laid.right):
        if name and name not in (seat.left, seat.right):
            sign = bars[name].sign
            yield name, ("joints", seat.panel, sign, 0 if sign == "-" else depths.get(name, 0))


def _column(course: Course) -> tuple[Hashable, float]:
    """The column that the source or load of a rung belongs to, and how much."""
    seat = course.seat
    if seat.panel:
        return ("loads", seat.panel), 3.0
    if len(seat.unit.laid) > 1:
        return ("unit", seat.row, seat.left), 4.0
    return ("pair", seat.left, seat.right), 0.6


def pin_name(each: Set) -> str:
    """The connector that a pin belongs to."""
    thing = each.piece.thing
    return thing.about.name if isinstance(thing, Device) else ""


def _level(program: Program, key: Hashable, members: Iterable[Hashable], room_mm: float) -> None:
    """Bind a column of a panel, where the page is wide enough for all of it."""
    for member in members:
        program.apart(key, member, 0.0)
    if not _fits(program, 0.0, room_mm):
        for member in members:
            program.free(key, member)


def _align(
    program: Program, bars: Mapping[str, Bar], courses: Sequence[Course]
) -> dict[Hashable, tuple[Hashable, ...]]:
    """Columns: sources and loads, joints and pins that belong together stand above each other.

    Those of panels are given back, by their keys.
    """
    groups: dict[Hashable, dict[Hashable, float]] = {}
    depths = _depths(courses)
    for course in courses:
        seat = course.seat
        for stop in course.stops:
            key, weight = _column(course)
            if is_pin(stop.each.piece):
                key, weight = ("pins", pin_name(stop.each), seat.left, seat.right), 3.0
            groups.setdefault(key, {})[stop.key] = weight
        if seat.panel:
            for name, key in _joints(course, bars, depths):
                groups.setdefault(key, {})[name] = 3.0
    for key, members in groups.items():
        if len(members) > 1:
            for member, weight in members.items():
                program.apart(member, key, 0.0)
                program.cost(key, weight)
                program.cost(member, -weight)
    return {
        key: tuple(members) for key, members in groups.items()
        if len(members) > 1 and isinstance(key, tuple) and key[0] in ("loads", "joints", "pins")
    }  # fmt: skip
