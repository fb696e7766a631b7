"""Series-parallel pieces of the graph: what stands together on rows that follow each other."""

from collections.abc import Iterable, Sequence

from rigfolio.record import record, replace
from rigfolio.schematic.chains.elements import Bar, End, Graph, Rung, turned


@record
class Laid:
    """A rung on a row of its unit, read from the left bar to the right one.

    `left` and `right` are bars; the one at a free end is empty. `is_turned` says that the rung is
    read from its second end.
    """

    rung: Rung
    row: int
    left: str
    right: str
    is_turned: bool = False


@record
class Ladder:
    """Rungs and minor bars between two core bars, on `rows` rows; `b` is empty at a free end."""

    a: str
    b: str
    rows: int
    laid: tuple[Laid, ...]
    minors: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[int, int]:
        """Place in the text."""
        return min(each.rung.key for each in self.laid)

    @property
    def slot(self) -> tuple[str, int] | None:
        """Panel and number of the first slot that it starts in."""
        return next((e.rung.slot for e in self.laid if e.rung.slot and e.rung.a in self.ends), None)

    @property
    def ends(self) -> tuple[str, str]:
        """Both bars."""
        return self.a, self.b

    @property
    def is_resumed(self) -> bool:
        """Whether it is the second part of a rung that was cut for the width of a page."""
        return any(e.rung.end and e.rung.end.kind == "resumed" for e in self.laid)

    def lands(self, bar: str) -> tuple[int, ...]:
        """Rows on which it meets a bar."""
        return tuple(e.row for e in self.laid if bar in (e.left, e.right))

    def turned(self) -> "Ladder":
        """The same unit seen from its other end."""
        laid = tuple(
            Laid(e.rung, e.row, e.right, e.left, not e.is_turned) for e in self.laid
        )  # fmt: skip
        return Ladder(self.b, self.a, self.rows, laid, self.minors)


@record
class Stack:
    """Units that stay together in their order: slots of a panel, or one unit."""

    units: tuple[Ladder, ...]
    panel: str = ""

    @property
    def rows(self) -> int:
        """Rows that it takes at most."""
        return sum(unit.rows for unit in self.units)


def blocks_of(graph: Graph, *, frames: bool = False) -> tuple[Stack, ...]:
    """All units of a graph: each panel's slots in ascending order, any other unit by itself.

    With `frames` every rung to the frame ends in a sign of its own; else those of slots do.
    """
    units = _reduced(graph)
    units = [_signed(graph, unit, frames=frames) for unit in units]
    slots: dict[str, list[Ladder]] = {}
    single = []
    for each in units:
        unit, place = each, each.slot
        if place is not None:
            if not any(e.rung.slot and e.rung.a == unit.a for e in unit.laid):
                unit = unit.turned()
            slots.setdefault(place[0], []).append(unit)
        else:
            single.append(Stack((unit,)))
    panels = [
        Stack(tuple(sorted(each, key=lambda u: (u.slot or ("", 0), u.key))), name)
        for name, each in slots.items()
    ]
    return (*sorted(single, key=lambda block: block.units[0].key), *panels)


def _reduced(graph: Graph) -> list[Ladder]:
    """Units after all minor bars are drawn into them that have at most two neighbours."""
    units = [Ladder(r.a, r.b, 1, (Laid(r, 0, r.a, r.b),)) for r in graph.rungs]
    minors = [name for name, bar in graph.bars.items() if bar.is_minor]
    changed = True
    while changed:
        changed = False
        for name in list(minors):
            here = [unit for unit in units if name in (unit.a, unit.b)]
            far = dict.fromkeys(_other(unit, name) for unit in here)
            far.pop("", None)
            if here and len(far) <= 2 and name not in far:
                units = [unit for unit in units if unit not in here]
                units.append(_joined(name, here, list(far), graph))
                minors.remove(name)
                changed = True
    return units


def _other(unit: Ladder, name: str) -> str:
    return unit.b if unit.a == name else unit.a


