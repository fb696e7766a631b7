"""Which page shows what: only bars are cut, never rungs."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise, product

from rigfolio.draw import Circle, Group, Mark, Text
from rigfolio.model import Device
from rigfolio.record import record, replace
from rigfolio.schematic.chains import Bar, Ladder, Stack, folded, opened
from rigfolio.schematic.composer import JOINT_STEPS, Composer, panels_shown
from rigfolio.schematic.drawing import LEAST_MM, Drawing, Room
from rigfolio.schematic.ordering import RowPlan
from rigfolio.schematic.painting import Marks, Reference

_PAGE, _CUT = 6.0, 1.0
_LETTERS = 26
_STACKED = 1.2
"""How much higher than a page two drawings together may be, and yet share rows on one."""
_LARGE = Room(5000.0, 5000.0)
_PLACEHOLDER = {True: "to page 88, D8", False: "from page 88, D8"}


@record
class Leaf:
    """What one page shows."""

    blocks: tuple[Stack, ...]

    @property
    def bars(self) -> dict[str, None]:
        """The bars of a page."""
        ends = (bar for block in self.blocks for unit in block.units for bar in (unit.a, unit.b))
        return dict.fromkeys(bar for bar in ends if bar)

    @property
    def panels(self) -> tuple[str, ...]:
        """The panels whose slots stand on a page."""
        return tuple(block.panel for block in self.blocks if block.panel)


@record
class PageBreak:
    """Where a bar is cut: its name, both pages by number from 0."""

    bar: str
    upper: int
    lower: int


def leaves_of(composer: Composer, blocks: Sequence[Stack]) -> list[Leaf]:
    """Pages in order: all on one if it fits, else the source side and each panel, then merged."""
    blocks = _narrowed(composer, blocks)
    if not blocks:
        return []
    whole = Leaf(tuple(blocks))
    if composer.drawing(whole.blocks, {}) is not None:
        return [whole]
    behind = {block.panel: _behind(composer, block, blocks) for block in blocks if block.panel}
    its = {id(one) for found in behind.values() for group in found for one in group}
    source = tuple(block for block in blocks if not block.panel and id(block) not in its)
    leaves = _divided(composer, source) if source else []
    for block in blocks:
        if block.panel:
            leaves += _with_behind(composer, _chunks(composer, block), behind[block.panel], blocks)
    return _merged(composer, leaves)


def _behind(composer: Composer, panel: Stack, blocks: Sequence[Stack]) -> list[tuple[Stack, ...]]:
    """What hangs on each switch of several ways that the slots of a panel lead to."""
    bars = composer.graph.bars
    left = [block for block in blocks if not block.panel]
    groups = []
    for name in sorted(_joints(bars, panel, switches_only=True)):
        known, found = {name}, list[Stack]()
        while True:
            more = [one for one in left if known & _joints(bars, one, switches_only=False)]
            if not more:
                break
            found += more
            known |= {end for one in more for end in _joints(bars, one, switches_only=False)}
            left = [one for one in left if not any(one is other for other in more)]
        groups += [tuple(found)] if found else []
    return groups


def _joints(bars: Mapping[str, Bar], block: Stack, *, switches_only: bool) -> set[str]:
    """The boxes of switches of several ways that units of a block meet, and joints if asked."""
    ends = {bar for unit in block.units for bar in (unit.a, unit.b) if bar}
    boxes = {name for name in ends if bars[name].is_box and any(
        isinstance(thing, Device) and thing.position for thing in bars[name].things
    )}  # fmt: skip
    return boxes if switches_only else boxes | {name for name in ends if bars[name].is_minor}


def _with_behind(
    composer: Composer, parts: Sequence[Stack], behind: Sequence[tuple[Stack, ...]],
    blocks: Sequence[Stack],
) -> list[Leaf]:  # fmt: skip
    """The pages of a panel, and what hangs behind its slots on the same one as far as it fits."""
    here, rest = tuple(parts), list[Stack]()
    for group in behind:
        every = (*here, *group)
        fits = len(parts) == 1 and composer.drawing(every, _marked_to(every, blocks)) is not None
        here = every if fits else here
        rest += [] if fits else group
    leaves = [Leaf(here)] if len(parts) == 1 else [Leaf((part,)) for part in parts]
    return leaves + (_divided(composer, tuple(rest)) if rest else [])


def _marked_to(here: Sequence[Stack], blocks: Sequence[Stack]) -> Marks:
    """Marks at both ends of every bar of some blocks that goes on in others."""
    panels = {block.panel for block in here if block.panel}
    others = [block for block in blocks
              if block.panel not in panels and not any(block is one for one in here)]  # fmt: skip
    on = Leaf(tuple(others)).bars
    return {bar: mark for block in here for bar, mark in _all_marked(block).items() if bar in on}


def cuts_of(leaves: Sequence[Leaf]) -> list[PageBreak]:
    """All places where a bar goes on upon another page, in the order of the pages."""
    pages: dict[str, list[int]] = {}
    for number, leaf in enumerate(leaves):
        for bar in leaf.bars:
            pages.setdefault(bar, []).append(number)
    found = [PageBreak(bar, *pair) for bar, each in pages.items() for pair in pairwise(each)]
    return sorted(found, key=lambda cut: (cut.upper, cut.lower))


def marks_of(cuts: Sequence[PageBreak], number: int) -> Marks:
    """The marks of one page with words of the widest kind in place of the true ones."""
    marks: dict[str, tuple[Reference | None, Reference | None]] = {}
    for count, cut in enumerate(cuts, start=1):
        names = (f"mark-{count}-out", f"mark-{count}-in")
        head, foot = marks.get(cut.bar, (None, None))
        if cut.lower == number:
            marks[cut.bar] = (Reference(count, _PLACEHOLDER[False], names[1], names[0]), foot)
        elif cut.upper == number:
            marks[cut.bar] = (head, Reference(count, _PLACEHOLDER[True], names[0], names[1]))
    return marks


def drawings_of(composer: Composer, leaves: Sequence[Leaf]) -> list[Drawing]:
    """The drawing of each page; one that cannot be divided may be larger than the paper."""
    cuts = cuts_of(leaves)
    made = []
    for number, leaf in enumerate(leaves):
        marks = marks_of(cuts, number)
        drawing = composer.drawing(leaf.blocks, marks)
        if drawing is None:
            drawing = composer.drawing(leaf.blocks, marks, room=_LARGE)
        if drawing is None:
            raise ValueError("a page of the diagram has no layout")
        made.append(drawing)
    return made


def worded(marks: Sequence[Mark], said: dict[str, tuple[int, str]]) -> tuple[Mark, ...]:
    """Marks of a page with the true number and words of each mark, by its name."""
    return tuple(_worded(mark, said) for mark in marks)


def _worded(mark: Mark, said: dict[str, tuple[int, str]]) -> Mark:
    if not isinstance(mark, Group):
        return mark
    if mark.ident not in said:
        return replace(mark, marks=worded(mark.marks, said))
    number, words = said[mark.ident]
    inner: list[Mark] = []
    for each in mark.marks:
        if isinstance(each, Text):
            is_number = each.bold
            inner.append(replace(each, text=str(number) if is_number else words))
        elif isinstance(each, Circle):
            inner.append(each)
    return replace(mark, title=f"mark {number} {words}", marks=tuple(inner))


def _narrowed(composer: Composer, blocks: Sequence[Stack]) -> list[Stack]:
    """Blocks without units that are wider than a page by themselves.

    A unit of several rungs is opened, so that pages may be cut at its joints; a rung is cut in two
    at a terminal, and both ends bear a letter.
    """
    made: list[Stack] = []
    queue = list(blocks)
    seen: list[Ladder] = []
    letters = 0
    while queue:
        block = queue.pop(0)
        for unit in block.units:
            if not composer.is_wide(unit) or any(unit is each for each in seen):
                continue
            seen.append(unit)
            alone = Stack((unit,), block.panel)
            marks = _all_marked(alone)
            if composer.drawing((alone,), marks, steps=JOINT_STEPS) is not None:
                continue
            parts = opened(alone)
            if not parts and letters < _LETTERS:
                parts = folded(alone, chr(ord("A") + letters))
                letters += bool(parts)
            if parts:
                queue = [_replaced(block, unit, parts[0]), *parts[1:], *queue]
                break
        else:
            made.append(block)
    return made


def _replaced(block: Stack, unit: Ladder, part: Stack) -> Stack:
    """A block with the units of another one in place of one of its own."""
    units = [each for u in block.units for each in (part.units if u is unit else (u,))]
    return replace(block, units=tuple(units))


def _divided(composer: Composer, blocks: tuple[Stack, ...]) -> list[Leaf]:
    """The source side on as few pages as can be, cut where few bars hang together."""
    if len(blocks) == 1 or composer.drawing(blocks, {}) is not None:
        return [Leaf(blocks)]
    order, grid = composer.grid(blocks)
    parts = _cut(order.blocks, grid, int(composer.room.high_mm / LEAST_MM))
    if len(parts) == 1:
        parts = _cut(order.blocks, grid, max(1, grid.rows // 2))
    if len(parts) == 1:
        half = len(blocks) // 2
        parts = [order.blocks[:half], order.blocks[half:]]
    return [leaf for part in parts for leaf in _divided(composer, part)]


def _cut(blocks: Sequence[Stack], grid: RowPlan, most: int) -> list[tuple[Stack, ...]]:
    """Blocks in their order cut by dynamic programming: few pages, few bars over a cut."""
    tops, lows = _rows(blocks, grid)
    ends = [{b for unit in block.units for b in (unit.a, unit.b) if b} for block in blocks]
    best: list[tuple[float, int]] = [(0.0, 0)]
    for last in range(1, len(blocks) + 1):
        options = []
        for first in range(last):
            rows = max(lows[first:last]) - min(tops[first:last]) + 1
            if rows > most and last - first > 1:
                continue
            across = set().union(*ends[:first]) & set().union(*ends[first:]) if first else set()
            options.append((best[first][0] + _PAGE + _CUT * len(across), first))
        best.append(min(options))
    parts: list[tuple[Stack, ...]] = []
    last = len(blocks)
    while last:
        first = best[last][1]
        parts.insert(0, tuple(blocks[first:last]))
        last = first
    return parts


def _rows(blocks: Sequence[Stack], grid: RowPlan) -> tuple[list[int], list[int]]:
    """First and last row of each block."""
    tops, lows, at = [], [], 0
    for block in blocks:
        seats = grid.seats[at : at + len(block.units)]
        at += len(block.units)
        tops.append(min(seat.row for seat in seats))
        lows.append(max(seat.last for seat in seats))
    return tops, lows


def _chunks(composer: Composer, block: Stack) -> list[Stack]:
    """The slots of a panel on as few pages as can be: whole columns, else parts alike in rows."""
    slots: dict[int, list[Ladder]] = {}
    for unit in block.units:
        slots.setdefault((unit.slot or ("", 0))[1], []).append(unit)
    panel = next((p for p in composer.job.rig.panels if p.about.name == block.panel), None)
    numbers = list(slots)
    for room, count in product((composer.room, _wide(composer.room)), range(1, len(numbers) + 1)):
        options = []
        if panel is not None and 1 < count <= panel.columns:
            columns = [panel.cell(number)[0] * count // panel.columns for number in numbers]
            if columns == sorted(columns):
                options.append(columns)
        options.append(_even(numbers, [sum(u.rows for u in slots[n]) for n in numbers], count))
        for marks in options:
            parts = [
                Stack(tuple(u for n, m in zip(numbers, marks, strict=True) if m == part
                            for u in slots[n]), block.panel)
                for part in sorted(set(marks))
            ]  # fmt: skip
            if all(composer.drawing((part,), _all_marked(part), room=room) for part in parts):
                return parts
    return [Stack(tuple(slots[n]), block.panel) for n in numbers]


def _wide(room: Room) -> Room:
    """Paper that is wide enough for a slot of any length, so that only such a page is wider."""
    return Room(_LARGE.wide_mm, room.high_mm)


def _all_marked(block: Stack) -> Marks:
    """Marks at both ends of every bar, so that a part fits whatever comes before and after it."""
    return {
        bar: (
            Reference(88, _PLACEHOLDER[False], f"mark at the head of {bar}", ""),
            Reference(88, _PLACEHOLDER[True], f"mark at the foot of {bar}", ""),
        )
        for bar in Leaf((block,)).bars
    }


def _even(numbers: Sequence[int], rows: Sequence[int], count: int) -> list[int]:
    """The part of each slot, where parts have about as many rows each."""
    total, done, found = sum(rows), 0, []
    for _, each in zip(numbers, rows, strict=True):
        found.append(min(count - 1, int((done + each / 2) * count / total)))
        done += each
    return found


def _merged(composer: Composer, leaves: list[Leaf]) -> list[Leaf]:
    """Pages joined while a joint layout fits, those with most bars in common first."""
    tried: set[tuple[int, ...]] = set()
    most = _STACKED * composer.room.high_mm
    while True:
        pairs = sorted(_pairs(leaves), key=lambda p: (-len(_common(leaves, p)), p))
        for one, two in pairs:
            joint = Leaf((*leaves[one].blocks, *leaves[two].blocks))
            key = tuple(sorted(id(unit) for block in joint.blocks for unit in block.units))
            if key in tried:
                continue
            tried.add(key)
            if composer.is_spent:
                return leaves
            if sum(composer.height_mm(leaves[n].blocks) for n in (one, two)) > most:
                continue
            rest = [leaf for n, leaf in enumerate(leaves) if n not in (one, two)]
            after = [*rest[:one], joint, *rest[one:]]
            if composer.drawing(joint.blocks, marks_of(cuts_of(after), one), steps=JOINT_STEPS):
                leaves = after
                break
        else:
            return leaves


def _pairs(leaves: Sequence[Leaf]) -> Iterator[tuple[int, int]]:
    """Pages that may stand on one; parts of one panel stay in the order of its slots."""
    for one in range(len(leaves)):
        for two in range(one + 1, len(leaves)):
            panels = set(leaves[two].panels)
            between = leaves[one + 1 : two]
            if panels & set(leaves[one].panels):
                continue
            if not any(panels & set(leaf.panels) for leaf in between):
                yield one, two


def _common(leaves: Sequence[Leaf], pair: tuple[int, int]) -> list[str]:
    return [bar for bar in leaves[pair[0]].bars if bar in leaves[pair[1]].bars]


def shown_slots(leaf: Leaf) -> dict[str, tuple[int, int]]:
    """First and last slot of each panel on a page."""
    found = {}
    for name, block in panels_shown(leaf.blocks).items():
        numbers = [(unit.slot or ("", 0))[1] for unit in block.units]
        found[name] = (min(numbers), max(numbers))
    return found
