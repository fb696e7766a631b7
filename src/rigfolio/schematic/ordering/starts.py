"""Orders that a search begins from: by distance from the battery, and as graphviz lays it out."""

from collections.abc import Sequence

from rigfolio.schematic.chains import Bar, Stack

Start = tuple[list[int], list[int]]
"""Numbers of bars from left to right and of blocks from top to bottom."""
_FEW = 3


def starts_of(
    bars: Sequence[Bar], blocks: Sequence[Stack], *, with_dot: bool = True
) -> list[Start]:  # fmt: skip
    """Orders to begin from; that of graphviz is left out where its program does not answer."""
    by_text = list(range(len(blocks)))
    near = sorted(range(len(bars)), key=lambda n: _rank(bars[n], n))
    found: list[Start] = [(near, by_text)]
    if with_dot and len(bars) >= _FEW and len(blocks) > _FEW:
        drawn = _dot_start(bars, blocks, near)
        if drawn is not None:
            found.append(drawn)
    return found


def _rank(bar: Bar, number: int) -> tuple[bool, int, int]:
    return bar.sign == "-", bar.depth, number


def _dot_start(bars: Sequence[Bar], blocks: Sequence[Stack], near: Sequence[int]) -> Start | None:
    """Columns of graphviz give the order of bars, its rows that of blocks."""
    from rigfolio.render import LayoutError, NodeBox, NodeEdge, place

    number = {bar.name: n for n, bar in enumerate(bars)}
    rank = {bars[n].name: at for at, n in enumerate(near)}
    boxes = [*(NodeBox(1.0) for _ in bars), *(NodeBox(float(block.rows)) for block in blocks)]
    edges: list[NodeEdge] = []
    for n, block in enumerate(blocks):
        ends = dict.fromkeys(
            (unit.a, unit.b) if not unit.b or rank[unit.a] <= rank[unit.b] else (unit.b, unit.a)
            for unit in block.units
        )
        for left, right in ends:
            edges.append(NodeEdge(number[left], len(bars) + n))
            if right:
                edges.append(NodeEdge(len(bars) + n, number[right]))
    try:
        spots = place(boxes, list(dict.fromkeys(edges)))
    except LayoutError:
        return None
    order = sorted(range(len(bars)), key=lambda n: (spots[n].column, spots[n].row, n))
    rows = [spots[len(bars) + n].row for n in range(len(blocks))]
    return order, sorted(range(len(blocks)), key=lambda n: (rows[n], n))