def _joined(name: str, here: Sequence[Ladder], far: Sequence[str], graph: Graph) -> Ladder:
    """One unit of all that meets at a minor bar: what comes from its nearest end stands left."""
    ends = sorted(far, key=lambda end: _rank(graph.bars[end]))
    first = ends[0] if ends else ""
    second = ends[1] if len(ends) > 1 else ""
    left = [u if u.b == name else u.turned() for u in here if ends and _other(u, name) == first]
    right = [u if u.a == name else u.turned() for u in here
             if not ends or _other(u, name) != first]  # fmt: skip
    if not left:
        # A joint by itself: it is the left end.
        made = _stacked(right)
        return Ladder(name, "", made.rows, made.laid, made.minors)
    one = _stacked(left)
    if not right:
        return Ladder(first, "", one.rows, one.laid, (*one.minors, name))
    two = _stacked(right)
    rows = max(one.rows, two.rows)
    return Ladder(first, second, rows, (*one.laid, *two.laid), (*one.minors, name, *two.minors))


def _rank(bar: Bar) -> tuple[bool, int, str]:
    return bar.sign == "-", bar.depth, bar.name


def _stacked(units: Iterable[Ladder]) -> Ladder:
    """Units side by side between the same bars, one below the other in the order of the text."""
    ordered = sorted(units, key=lambda unit: (not unit.b, unit.key))
    row = 0
    laid: list[Laid] = []
    minors: list[str] = []
    for unit in ordered:
        laid += [replace(each, row=each.row + row) for each in unit.laid]
        minors += unit.minors
        row += unit.rows
    b = next((unit.b for unit in ordered if unit.b), "")
    return Ladder(ordered[0].a, b, row, tuple(laid), tuple(minors))


def _signed(graph: Graph, unit: Ladder, *, frames: bool) -> Ladder:
    """A unit whose rungs to the frame end in a sign, where that is wanted and another end stays."""
    wanted = frames or unit.slot is not None
    ends = [end for end in (unit.a, unit.b) if end and graph.bars[end].kind == "frame"]
    if not wanted or len(ends) != 1 or not (unit.a and unit.b):
        return unit
    frame = ends[0]
    faced = unit if unit.b == frame else unit.turned()
    laid = []
    for each in faced.laid:
        if each.right == frame:
            port = each.rung.ports[0 if each.is_turned else 1]
            rung = replace(each.rung, end=End("frame", port))
            laid.append(replace(each, rung=rung, right=""))
        else:
            laid.append(each)
    return Ladder(faced.a, "", faced.rows, tuple(laid), faced.minors)


def opened(block: Stack) -> tuple[Stack, ...]:
    """Each rung of a unit as a unit: first those that stay with the slots, then all others.

    Empty where the unit is one rung.
    """
    (unit,) = block.units
    if len(unit.laid) < 2:
        return ()
    singles = [_single(each) for each in unit.laid]
    kept = [single for single in singles if single.slot] if block.panel else singles[:1]
    rest = tuple(Stack((single,)) for single in singles if single not in kept)
    return (Stack(tuple(kept), block.panel), *rest)


def _single(laid: Laid) -> Ladder:
    """A unit of one rung that begins at a bar, at that of the slot where there is one."""
    one = Ladder(laid.left, laid.right, 1, (replace(laid, row=0),))
    is_second = laid.rung.slot is not None and laid.rung.a == laid.right
    return one.turned() if not laid.left or is_second else one


def folded(block: Stack, letter: str) -> tuple[Stack, ...]:
    """A block with its longest rung cut at the terminal nearest its middle, and the other part.

    Only a rung between two bars that is a unit by itself is cut; empty where there is none.
    """
    long = [u for u in block.units if u.a and u.b and len(u.laid) == 1 and _pieces(u) > 1]
    if not long:
        return ()
    unit = max(long, key=_pieces)
    rung = unit.laid[0].rung
    if unit.laid[0].is_turned:
        rung = turned(rung)
    half = (len(rung.pieces) + 1) // 2
    head = replace(rung, b="", pieces=rung.pieces[:half], end=End("cut", letter))
    tail = replace(turned(rung), b="", end=End("resumed", letter), slot=None)
    tail = replace(tail, pieces=tail.pieces[: len(rung.pieces) - half])
    first = Ladder(unit.a, "", 1, (Laid(head, 0, unit.a, ""),))
    second = Ladder(unit.b, "", 1, (Laid(tail, 0, unit.b, ""),))
    units = tuple(first if each is unit else each for each in block.units)
    return replace(block, units=units), Stack((second,))


def _pieces(unit: Ladder) -> int:
    return len(unit.laid[0].rung.pieces)
