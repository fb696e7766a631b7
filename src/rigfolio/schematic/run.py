"""What stands on the source side of a circuit diagram, and what runs between it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rigfolio.model import Conductor
from rigfolio.render import BoxCentre
from rigfolio.schematic.paint import CELL_MM
from rigfolio.schematic.rungs import Cut, End, Part
from rigfolio.schematic.shape import Shape


@dataclass(frozen=True, slots=True)
class Run:
    """A wire of the source side.

    `a` is a terminal of a part or the name of a panel; `b` is one of these too, or a number for a
    port at the right edge. `block` is the number of the block that the port belongs to, -1 for a
    bottom lane. `cut` is the flat mark at `a` whose words stand in place of the label.
    """

    name: str
    wire: Conductor | None
    a: End | str
    b: End | str | int
    block: int = -1
    cut: Cut | None = None

    @property
    def is_labelled(self) -> bool:
        """Whether its label stands beside one of its ends here."""
        return self.cut is not None or (self.wire is not None and not isinstance(self.b, int))


@dataclass(slots=True)
class Stand:
    """Where a part stands: its column, the cell where its first row meets its left edge."""

    shape: Shape
    column: int = 0
    x: int = 0
    y: int = 0
    columns: int = 0

    @property
    def bottom(self) -> int:
        """The last row that the part takes."""
        return self.y + self.shape.below(self.shape.columns * CELL_MM)

    @property
    def centre(self) -> float:
        """The middle of its landings, in rows."""
        return self.y + self.shape.span / 2


def is_right(parts: Mapping[str, Part], end: End) -> bool:
    """Whether an end can only be at the right side of its part."""
    part = parts[end[0]]
    return end[1] in part.right and end[1] not in part.left


def is_forward(one: Part, terminal: str, two: Part, other: str) -> bool:
    """Whether a run leads from the right side of one part to the left side of another."""
    if one.left != one.right and terminal in one.left:
        return False
    return not (two.left != two.right and other in two.right and other not in two.left
                and (one.left == one.right))  # fmt: skip


def packed(spots: Sequence[BoxCentre], heights: Sequence[int]) -> list[int]:
    """Tops of the blocks, one below the other with a gap, near to where graphviz put them."""
    tops: list[int] = []
    bottom = -10_000
    for spot, high in zip(spots, heights, strict=True):
        top = max(round(spot.row - high / 2), bottom + 2)
        tops.append(top)
        bottom = top + high
    return tops
