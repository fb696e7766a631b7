"""Left ends of the rows: panels with their slots, and circuits that start elsewhere."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from rigfolio.draw import (
    BAR,
    HALF_MM,
    STROKE,
    SYMBOLS,
    Circle,
    Group,
    Line,
    Mark,
    Pen,
    Point,
    Text,
    fit,
    letters,
    plus_sign,
    rect,
    terminal,
    width_mm,
)
from rigfolio.model import Conductor, Device, Panel
from rigfolio.schematic.cut import RADIUS_MM, cut_mm, draw_cut
from rigfolio.schematic.paint import (
    CELL_MM,
    FACT_PT,
    LINE_MM,
    MOST_LINES,
    NAME_PT,
    ROW,
    Canvas,
    broken,
    named,
    rows_below,
    rows_for,
    words,
)
from rigfolio.schematic.rungs import Block, Strand
from rigfolio.wording import ALWAYS_ON, amps, rating_words

MAIN_MM = 19.0

_BUS_MM = 4.4
_FUSE_MM = 13.4
_ASIDE_MM = 4.4
_WORDS_MM = _FUSE_MM + _ASIDE_MM
_LEAST_MM, _MOST_MM = 20.0, (48.0, 36.0, 27.0, 20.0)
_HEAD_LINE_MM = 3.6
_PLACE_MM = _FUSE_MM - 4.5
_MOST_ASIDE_MM = 9.0
_IDLE_MM = 1.0
_OUTLINE = Pen(0.5)
_HAIR = Pen(0.1, "#909090")
_GREY = "#606060"


@dataclass(frozen=True, slots=True)
class GridCell:
    """Where a block stands: left edge, bus and right edge [mm], heights of its rows [mm].

    `feeds_mm` are rows where a supply lands from the right, `lands_mm` heights where it lands from
    the left, `slots_mm` the first row of each strand, `bottom_mm` the lower edge.
    """

    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float
    feeds_mm: tuple[float, ...]
    lands_mm: tuple[float, ...]
    slots_mm: tuple[float, ...]
    wide_mm: float

    @property
    def bus_mm(self) -> float:
        """The bus that the slots share."""
        return self.right_mm - self.wide_mm + _BUS_MM

    @property
    def fuse_mm(self) -> float:
        """The middle of the fuses."""
        return self.bus_mm + _FUSE_MM - _BUS_MM


def draw_block(canvas: Canvas, block: Block, cell: GridCell) -> None:
    """A panel with its slots, or the start of a circuit outside panels."""
    if block.panel is not None:
        _panel(canvas, block.panel, block, cell)
    for strand, y_mm in zip(block.strands, cell.slots_mm, strict=True):
        if block.panel is not None:
            _slot(canvas, block.panel, strand, cell, y_mm)
        else:
            _start(canvas, strand, cell, y_mm)


def panel_words(panel: Panel) -> str:
    """`12 slots of 20 A, 75 A in all`."""
    text = f"{panel.slots} slots"
    if panel.slot_a is not None:
        text += f" of {amps(panel.slot_a)}"
    if panel.total_a is not None:
        text += f", {amps(panel.total_a)} in all"
    return text


def panel_mm(canvas: Canvas, blocks: Iterable[Block]) -> float:
    """Width of panels that have room for the names of their slots."""
    wanted = _LEAST_MM
    for block in blocks:
        for cut in (block.before, block.after):
            if cut is not None:
                wanted = max(wanted, cut_mm(cut) + _BUS_MM - RADIUS_MM - _WORDS_MM)
        if block.panel is not None:
            wanted = max(wanted, width_mm(panel_words(block.panel), FACT_PT) - _WORDS_MM + 3.0)
        for strand in block.strands:
            if block.panel is not None or strand.device is not None:
                wanted = max(wanted, width_mm(strand.label, NAME_PT, bold=True),
                             width_mm(_rating(strand), FACT_PT))  # fmt: skip
            else:
                head_mm = width_mm(_head(strand), NAME_PT, bold=True)
                wanted = max(wanted, head_mm + 4.0 - _WORDS_MM)
    return _WORDS_MM + min(wanted, _MOST_MM[canvas.narrow]) + 1.5


def head_cells(block: Block, wide_mm: float) -> int:
    """Cells that the head of a panel takes, with its whole name."""
    facts = broken(panel_words(block.panel), wide_mm - 3.0) if block.panel else ()
    more_mm = _HEAD_LINE_MM * (len(_title(block, wide_mm)) - 1) + LINE_MM * (len(facts) - 1)
    return ROW + ceil(more_mm / CELL_MM)


def name_rows(strand: Strand, block: Block, wide_mm: float) -> int:
    """Rows to be left free below the first row of a strand for its name."""
    room_mm = wide_mm - _WORDS_MM - 1.2
    if strand.device is None and block.panel is None:
        is_on = any(circuit.always_on for circuit in strand.circuits)
        facts = ALWAYS_ON.lower() if is_on else ""
        return rows_below(_head(strand), facts, wide_mm - 4.0, bold=True)
    rows = rows_below(strand.label, _rating(strand), room_mm, bold=True)
    if block.panel is None:
        aside_mm = _aside_mm(strand)
        rows = rows_below(strand.label, _rating(strand), room_mm - aside_mm, bold=True)
        return max(rows, rows_below(_place(strand), "", _PLACE_MM + aside_mm, bold=True))
    if not (strand.circuits or strand.steps or strand.device):
        lines = len(broken(_idle(strand)[1], room_mm))
        return rows_for(_IDLE_MM + LINE_MM * (lines - 1)) if lines > 1 else 0
    return rows


def _aside_mm(strand: Strand) -> float:
    """How far the fuse of a circuit outside panels gives way to the name of its place."""
    wide = max(width_mm(word, NAME_PT, bold=True) for word in (*_place(strand).split(), ""))
    return min(_MOST_ASIDE_MM, max(0.0, wide + 0.2 - _PLACE_MM))


def _title(block: Block, wide_mm: float) -> tuple[str, ...]:
    """Name of a panel, line by line."""
    panel = block.panel
    text = f"{panel.about.name}  {panel.about.label}".strip() if panel else ""
    done = fit(text, wide_mm - 3.0, size_pt=9.0, floor_pt=9.0, lines=MOST_LINES, bold=True)
    return done.lines


def _idle(strand: Strand) -> tuple[str, str]:
    """What a slot without a circuit is, and the words on it."""
    use = strand.kept.use if strand.kept else "not listed"
    label = strand.kept.label if strand.kept else ""
    return use, f"{use}: {label}" if label else use


def _panel(canvas: Canvas, panel: Panel, block: Block, cell: GridCell) -> None:
    wide = cell.right_mm - cell.left_mm
    high = cell.bottom_mm - cell.top_mm
    bus = cell.bus_mm
    rows = [*cell.feeds_mm, *cell.slots_mm, *cell.lands_mm]
    marks: list[Mark] = [rect(cell.left_mm, cell.top_mm, wide, high, pen=_OUTLINE)]
    base = cell.top_mm + 3.6
    for line in _title(block, cell.wide_mm):
        marks.append(Text((cell.left_mm + 1.5, base), line, 9.0, bold=True))
        base += _HEAD_LINE_MM
    for number, line in enumerate(broken(panel_words(panel), cell.wide_mm - 3.0)):
        marks.append(Text((cell.left_mm + 1.5, base + LINE_MM * number), line, FACT_PT))
    if rows:
        top, bottom = min(rows) - 1.0, max(rows) + 1.0
        above = rows[0] if block.before else top - 1.1
        marks.append(plus_sign((bus - 2.2, above)))
        step = ROW * CELL_MM
        if block.before is not None:
            top = min(rows) - step
            marks.append(draw_cut(block.before, (bus - RADIUS_MM, top), 1.0))
        if block.after is not None:
            bottom = cell.bottom_mm - 0.6 * step
        marks.insert(0, Line(((bus, top), (bus, bottom)), BAR))
        if block.after is not None:
            marks.append(draw_cut(block.after, (bus - RADIUS_MM, bottom), 1.0))
    marks += _landings(cell, block.main)
    canvas.inks.append(Group(panel.about.name, f"panel {panel.about}", tuple(marks)))


def _landings(cell: GridCell, main: Device | None) -> list[Mark]:
    """Where the supply lands on a panel, through its main if it has one."""
    marks: list[Mark] = []
    left, bus = cell.left_mm, cell.bus_mm
    for y in cell.feeds_mm:
        marks.append(Line(((bus, y), (cell.right_mm, y)), STROKE))
        marks += words((cell.fuse_mm + _ASIDE_MM, y - 1.3), "feed", 25, FACT_PT)
        marks.append(terminal((cell.right_mm, y)))
    if main is not None and cell.lands_mm:
        y = cell.lands_mm[len(cell.lands_mm) // 2]
        middle = (left + 2.0 + HALF_MM, y)
        tie = left + 1.2
        marks += _tie(left, tie, cell.lands_mm)
        marks.append(Line(((tie, y), (middle[0] - HALF_MM, y)), STROKE))
        marks.append(Line(((middle[0] + HALF_MM, y), (bus, y)), STROKE))
        marks += _device(main, middle)
        marks.append(Text((middle[0], y + 4.4), f"main {amps(main.rating_a)}", FACT_PT, "middle"))
    else:
        marks += [Line(((left, y), (bus, y)), STROKE) for y in cell.lands_mm]
    if main is not None and not cell.lands_mm and cell.feeds_mm:
        middle = (cell.fuse_mm, cell.feeds_mm[0])
        marks += _device(main, middle)
        marks += words((middle[0] + 6.0, middle[1] + 3.3), f"main {amps(main.rating_a)}", 30,
                       FACT_PT)  # fmt: skip
    return [*marks, *(terminal((left, y)) for y in cell.lands_mm)]


def _tie(left_mm: float, tie_mm: float, heights: Sequence[float]) -> list[Mark]:
    marks: list[Mark] = [Line(((left_mm, y), (tie_mm, y)), STROKE) for y in heights]
    if len(heights) > 1:
        marks.append(Line(((tie_mm, min(heights)), (tie_mm, max(heights))), STROKE))
    return marks


def _device(device: Device, at: Point) -> tuple[Mark, ...]:
    title = f"{device.kind} {device.about}, {amps(device.rating_a)}"
    return (Group(device.about.name, title, SYMBOLS[device.kind](at)),)


def _slot(canvas: Canvas, panel: Panel, strand: Strand, cell: GridCell, y: float) -> None:
    bus, right, fuse = cell.bus_mm, cell.right_mm, cell.fuse_mm
    room = right - 1.2 - (fuse + _ASIDE_MM)
    edge = y - ROW * CELL_MM / 2
    # Accents of a name reach as high as this line, so it ends before the names.
    marks: list[Mark] = [Line(((bus + 1.2, edge), (fuse + _ASIDE_MM - 0.6, edge)), _HAIR)]
    number = Text((bus + 1.6, y - 0.8), str(strand.slot), 8.0, bold=True)
    title = f"{strand.name}: {strand.label}" if strand.label else strand.name
    if strand.circuits or strand.steps or strand.device:
        marks.append(Line(((bus, y), (right, y)), STROKE))
        if strand.device is not None:
            marks += SYMBOLS[strand.device.kind]((fuse, y))
        marks += named((fuse + _ASIDE_MM, y), strand.label, _rating(strand), room, bold=True)
        marks.append(terminal((right, y)))
    else:
        use, text = _idle(strand)
        if use == "spare":
            marks.append(Line(((bus, y), (fuse - 3.2, y)), STROKE))
            dashed = Pen(0.25, _GREY, (0.9, 0.6))
            marks.append(rect(fuse - 3.2, y - 1.25, 6.4, 2.5, pen=dashed))
        elif use == "blank":
            marks.append(Line(((fuse - 3.2, y + 1.25), (fuse + 3.2, y - 1.25)), Pen(0.25, _GREY)))
            marks.append(rect(fuse - 3.2, y - 1.25, 6.4, 2.5, pen=Pen(0.25, _GREY)))
        marks += [Text((fuse + _ASIDE_MM, y + _IDLE_MM + LINE_MM * n), line, FACT_PT)
                  for n, line in enumerate(broken(text, room))]  # fmt: skip
        title = f"{strand.name}: {use}"
    marks.append(number)
    canvas.inks.append(Group(f"{panel.about.name}.{strand.slot}", title, tuple(marks)))


def _rating(strand: Strand) -> str:
    rating = rating_words(strand.device)
    is_on = any(circuit.always_on for circuit in strand.circuits)
    conditions = [circuit.condition for circuit in strand.circuits if circuit.condition]
    return ", ".join([rating, *([ALWAYS_ON.lower()] if is_on else []), *conditions])


def _place(strand: Strand) -> str:
    return strand.circuits[0].place if strand.circuits else strand.name


def _head(strand: Strand) -> str:
    """Place and name of a circuit that starts with a wire."""
    place = _place(strand)
    return f"{place}  {strand.label}" if strand.label != strand.name else place


def _start(canvas: Canvas, strand: Strand, cell: GridCell, y: float) -> None:
    """A circuit that starts at a terminal elsewhere: its fuse and its name."""
    left, right = cell.left_mm, cell.right_mm
    fuse = cell.fuse_mm
    if strand.device is not None:
        fuse += _aside_mm(strand)
    marks: list[Mark] = []
    room = right - 1.2 - (fuse + _ASIDE_MM)
    if strand.device is not None:
        marks.append(Line(((left, y), (right, y)), STROKE))
        marks += SYMBOLS[strand.device.kind]((fuse, y))
        marks += named((fuse + _ASIDE_MM, y), strand.label, _rating(strand), room, bold=True)
        marks += named((left + 1.0, y), _place(strand), "", fuse - 4.5 - left,
                       bold=True)  # fmt: skip
    else:
        is_on = any(circuit.always_on for circuit in strand.circuits)
        marks += named((left + 2.0, y), _head(strand), ALWAYS_ON.lower() if is_on else "",
                       right - left - 4.0, bold=True)  # fmt: skip
        is_wired = len(strand.steps) == 1 and isinstance(strand.steps[0].item, Conductor)
        if strand.origin is not None and not is_wired:
            marks.append(Line(((left, y), (right, y)), STROKE))
        if strand.origin is None:
            marks += [Circle((right, y), 1.0, STROKE, "#ffffff"), letters((right - 3, y), "?", 8)]
    title = f"{strand.name}: {strand.label}" if strand.label else strand.name
    canvas.inks.append(Group(strand.name, title, tuple(marks)))
