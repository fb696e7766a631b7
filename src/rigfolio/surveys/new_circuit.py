"""The text of a circuit that only a survey knows; what it does not tell stands as `?`."""

from collections.abc import Sequence

from rigfolio.surveys.change import SurveyChange, note_words
from rigfolio.surveys.statement_index import read_statement
from rigfolio.surveys.told import Surveyed

NOBODY = "not known yet"
"""The label of a load that stands for whatever a circuit feeds."""


def circuit_text(
    row: Surveyed, place: str, loads: Sequence[tuple[str, str]], change: SurveyChange
) -> str:
    """A circuit with its wire and its loads; what of a row has no room there is told.

    Parameters
    ----------
    row : Surveyed
        What the survey says of it.
    place : str
        Its slot.
    loads : sequence of tuple of (str, str)
        Each load with what it draws, `7 A` or `? A`.
    change : SurveyChange
        That tells.
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
    notes = change.noted(row, note_words(row))
    line += f', note "{notes}"' if notes else ""
    wire = (
        f"    wire {cells.get('gauge', '? AWG')} {cells.get('colour', '?')} "
        f"{cells.get('length', '? ft')}"
    )
    wire += f", tail {cells['tail']}" if "tail" in cells else ""
    wire += f", breakout {cells['leaves loom at']}" if "leaves loom at" in cells else ""
    plate = cells.get("plate", "")
    if plate and read_statement(f"{line}, {plate}") is not None:
        line += f", {plate}"
    elif plate:
        change.told(row, f"plate `{plate}` is NOT TAKEN: it is nothing that is said of a circuit")
    written = "".join(f'    load "{label}" {draws}\n' for label, draws in loads)
    return f"{line}\n{wire}\n{written}"
