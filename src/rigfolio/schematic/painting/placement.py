"""What stands where on one page: bars and rungs by rows, columns and the words of a style."""

from rigfolio.record import record
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.ordering import RowPlan
from rigfolio.schematic.setting import BOX_MM, Columns, Ruler, edge_of, extents

_BESIDE_MM = 0.5


@record
class Placement:
    """Places on one page, before its rows have their heights."""

    grid: RowPlan
    ruler: Ruler
    columns: Columns

    @property
    def size_pt(self) -> float:
        """The type of the page."""
        return self.ruler.size_pt

    def bar(self, name: str) -> Bar:
        """A bar by its name."""
        return self.ruler.bars[name]

    def x(self, name: str) -> float:
        """How far from the left a bar stands [mm]."""
        return self.columns.at[name]

    def span(self, name: str) -> tuple[int, int]:
        """First and last row of a bar."""
        return self.grid.spans[name]

    def reach(self, name: str) -> tuple[float, float]:
        """How far a bar with its frame reaches to the left and to the right [mm]."""
        return extents(self.ruler, self.grid, name)

    def edge(self, bar: Bar) -> int:
        """-1 for the first bar of the page, 1 for the last one, else 0."""
        return edge_of(self.grid, bar)

    def is_framed(self, bar: Bar) -> bool:
        """Whether slots of a panel stand on this page."""
        return bar.panel is not None and bar.panel.about.name in self.ruler.slot_mm

    def half(self, name: str) -> float:
        """From the middle of a bar to where its rungs end [mm]."""
        return BOX_MM if name and self.ruler.bars[name].is_box else 0.0

    def is_clear(self, left: float, right: float, rows: tuple[int, int], own: str) -> bool:
        """Whether no other bar runs through a space between two rows."""
        for name, (first, last) in self.grid.spans.items():
            if name == own or not (first <= rows[0] and rows[1] <= last):
                continue
            x, reach = self.x(name), self.reach(name)
            if left < x + reach[1] + _BESIDE_MM and x - reach[0] - _BESIDE_MM < right:
                return False
        return True
