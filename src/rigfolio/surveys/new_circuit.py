"""The text of a circuit that only a survey knows; what it does not tell stands as `?`."""

from collections.abc import Sequence

from rigfolio.surveys.change import note_words
from rigfolio.surveys.told import Surveyed

NOBODY = "not known yet"
"""The label of a load that stands for whatever a circuit feeds."""
_LONGEST_NOTE = 80


def circuit_text(row: Surveyed, place: str, loads: Sequence[tuple[str, str]]) -> str:
    """A circuit with its wire and its loads.

    Parameters
    ----------
    row : Surveyed
        What the survey says of it.
    place : str
        Its slot.
    loads : sequence of tuple of (str, str)
        Each load with what it draws, `7 A` or `? A`.
    """
    cells = row.cells
    line = f"circuit {place}"
    if "name" in cells:
        line += f' "{cells["name"]}"'
    line += f" fuse {cells.get('belongs', '? A')}"
    for column in ("found", "marked"):
        line += f", {column} {cells[column]}" if column in cells else ""
    mark = cells.get("condition", "").split(", ")[0]
    line += f", {mark}" if mark else ""
    notes = "; ".join(note_words(row))[:_LONGEST_NOTE]
    line += f', note "{notes}"' if notes else ""
    wire = (
        f"    wire {cells.get('gauge', '? AWG')} {cells.get('colour', '?')} "
        f"{cells.get('length', '? ft')}"
    )
    wire += f", tail {cells['tail']}" if "tail" in cells else ""
    wire += f", breakout {cells['leaves loom at']}" if "leaves loom at" in cells else ""
    written = "".join(f'    load "{label}" {draws}\n' for label, draws in loads)
    return f"{line}\n{wire}\n{written}"
