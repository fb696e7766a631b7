"""A rig as one circuit diagram: source side, panels, rows of circuits, negative bars, lanes."""

from collections.abc import Iterable
from dataclasses import dataclass

from rigfolio.draw.fit import text_box
from rigfolio.draw.page import Circle, Line, Mark, Text, flat, shift
from rigfolio.draw.route import NoWayError
from rigfolio.study.job import Job
from rigfolio.study.scheme import Scheme, scheme_of
from rigfolio.study.scheme_feed import Feed
from rigfolio.study.scheme_order import BAND_GAP, Order
from rigfolio.study.scheme_paint import ROW, Canvas
from rigfolio.study.scheme_right import Right

TRIES = 7

_EDGE_MM = 0.5


@dataclass(frozen=True, slots=True)
class Drawing:
    """A diagram and its size [mm]."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float


def drawing_of(job: Job) -> Drawing:
    """The circuit diagram of a job at its natural size.

    Raises
    ------
    NoWayError
        A wire finds no way even in the widest channels.
    rigfolio.draw.dot.LayoutError
        Graphviz gave no layout.
    """
    scheme = scheme_of(job)
    for spread in range(TRIES - 1):
        try:
            return _drawn(job, scheme, spread)
        except NoWayError:
            continue
    return _drawn(job, scheme, TRIES - 1)


def _drawn(job: Job, scheme: Scheme, spread: int) -> Drawing:
    """The diagram with channels that are wider by `spread` lanes."""
    canvas = Canvas(job.rig)
    order = Order(scheme, canvas)
    for block in scheme.blocks:
        for strand in block.strands:
            order.out.measure(strand.steps, is_root_shared=False)
    for back in scheme.backs:
        order.home.measure(back.steps, is_root_shared=bool(back.root))
    pads = order.pads()
    heights = [order.height(block, pads) for block in scheme.blocks]
    feed = Feed(canvas, scheme.parts, order.runs(), heights, order.panels, spread)
    feed.settle()
    feed.settle_low(0)
    order.heights_of = {name: stand.centre for name, stand in feed.stands.items()}
    order.number_rows(feed.tops, pads)
    bars = order.bars()
    feed.lanes_top = max([feed.lanes_top, *(bar.bottom + 2 for bar in bars)])
    exits = order.exits(bars)
    above = sum(1 for leave in exits if leave.end[0] not in order.band)
    feed.settle_low(ROW * above + BAND_GAP)
    ports = order.ports(feed, exits)
    feed.lead(ports)
    Right(order, feed, bars, exits, ports).draw()
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
