"""Marks of bars, rungs and the legend.

It answers how each thing looks at its place. It moves nothing but words that would touch.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.painting.bars import (
        BarPainter as BarPainter,
    )
    from rigfolio.schematic.painting.legend import (
        LegendEntry as LegendEntry,
        Space as Space,
        entries_of as entries_of,
        legend_in as legend_in,
        placed as placed,
        spaces as spaces,
        strip_mm as strip_mm,
    )
    from rigfolio.schematic.painting.placement import (
        Placement as Placement,
    )
    from rigfolio.schematic.painting.references import (
        Marks as Marks,
        Reference as Reference,
        looks_of as looks_of,
        renamed as renamed,
    )
    from rigfolio.schematic.painting.rungs import (
        RungPainter as RungPainter,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        bars="BarPainter",
        legend="LegendEntry Space entries_of legend_in placed spaces strip_mm",
        placement="Placement",
        references="Marks Reference looks_of renamed",
        rungs="RungPainter",
    )
