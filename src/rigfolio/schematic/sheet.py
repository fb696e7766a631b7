"""The diagram on framed pages: drawings, marks with page and place, legend, title block."""

import re
from collections.abc import Sequence

from rigfolio.draw import (
    FIGURE,
    FLOOR_PT,
    MARGIN_MM,
    STRIP_MM,
    Group,
    Kind,
    Line,
    Mark,
    Page,
    Pen,
    Style,
    Text,
    block,
    body,
    rect,
    shift,
    spoken_as,
)
from rigfolio.job import Job
from rigfolio.record import record, replace
from rigfolio.reports import DEFERS
from rigfolio.schematic.chains import Graph, blocks_of, graph_of
from rigfolio.schematic.composer import Composer
from rigfolio.schematic.drawing import Drawing, Room
from rigfolio.schematic.pages import (
    Leaf,
    cuts_of,
    drawings_of,
    leaves_of,
    marks_of,
    shown_slots,
    worded,
)
from rigfolio.schematic.painting import (
    LegendEntry,
    Space,
    entries_of,
    legend_in,
    placed,
    spaces,
    strip_mm,
)
from rigfolio.schematic.setting import notes_of

TITLE = "Schematic"
NOTE = "Lengths one way. Colours never tell polarity: read + and −."
_COLUMNS, _ROWS = 8, 4
_HAIR, _RULE = Pen(0.1, "#808080"), Pen(0.3)
_APART_MM = 6.0
_SPACES, _LEAST_ENTRIES = 4, 3
_LONGEST = 14
"""Letters of a drawing number that its place on every page has room for."""


@record
class FramedPage:
    """One page while it is made: its drawing, where that stands, its paper, its legend."""

    drawing: Drawing
    title: str
    at: tuple[float, float]
    size: tuple[float, float]
    more: tuple[Mark, ...] = ()


@record
class Diagram:
    """The pages of a diagram with what was drawn on each of them."""

    pages: tuple[Page, ...]
    drawings: tuple[Drawing, ...]
    leaves: tuple[Leaf, ...]

    @property
    def marks(self) -> int:
        """How many bars go on upon another page, each cut counted."""
        return len(cuts_of(self.leaves))


def diagram(job: Job, first_page: int = 1) -> Diagram:
    """All pages of the diagram of a rig.

    Parameters
    ----------
    job : Job
        The rig and its paper.
    first_page : int
        The number that the first page has in the document that it is bound in; marks count from it.
    """
    graph = graph_of(job)
    wide, high = job.paper.height_mm, job.paper.width_mm
    _, _, room_mm, depth_mm = body(wide, high)
    notes = notes_of(job.rig, graph.bars)
    composer = Composer(job, graph, Room(room_mm, depth_mm), notes)
    leaves, drawings = _laid(composer, graph)
    entries = entries_of(job.rig, notes)
    needed = strip_mm(entries, room_mm) + _APART_MM
    drawings = _flattened(composer, leaves, drawings, needed)
    sheets = [
        _sheet(drawing, _title(job, leaf, len(leaves)), (wide, high))
        for leaf, drawing in zip(leaves, drawings, strict=True)
    ]
    sheets = _legended(sheets, entries, (wide, high))
    said = _said(leaves, sheets, first_page)
    made = tuple(
        _page(job, sheet, said, (number, len(sheets)))
        for number, sheet in enumerate(sheets, start=1)
    )
    return Diagram(made, tuple(sheet.drawing for sheet in sheets), tuple(leaves))


def _laid(composer: Composer, graph: Graph) -> tuple[list[Leaf], list[Drawing]]:
    """Pages and their drawings; rungs to a frame end in its sign where that saves crossings."""
    best: tuple[list[Leaf], list[Drawing]] | None = None
    for frames in (False, True):
        leaves = leaves_of(composer, blocks_of(graph, frames=frames))
        drawings = drawings_of(composer, leaves)
        if best is None or _crossings(drawings) < _crossings(best[1]):
            best = leaves, drawings
        if (
            not _crossings(best[1])
            or composer.is_spent
            or all(b.kind != "frame" for b in graph.bars.values())
        ):
            break
    return best or ([], [])


def _crossings(drawings: Sequence[Drawing]) -> int:
    return sum(drawing.crossings for drawing in drawings)


def _flattened(
    composer: Composer, leaves: Sequence[Leaf], drawings: list[Drawing], needed: float
) -> list[Drawing]:
    """The drawings, the last one that can be made so low that the legend has room below it."""
    high = composer.room.high_mm
    if any(drawing.height_mm + needed <= high for drawing in drawings):
        return drawings
    cuts = cuts_of(leaves)
    low = Room(composer.room.wide_mm, high - needed)
    for number in range(len(leaves) - 1, -1, -1):
        made = composer.drawing(leaves[number].blocks, marks_of(cuts, number), room=low)
        if made is not None:
            return [*drawings[:number], made, *drawings[number + 1 :]]
    return drawings


