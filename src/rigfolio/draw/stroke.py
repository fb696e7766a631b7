"""Outlines of thick lines with butt ends and mitred corners, for writers that fill shapes only."""

from itertools import pairwise
from math import hypot

from rigfolio.draw.page import MITRE_LIMIT, Point

Polygon = tuple[Point, ...]


def outlines(points: tuple[Point, ...], width: float, *, closed: bool = False) -> list[Polygon]:
    """Polygons that together cover a thick polyline, one for each segment.

    Where a corner is sharper than the mitre limit both segments end square. Lengths are in any one
    unit.
    """
    path = _distinct(points, closed=closed)
    if len(path) < 2:
        return []
    ring = (*path, path[0]) if closed else path
    normals = [_normal(a, b) for a, b in pairwise(ring)]
    is_square = all(0.0 in normal for normal in normals)
    count = len(normals)
    polygons = []
    for index, (start, end) in enumerate(pairwise(ring)):
        before = normals[index - 1] if index or closed else normals[index]
        after = normals[(index + 1) % count] if index + 1 < count or closed else normals[index]
        first = _offset(before, normals[index], width / 2)
        last = _offset(normals[index], after, width / 2)
        sides = (
            (start[0] + first[0], start[1] + first[1]),
            (end[0] + last[0], end[1] + last[1]),
            (end[0] - last[0], end[1] - last[1]),
            (start[0] - first[0], start[1] - first[1]),
        )
        polygons.append(_upright(sides) if is_square else sides)
    return polygons


def dashes(
    points: tuple[Point, ...], lengths: tuple[float, ...], *, closed: bool = False
) -> list[tuple[Point, ...]]:
    """Pieces of a polyline that a dash pattern leaves standing, corners kept inside a piece.

    An odd pattern is repeated with on and off exchanged; one without a length above 0 is a
    continuous line.
    """
    path = _distinct(points, closed=closed)
    ring = (*path, path[0]) if closed and path else path
    if not sum(lengths) > 0 or min(lengths) < 0:
        return [ring]
    pattern = lengths if len(lengths) % 2 == 0 else lengths * 2
    pieces: list[list[Point]] = [[ring[0]]] if ring else []
    step, left = 0, pattern[0]
    for start, end in pairwise(ring):
        whole = hypot(end[0] - start[0], end[1] - start[1])
        gone = 0.0
        while whole - gone > left:
            gone += left
            share = gone / whole
            at = (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
            if step % 2 == 0:
                pieces[-1].append(at)
            else:
                pieces.append([at])
            step = (step + 1) % len(pattern)
            left = pattern[step]
        left -= whole - gone
        if step % 2 == 0:
            pieces[-1].append(end)
    return [tuple(piece) for piece in pieces if len(piece) > 1]


def upright_box(polygon: tuple[Point, ...]) -> tuple[float, float, float, float] | None:
    """Left, top, right and bottom of a polygon that is an upright rectangle, else None."""
    if len(polygon) != 4:
        return None
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = polygon
    across_first = ay == by and bx == cx and cy == dy and dx == ax
    down_first = ax == bx and by == cy and cx == dx and dy == ay
    if not (across_first or down_first):
        return None
    return min(ax, cx), min(ay, cy), max(ax, cx), max(ay, cy)


def _distinct(points: tuple[Point, ...], *, closed: bool) -> tuple[Point, ...]:
    path = [point for index, point in enumerate(points) if not index or point != points[index - 1]]
    if closed and len(path) > 1 and path[0] == path[-1]:
        path.pop()
    return tuple(path)


def _normal(start: Point, end: Point) -> Point:
    across, down = end[0] - start[0], end[1] - start[1]
    length = hypot(across, down)
    return down / length, -across / length


def _offset(before: Point, after: Point, half: float) -> Point:
    """From a corner to the meeting of the two left edges; square to `after` past the limit."""
    share = 1 + before[0] * after[0] + before[1] * after[1]
    if share < 2 / MITRE_LIMIT**2:
        return after[0] * half, after[1] * half
    return (before[0] + after[0]) * half / share, (before[1] + after[1]) * half / share


def _upright(sides: Polygon) -> Polygon:
    """Rectangle about the four corners: on a right-angled path the same ink, exact to the pixel."""
    across, down = zip(*sides, strict=True)
    left, right, top, bottom = min(across), max(across), min(down), max(down)
    return (left, top), (right, top), (right, bottom), (left, bottom)
