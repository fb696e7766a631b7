"""The text of a part that only a survey knows: `charger C1 "Converter", 45 A`."""

from rigfolio.kinds import DEVICES, JUNCTIONS, SOURCES
from rigfolio.surveys.statement_index import read_statement
from rigfolio.surveys.told import Surveyed

_RATED = "? A"


def part_text(row: Surveyed) -> str:
    """A part on its own, no wire to it yet; empty where the row does not say what kind it is.

    The name of a part begins with its kind, `fuse Battery fuse`, as the printed table has it.
    """
    kind, _, label = row.cells.get("name", "").partition(" ")
    kind = kind.casefold()
    if kind not in (*DEVICES, *JUNCTIONS, *SOURCES) or not row.place.isidentifier():
        return ""
    rating = row.cells.get("plate") or row.cells.get("found") or row.cells.get("belongs")
    named = f' "{label}"' if label else ""
    opening = f"{kind} {row.place}{named}"
    mark = row.cells.get("condition", "").split(", ")[0]
    behind = f", {mark}" if mark else ""
    for text in (f"{opening} {rating or _RATED}{behind}", f"{opening}{behind}"):
        if read_statement(text) is not None:
            return f"{text}\n"
    return ""