def _sheet(drawing: Drawing, title: str, size: tuple[float, float]) -> FramedPage:
    """A drawing in the middle of its page; paper grows where a part is larger than it."""
    _, _, room_mm, depth_mm = body(*size)
    over = (max(0.0, drawing.width_mm - room_mm), max(0.0, drawing.height_mm - depth_mm))
    size = (size[0] + over[0], size[1] + over[1])
    left, top, room_mm, depth_mm = body(*size)
    at = (left + (room_mm - drawing.width_mm) / 2, top + (depth_mm - drawing.height_mm) / 2)
    return FramedPage(drawing, title, at, size)


def _title(job: Job, leaf: Leaf, count: int) -> str:
    """What a page shows; blank where all stands on one."""
    said = []
    if any(not block.panel for block in leaf.blocks):
        said.append("sources and feeders")
    slots = shown_slots(leaf)
    for panel in job.rig.panels:
        name = panel.about.name
        if name in slots:
            first, last = slots[name]
            words = f"{name} {panel.about.label}".strip()
            if (first, last) != (1, panel.slots):
                words += f", slots {first} to {last}" if first != last else f", slot {first}"
            said.append(words)
    return "; ".join(said) if count > 1 or said else ""


def _said(
    leaves: Sequence[Leaf], sheets: Sequence[FramedPage], first_page: int
) -> dict[str, tuple[int, str]]:
    """Number and words of each mark: the page and the place of its other side."""
    said = {}
    for number, cut in enumerate(cuts_of(leaves), start=1):
        upper = _zone(sheets[cut.upper], cut.bar, is_foot=True)
        lower = _zone(sheets[cut.lower], cut.bar, is_foot=False)
        said[f"mark-{number}-out"] = (number, f"to page {first_page + cut.lower}, {lower}")
        said[f"mark-{number}-in"] = (number, f"from page {first_page + cut.upper}, {upper}")
    return said


def _zone(sheet: FramedPage, bar: str, *, is_foot: bool) -> str:
    """The place of one end of a bar on its page: a letter from top to bottom, a figure across."""
    left, top, wide, high = body(*sheet.size)
    x, y = sheet.drawing.anchors[bar, is_foot]
    column = int((x + sheet.at[0] - left) / wide * _COLUMNS)
    row = int((y + sheet.at[1] - top) / high * _ROWS)
    letter = "ABCD"[min(max(row, 0), _ROWS - 1)]
    return f"{letter}{1 + min(max(column, 0), _COLUMNS - 1)}"


def _legended(
    sheets: list[FramedPage], entries: list[LegendEntry], size: tuple[float, float]
) -> list[FramedPage]:  # fmt: skip
    """Pages with the legend: along the foot of the emptiest one, in gaps, or on its own page."""
    left, top, wide, high = body(*size)
    strip = strip_mm(entries, wide)
    free = [body(*s.size)[3] - s.drawing.height_mm for s in sheets]
    best = max(range(len(sheets)), key=lambda n: (free[n], -n), default=None)
    if best is not None and free[best] >= strip + _APART_MM:
        sheet = sheets[best]
        rest = free[best] - strip
        at = (sheet.at[0], top + max(0.0, rest - _APART_MM) / 2)
        space = Space(left, body(*sheet.size)[1] + body(*sheet.size)[3] - strip, wide, strip)
        done = FramedPage(sheet.drawing, sheet.title, at, sheet.size, (legend_in(entries, space),))
        return [*sheets[:best], done, *sheets[best + 1 :]]
    found = _scattered(sheets, entries)
    if found is not None:
        return found
    space = Space(left, top + 10.0, wide, strip_mm(entries, wide))
    bare = Drawing((), wide, high, 0, {}, 7.0)
    return [*sheets, FramedPage(bare, "legend", (left, top), size, (legend_in(entries, space),))]


def _scattered(sheets: list[FramedPage], entries: list[LegendEntry]) -> list[FramedPage] | None:
    """The legend in free spaces of the pages, None where these do not hold it."""
    made = []
    rest = entries
    for sheet in sheets:
        more: list[Mark] = []
        left, top, wide, high = body(*sheet.size)
        room = (left, top, left + wide, top + high)
        for space in spaces(shift(sheet.drawing.marks, *sheet.at), room, _SPACES):
            _, count = placed(rest, space)
            if rest and count >= min(_LEAST_ENTRIES, len(rest)):
                more.append(legend_in(rest[:count], space))
                rest = rest[count:]
        made.append(FramedPage(sheet.drawing, sheet.title, sheet.at, sheet.size, tuple(more)))
    return None if rest else made


