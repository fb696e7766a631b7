"""Places from left to right: of bars, of sources and loads, of pins, of free ends."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from rigfolio.model import Device
from rigfolio.record import record
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.ordering import Program, RowPlan
from rigfolio.schematic.setting.courses import Course, is_pin
from rigfolio.schematic.setting.distances import EDGE, Distances
from rigfolio.schematic.setting.ruler import Ruler, Set

_STEPS, _TRIES = 7, 16
"""A wire is drawn no longer than is good to see, one of a circuit a little longer."""


@record
class Columns:
    """Where everything stands from left to right [mm], and the courses of all rungs."""

    at: Mapping[Hashable, float]
    courses: tuple[Course, ...]
    wide_mm: float


def columns_of(grid: RowPlan, ruler: Ruler, room_mm: float) -> Columns | None:
    """Places from left to right, or None where a page of this width is too narrow."""
    distances = Distances(grid, ruler)
    while True:
        courses, program = distances.now()
        if _fits(program, 0.0, room_mm):
            break
        tight = program.tight(EDGE)
        widths = [(c.key, c.words_mm) for c in courses if _is_on(c, tight)]
        if not ruler.is_narrowed(widths):
            return None
    courses, program = _widened(distances, ruler, (courses, program), room_mm)
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
    return Columns(at, courses, at[EDGE])


def _widened(
    distances: Distances,
    ruler: Ruler,
    narrow: tuple[tuple[Course, ...], Program],
    room_mm: float,
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
            courses, program = distances.now()
            if _fits(program, 0.0, room_mm):
                best = courses, program
                break
            ruler.levels[key] = least
    return best


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
    return found is not None and found[program.place(EDGE)] <= room_mm


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
