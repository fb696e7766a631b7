"""The text of a part that only a survey knows: `charger C1 "Converter", 45 A`."""

from rigfolio.kinds import DEVICES, JUNCTIONS, SOURCES
from rigfolio.surveys.change import SurveyChange, note_words
from rigfolio.surveys.columns import Column
from rigfolio.surveys.statement_index import read_statement
from rigfolio.surveys.told import Surveyed

_RATED = "? A"
_RATINGS: tuple[Column, ...] = ("plate", "found", "belongs")
_SAID: tuple[Column, ...] = ("name", "condition", "note", "wires")


def put_part(row: Surveyed, change: SurveyChange) -> bool:
    """Add a part that the text does not have, and tell what its line has no room for.

    The name of a part begins with its kind, `fuse Battery fuse`, as the printed table has it; of a
    row that does not say what kind it is nothing is added.
    """
    kind, _, label = row.cells.get("name", "").partition(" ")
    kind = kind.casefold()
    if kind not in (*DEVICES, *JUNCTIONS, *SOURCES) or not row.place.isidentifier():
        return False
    opening = f'{kind} {row.place} "{label}"' if label else f"{kind} {row.place}"
    mark = row.cells.get("condition", "").split(", ")[0]
    behind = f", {mark}" if mark else ""
    rating = next((one for one in _RATINGS if row.cells.get(one)), None)
    for said in (row.cells[rating] if rating else _RATED, ""):
        text = f"{opening} {said}".strip() + behind
        if read_statement(text) is not None:
            notes = change.noted(row, note_words(row))
            text += f', note "{notes}"' if notes else ""
            change.add(row, row.place, f"{text}\n", "added; no wire of the text leads to it yet")
            _not_taken(row, (*_SAID, *([rating] if rating and said else [])), change)
            return True
    return False


def _not_taken(row: Surveyed, known: tuple[Column, ...], change: SurveyChange) -> None:
    """Tell what a part that is new cannot say yet."""
    for column, cell in row.cells.items():
        if column not in known:
            change.told(
                row, f"it is new: {column} `{cell}` is NOT TAKEN; put the table in again with it"
            )
