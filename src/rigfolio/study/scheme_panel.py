"""Left ends of the rows: panels with their slots, and circuits that start elsewhere."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rigfolio.draw.fit import width_mm
from rigfolio.draw.page import Circle, Group, Line, Mark, Pen, Point, Text, rect
from rigfolio.draw.symbols import (
    BAR,
    HALF_MM,
    STROKE,
    SYMBOLS,
    letters,
    plus_sign,
    terminal,
)
from rigfolio.model.graph import Conductor, Device, Panel, Rig
from rigfolio.study.scheme import Block, Strand
from rigfolio.study.scheme_paint import (
    CELL_MM,
    FACT_PT,
    NAME_PT,
    ROW,
    Canvas,
    named,
    words,
)
from rigfolio.study.wording import amps, place_words, rating_words

MAIN_MM = 17.5

_BUS_MM = 5.0
_FUSE_MM = 15.0
_ASIDE_MM = 4.8
_WORDS_MM = _FUSE_MM + _ASIDE_MM
_LEAST_MM, _MOST_MM = 22.0, 42.0
_OUTLINE = Pen(0.5)
_HAIR = Pen(0.1, "#909090")
_GREY = "#606060"


@dataclass(frozen=True, slots=True)
class Cell:
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


def draw_block(canvas: Canvas, block: Block, cell: Cell) -> None:
    """A panel with its slots, or the start of a circuit outside panels."""
    if block.panel is not None:
        _panel(canvas, block.panel, block.main, cell)
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


def panel_mm(rig: Rig, blocks: Iterable[Block]) -> float:
    """Width of panels that have room for the names of their slots."""
    wanted = _LEAST_MM
    for block in blocks:
        if block.panel is not None:
            wanted = max(wanted, width_mm(panel_words(block.panel), FACT_PT) - _WORDS_MM + 3.0)
        for strand in block.strands:
            if block.panel is not None or strand.device is not None:
                wanted = max(wanted, width_mm(strand.label, NAME_PT, bold=True),
                             width_mm(_rating(strand), FACT_PT))  # fmt: skip
            else:
                head_mm = width_mm(_head(rig, strand), NAME_PT, bold=True)
                wanted = max(wanted, head_mm + 4.0 - _WORDS_MM)
    return _WORDS_MM + min(wanted, _MOST_MM) + 1.5


def _panel(canvas: Canvas, panel: Panel, main: Device | None, cell: Cell) -> None:
    wide = cell.right_mm - cell.left_mm
    high = cell.bottom_mm - cell.top_mm
    bus = cell.bus_mm
    rows = [*cell.feeds_mm, *cell.slots_mm, *cell.lands_mm]
    marks: list[Mark] = [rect(cell.left_mm, cell.top_mm, wide, high, pen=_OUTLINE)]
    name = f"{panel.about.name}  {panel.about.label}".strip()
    marks += words((cell.left_mm + 1.5, cell.top_mm + 3.6), name, wide - 3, 9.0, bold=True)
    marks += words((cell.left_mm + 1.5, cell.top_mm + 6.7), panel_words(panel), wide - 3, FACT_PT)
    if rows:
        top, bottom = min(rows) - 1.0, max(rows) + 1.0
        marks.append(Line(((bus, top), (bus, bottom)), BAR))
        marks.append(plus_sign((bus - 2.2, top - 1.1)))
    marks += _landings(cell, main)
    canvas.inks.append(Group(panel.about.name, f"panel {panel.about}", tuple(marks)))


def _landings(cell: Cell, main: Device | None) -> list[Mark]:
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
        marks.append(Text((middle[0], y + 4.0), f"main {amps(main.rating_a)}", FACT_PT, "middle"))
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


def _slot(canvas: Canvas, panel: Panel, strand: Strand, cell: Cell, y: float) -> None:
    bus, right, fuse = cell.bus_mm, cell.right_mm, cell.fuse_mm
    room = right - 1.2 - (fuse + _ASIDE_MM)
    edge = y - ROW * CELL_MM / 2
    marks: list[Mark] = [Line(((bus + 1.2, edge), (right, edge)), _HAIR)]
    number = Text((bus + 1.6, y - 0.8), str(strand.slot), 8.0, bold=True)
    title = f"{strand.name}: {strand.label}" if strand.label else strand.name
    if strand.circuits or strand.steps or strand.device:
        marks.append(Line(((bus, y), (right, y)), STROKE))
        if strand.device is not None:
            marks += SYMBOLS[strand.device.kind]((fuse, y))
        marks += named((fuse + _ASIDE_MM, y), strand.label, _rating(strand), room, bold=True)
        marks.append(terminal((right, y)))
    else:
        use = strand.kept.use if strand.kept else "not listed"
        label = strand.kept.label if strand.kept else ""
        if use == "spare":
            marks.append(Line(((bus, y), (fuse - 3.2, y)), STROKE))
            dashed = Pen(0.25, _GREY, (0.9, 0.6))
            marks.append(rect(fuse - 3.2, y - 1.25, 6.4, 2.5, pen=dashed))
        elif use == "blank":
            marks.append(Line(((fuse - 3.2, y + 1.25), (fuse + 3.2, y - 1.25)), Pen(0.25, _GREY)))
            marks.append(rect(fuse - 3.2, y - 1.25, 6.4, 2.5, pen=Pen(0.25, _GREY)))
        text = f"{use}: {label}" if label else use
        marks += words((fuse + _ASIDE_MM, y + 0.9), text, room, FACT_PT)
        title = f"{strand.name}: {use}"
    marks.append(number)
    canvas.inks.append(Group(f"{panel.about.name}.{strand.slot}", title, tuple(marks)))


def _rating(strand: Strand) -> str:
    rating = rating_words(strand.device)
    is_on = any(circuit.always_on for circuit in strand.circuits)
    conditions = [circuit.condition for circuit in strand.circuits if circuit.condition]
    return ", ".join([rating, *(["always on"] if is_on else []), *conditions])


def _place(rig: Rig, strand: Strand) -> str:
    return place_words(rig, strand.circuits[0]) if strand.circuits else strand.name


def _head(rig: Rig, strand: Strand) -> str:
    """Place and name of a circuit that starts with a wire."""
    place = _place(rig, strand)
    return f"{place}  {strand.label}" if strand.label != strand.name else place


def _start(canvas: Canvas, strand: Strand, cell: Cell, y: float) -> None:
    """A circuit that starts at a terminal elsewhere: its fuse and its name."""
    left, right = cell.left_mm, cell.right_mm
    fuse = cell.fuse_mm
    marks: list[Mark] = []
    room = right - 1.2 - (fuse + _ASIDE_MM)
    if strand.device is not None:
        marks.append(Line(((left, y), (right, y)), STROKE))
        marks += SYMBOLS[strand.device.kind]((fuse, y))
        marks += named((fuse + _ASIDE_MM, y), strand.label, _rating(strand), room, bold=True)
        marks += named((left + 1.0, y), _place(canvas.rig, strand), "", fuse - 4.5 - left,
                       bold=True)  # fmt: skip
    else:
        is_on = any(circuit.always_on for circuit in strand.circuits)
        marks += named((left + 2.0, y), _head(canvas.rig, strand), "always on" if is_on else "",
                       right - left - 4.0, bold=True)  # fmt: skip
        is_wired = len(strand.steps) == 1 and isinstance(strand.steps[0].item, Conductor)
        if strand.origin is not None and not is_wired:
            marks.append(Line(((left, y), (right, y)), STROKE))
        if strand.origin is None:
            marks += [Circle((right, y), 1.0, STROKE, "#ffffff"), letters((right - 3, y), "?", 8)]
    title = f"{strand.name}: {strand.label}" if strand.label else strand.name
    canvas.inks.append(Group(strand.name, title, tuple(marks)))
