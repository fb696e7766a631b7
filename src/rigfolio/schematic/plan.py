"""A rig as one circuit diagram: source side, panels, rows of circuits, negative bars, lanes."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from rigfolio.draw import Circle, Line, Mark, NoWayError, Text, flat, shift, text_box
from rigfolio.job import Job
from rigfolio.schematic.feed import Feed
from rigfolio.schematic.order import BAND_GAP, FOOT, Order
from rigfolio.schematic.paint import ROW, Canvas
from rigfolio.schematic.right import Right
from rigfolio.schematic.rungs import Scheme, scheme_of

TRIES = 7
_FEW_TRIES = 4
"""What has to fit a page is not tried with channels so wide that it hardly can."""

_EDGE_MM = 0.5


@dataclass(frozen=True, slots=True)
class Drawing:
    """A diagram and its size [mm]."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float


Fits = Callable[[Drawing], bool]
"""Whether a drawing fits the paper, one way or the other."""


class TooLargeError(Exception):
    """A diagram would not fit its paper."""


def drawing_of(job: Job) -> Drawing:
    """The circuit diagram of a job at its natural size.

    Raises
    ------
    NoWayError
        A wire finds no way even in the widest channels.
    rigfolio.render.dot.LayoutError
        Graphviz gave no layout.
    """
    return drawn(job, scheme_of(job))


def drawn(job: Job, scheme: Scheme, narrow: int = 0, fits: Fits | None = None) -> Drawing:
    """The diagram of a part of a rig, or of all of it; `narrow` is as in `Canvas`.

    Raises
    ------
    TooLargeError
        It would not fit, which shows before its wires are led.
    NoWayError, rigfolio.render.dot.LayoutError
        As `drawing_of`.
    """
    tries = TRIES if fits is None else _FEW_TRIES
    for spread in range(tries - 1):
        try:
            return _drawn(Canvas(job.rig, narrow), scheme, spread, fits)
        except NoWayError:
            continue
    return _drawn(Canvas(job.rig, narrow), scheme, tries - 1, fits)


def _drawn(canvas: Canvas, scheme: Scheme, spread: int, fits: Fits | None) -> Drawing:
    """The diagram with channels that are wider by `spread` lanes."""
    order = Order(scheme, canvas)
    order.measure()
    heights = [order.height(block) for block in scheme.blocks]
    feed = Feed(
        canvas, scheme.parts, order.runs(), heights, order.panels, spread, heads=order.heads
    )
    if order.is_paged:
        feed.settle_cuts()
    else:
        feed.settle()
    feed.settle_low(0)
    order.heights_of = {name: stand.centre for name, stand in feed.stands.items()}
    order.number_rows(feed.tops)
    bars = order.bars()
    feet = (bar.bottom + (FOOT if bar.root in scheme.bar_cuts else 2) for bar in bars)
    feed.lanes_top = max([feed.lanes_top, *feet])
    exits = order.exits(bars)
    above = sum(1 for leave in exits if leave.end[0] not in order.band)
    feed.settle_low(ROW * above + BAND_GAP)
    ports = order.ports(feed, exits)
    rows = Right(order, feed, bars, exits, ports)
    if fits is not None and not fits(Drawing((), rows.least_mm, feed.least_mm)):
        raise TooLargeError
    feed.lead(ports)
    rows.draw()
    feed.draw()
    left, top, right, bottom = _extent(canvas.marks)
    marks = shift(canvas.marks, _EDGE_MM - left, _EDGE_MM - top)
    return Drawing(marks, right - left + 2 * _EDGE_MM, bottom - top + 2 * _EDGE_MM)


def _extent(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all marks [mm]."""
    boxes: list[tuple[float, float, float, float]] = []
    for mark in flat(marks):
        if isinstance(mark, Text):
            boxes.append(text_box(mark))
        elif isinstance(mark, Circle):
            (x, y), r = mark.centre, mark.radius_mm
            boxes.append((x - r, y - r, x + r, y + r))
        elif isinstance(mark, Line):
            xs, ys = zip(*mark.points, strict=True)
            boxes.append((min(xs) - 1, min(ys) - 1, max(xs) + 1, max(ys) + 1))
    if not boxes:
        return 0.0, 0.0, 10.0, 10.0
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)
