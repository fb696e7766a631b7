"""What each page of a circuit diagram shows, and what crosses from page to page."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from rigfolio.draw import shift
from rigfolio.model import Conductor
from rigfolio.schematic.cut import Number, marks_in
from rigfolio.schematic.plan import Drawing, Fits
from rigfolio.schematic.rungs import Block, Cut, End, Link, Part

_APART_MM = 10.0
"""Between two diagrams of one page, so that they are seen as two."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """What one page shows: parts of the source side, or blocks of rows."""

    parts: tuple[Part, ...] = ()
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A diagram for one page, and what it shows in a few words."""

    drawing: Drawing
    title: str


@dataclass(slots=True)
class Pieces:
    """What crosses from and to one leaf, as it is drawn there."""

    narrow: int = 0
    parts: list[Part] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    bar_cuts: dict[str, Cut] = field(default_factory=dict)
    stop_cuts: dict[str, Cut] = field(default_factory=dict)
    origins: dict[str, End] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Cross:
    """What leads from one leaf to another, by both of its sides.

    `kinds` say how a side is drawn: a `part` with its wire, a `start` of a circuit outside panels,
    the end (`stop`) of a row, the foot of a `bar`. `out` is the side that leads away.
    """

    key: str
    leaves: tuple[int, int]
    ends: tuple[End, End]
    words: tuple[tuple[str, ...], tuple[str, ...]]
    kinds: tuple[str, str]
    out: int
    wire: Conductor | None


def is_source_minus(part: Part, terminal: str) -> bool:
    """Whether a terminal is the minus of a source."""
    thing = part.things[0] if part.things else None
    return getattr(thing, "minus", None) == terminal


def panels_of(leaf: Leaf) -> set[str]:
    """The names of the panels that stand on a page."""
    return {block.panel.about.name for block in leaf.blocks if block.panel is not None}


def split(block: Block, count: int) -> tuple[Block, Block]:
    """A panel with its first slots, and one with the others."""
    return replace(block, strands=block.strands[:count]), replace(
        block, strands=block.strands[count:]
    )


def led(block: Block, pieces: Pieces) -> Block:
    """A block whose circuits start at the marks that lead to them."""
    strands = tuple(
        replace(s, origin=pieces.origins.get(f"start {s.name}", s.origin)) for s in block.strands
    )
    return replace(block, strands=strands)


def numbers_of(drawings: Sequence[Drawing]) -> dict[tuple[str, bool], Number]:
    """The number of every mark and the page of its other side."""
    seats: dict[tuple[str, bool], tuple[int, float]] = {}
    order: dict[str, int] = {}
    for page, made in enumerate(drawings, start=1):
        for mark in sorted(marks_in(made.marks), key=lambda m: (m.at[1], m.at[0])):
            seats[mark.cut.key, mark.cut.is_out] = (page, mark.at[1])
            order.setdefault(mark.cut.key, len(order) + 1)
    numbers = {}
    for (key, is_out), (page, y_mm) in seats.items():
        there, there_mm = seats[key, not is_out]
        beside = "" if there != page else "below" if there_mm > y_mm else "above"
        numbers[key, is_out] = Number(order[key], there, beside)
    return numbers


def gathered(leaves: Sequence[Leaf], drawings: Sequence[Drawing], fits: Fits) -> tuple[Sheet, ...]:
    """The drawings of leaves as pages: what fits one together stands there one below the other.

    A leaf goes to the first page with room, but never before another part of one of its panels.
    """
    pages: list[Sheet] = []
    begun: dict[str, int] = {}
    for leaf, made in zip(leaves, drawings, strict=True):
        panels = panels_of(leaf)
        first = max((begun[panel] for panel in panels if panel in begun), default=0)
        sheet = Sheet(made, title_of(leaf))
        for place in range(first, len(pages)):
            both = _stacked(pages[place], sheet)
            if fits(both.drawing):
                pages[place] = both
                break
        else:
            place = len(pages)
            pages.append(sheet)
        begun |= dict.fromkeys(panels, place)
    return tuple(pages)


def _stacked(upper: Sheet, lower: Sheet) -> Sheet:
    one, two = upper.drawing, lower.drawing
    wide_mm = max(one.width_mm, two.width_mm)
    down_mm = one.height_mm + _APART_MM
    marks = (
        *shift(one.marks, (wide_mm - one.width_mm) / 2, 0.0),
        *shift(two.marks, (wide_mm - two.width_mm) / 2, down_mm),
    )
    titles = dict.fromkeys((*upper.title.split("; "), *lower.title.split("; ")))
    return Sheet(Drawing(marks, wide_mm, down_mm + two.height_mm), "; ".join(titles))


def title_of(leaf: Leaf) -> str:
    """What a page shows."""
    if leaf.parts:
        is_low = all(part.is_minus for part in leaf.parts)
        return "negative side" if is_low else "sources and feeders"
    said = []
    for block in leaf.blocks:
        if block.panel is None:
            word = "circuits outside panels"
        else:
            word = f"{block.panel.about.name} {block.panel.about.label}".strip()
            word += _slots(block)
        said.append(word)
    return "; ".join(dict.fromkeys(said))


def short_of(leaf: Leaf) -> str:
    """What the rows of a page are called at a mark."""
    said = [
        f"{b.panel.about.name}{_slots(b)}" if b.panel else b.strands[0].label or b.strands[0].name
        for b in leaf.blocks
    ]
    panels = [word for word, b in zip(said, leaf.blocks, strict=True) if b.panel]
    return " and ".join(panels) or said[0]


def _slots(block: Block) -> str:
    """`, slots 1 to 12` where only these stand on a page."""
    if block.panel is None or len(block.strands) == block.panel.slots:
        return ""
    first, last = block.strands[0].slot, block.strands[-1].slot
    return f", slots {first} to {last}" if first != last else f", slot {first}"