def _page(
    job: Job, sheet: FramedPage, said: dict[str, tuple[int, str]], place: tuple[int, int]
) -> Page:  # fmt: skip
    number, count = place
    marks = shift(worded(sheet.drawing.marks, said), *sheet.at)
    ident = "schematic" if number == 1 else f"schematic-{number}"
    about = f"{TITLE} of {job.rig.name}" + (f": {sheet.title}" if sheet.title else "")
    group = Group(ident, about, (*marks, *sheet.more), role=FIGURE, about=NOTE)
    zones = spoken_as(_zones(sheet.size), Kind.FURNITURE) if said else ()
    drawn: list[Mark] = [*zones, group]
    drawn += _title_block(job, sheet, place)
    name = TITLE if number == 1 else f"{TITLE} {number}"
    return Page(*sheet.size, tuple(drawn), name if count > 1 else TITLE)


def _zones(size: tuple[float, float]) -> list[Mark]:
    """Letters and figures at the edges, by which a mark says a place."""
    left, top, wide, high = body(*size)
    marks: list[Mark] = []
    for column in range(_COLUMNS):
        x = left + wide * (column + 0.5) / _COLUMNS
        marks.append(Text((x, top - 1.6), str(column + 1), FLOOR_PT, "middle", colour="#606060"))
        edge = left + wide * column / _COLUMNS
        if column:
            marks.append(Line(((edge, top - 3.2), (edge, top - 1.6)), _HAIR))
    for row in range(_ROWS):
        y = top + high * (row + 0.5) / _ROWS + 0.9
        marks.append(Text((left - 2.6, y), "ABCD"[row], FLOOR_PT, "middle", colour="#606060"))
        edge = top + high * row / _ROWS
        if row:
            marks.append(Line(((left - 3.4, edge), (left - 1.8, edge)), _HAIR))
    return marks


def drawing_number(job: Job) -> str:
    """A number for the drawing that stays from one revision to the next."""
    word = re.sub(r"[^\w]+", "-", job.rig.name).strip("-").upper()
    return f"{word[:_LONGEST].rstrip('-') or 'RIG'}-S"


def _title_block(job: Job, sheet: FramedPage, place: tuple[int, int]) -> list[Mark]:
    """Title, rig, drawing number and revision, who drew and checked it, page."""
    wide, high = sheet.size
    left, top = MARGIN_MM, high - MARGIN_MM - STRIP_MM
    wide -= 2 * MARGIN_MM
    head = 0.68 * STRIP_MM
    marks: list[Mark] = [rect(left, top, wide, STRIP_MM, pen=_RULE)]
    marks.append(Line(((left, top + head), (left + wide, top + head)), _HAIR))
    shares = (0.27, 0.28, 0.16, 0.19, 0.10)
    edges = [left + wide * sum(shares[:n]) for n in range(len(shares) + 1)]
    marks += [Line(((x, top), (x, top + head)), _HAIR) for x in edges[1:-1]]

    def cell(column: int, first: float, last: float, words: str, style: Style) -> None:
        box = (edges[column] + 1.5, top + first * head + 0.4, edges[column + 1] - edges[column] - 3,
               (last - first) * head - 0.8)  # fmt: skip
        marks.extend(block(words, box, style))

    plain = Style(8, FLOOR_PT, align="start", kind=Kind.STRIP)
    bold = Style(10, FLOOR_PT, bold=True, align="start", kind=Kind.STRIP)
    furniture = Style(8, FLOOR_PT, align="start", kind=Kind.FURNITURE)
    title = f"{TITLE}: {sheet.title}" if sheet.title else TITLE
    as_title = Style(11, FLOOR_PT, 3, bold=True, align="start", kind=Kind.TITLE)
    cell(0, 0.0, 1.0, title, as_title)
    strip = job.strip
    cell(1, 0.0, 0.5, strip[0], bold)
    cell(1, 0.5, 1.0, ", ".join(strip[2:]), plain)
    cell(2, 0.0, 0.5, f"drawing {drawing_number(job)}", plain)
    cell(2, 0.5, 1.0, strip[1], plain)
    for row, word in enumerate(("drawn", "checked")):
        cell(3, 0.5 * row, 0.5 * row + 0.5, word, furniture)
        y = top + (0.5 * row + 0.5) * head - 1.0
        marks.append(Line(((edges[3] + 14.0, y), (edges[4] - 1.5, y)), _HAIR))
    cell(4, 0.0, 1.0, f"page {place[0]} of {place[1]}",
         Style(9, FLOOR_PT, 2, kind=Kind.FURNITURE))  # fmt: skip
    foot = (left + 1.5, top + head + 0.3, 0.5 * wide - 3, STRIP_MM - head - 0.6)
    marks += block(DEFERS, foot, replace(bold, size_pt=8))
    beside = (left + 0.5 * wide, foot[1], 0.5 * wide - 1.5, foot[3])
    marks += block(_note(job, sheet), beside, Style(8, FLOOR_PT, 2, align="end", kind=Kind.STRIP))
    return marks


def _note(job: Job, sheet: FramedPage) -> str:
    wide, high = sheet.size
    if (wide, high) == (job.paper.height_mm, job.paper.width_mm):
        return NOTE
    return f"Print at full size on paper of {wide:.0f} x {high:.0f} mm. {NOTE}"
