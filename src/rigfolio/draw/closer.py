"""Tables in a little less room, where that saves a page."""

from collections.abc import Sequence

from rigfolio.draw.lettering import Box
from rigfolio.draw.page import Mark
from rigfolio.draw.table import Table, flow
from rigfolio.record import replace

_SIZES_PT, _CLOSE_MM = (8.0, 7.5, 7.0), 0.35
"""Less air first; smaller type only where that alone saves no page."""


def flow_close(
    tables: Sequence[Table], area: Box, *, taken_mm: float = 0.0
) -> tuple[tuple[Mark, ...], ...]:
    """The same as `flow`, with less air and smaller type where these save a page."""
    bodies = flow(tables, area, taken_mm=taken_mm)
    for size_pt in _SIZES_PT:
        if len(bodies) == 1:
            break
        closer = flow([_closer(table, size_pt) for table in tables], area, taken_mm=taken_mm)
        bodies = closer if len(closer) < len(bodies) else bodies
    return bodies


def _closer(table: Table, size_pt: float) -> Table:
    return replace(table, size_pt=min(table.size_pt, size_pt), pad_mm=min(table.pad_mm, _CLOSE_MM))
