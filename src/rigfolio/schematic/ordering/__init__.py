"""The order of bars from left to right and of units from top to bottom, and the row of each.

It answers who stands beside and below whom. It may not know type or marks: how wide a unit is, it
is told.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.ordering.costs import (
        Costs as Costs,
    )
    from rigfolio.schematic.ordering.order import (
        MOST_STEPS as MOST_STEPS,
        Order as Order,
        Search as Search,
    )
    from rigfolio.schematic.ordering.program import (
        Program as Program,
    )
    from rigfolio.schematic.ordering.rows import (
        Berth as Berth,
        RowPlan as RowPlan,
        grid_of as grid_of,
    )
    from rigfolio.schematic.ordering.starts import (
        starts_of as starts_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        costs="Costs",
        order="MOST_STEPS Order Search",
        program="Program",
        rows="Berth RowPlan grid_of",
        starts="starts_of",
    )
