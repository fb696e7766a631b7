"""Rows of slots in which the text has no circuit yet."""

import re

from rigfolio.model import Panel, Rig, Slot
from rigfolio.surveys.change import SurveyChange
from rigfolio.surveys.columns import Column
from rigfolio.surveys.loads import loads_of
from rigfolio.surveys.new_circuit import NOBODY, circuit_text
from rigfolio.surveys.told import Surveyed, Trouble
from rigfolio.wording import how_many

_KEPT = ("spare", "blank", "empty")
_SLOT = re.compile(
    r"(?:(?P<panel>[^\W\d]\w*?)\s*[.\-/ ]\s*)?(?:slot|no\.?|#)?\s*(?P<number>[1-9]\d*)",
    re.IGNORECASE,
)


def written_slot(place: str) -> tuple[str, int] | None:
    """Panel and number of a slot as a person writes it; no panel where none is named.

    Examples
    --------
    >>> [written_slot(place) for place in ("P1.3", "p1 slot 3", "slot 3", "3", "F1")]
    [('P1', 3), ('p1', 3), ('', 3), ('', 3), None]
    """
    found = _SLOT.fullmatch(place.strip())
    if found is None:
        return None
    panel = found["panel"] or ""
    return "" if panel.casefold() == "slot" else panel, int(found["number"])


def slot_of(rig: Rig, place: str) -> tuple[Panel, int] | None:
    """The slot that is meant; of the only panel, where none is named."""
    written = written_slot(place)
    if written is None:
        return None
    named = written[0].casefold()
    panels = [one for one in rig.panels if named in ("", one.about.name.casefold())]
    return (panels[0], written[1]) if len(panels) == 1 else None


def put_slot(
    row: Surveyed, rig: Rig, panel: Panel, number: int, change: SurveyChange, *, has_commas: bool
) -> bool:
    """Put in the row of a slot that has no circuit; whether it is one."""
    name = panel.about.name
    if number > panel.slots:
        words = f"`{name}` has {how_many(panel.slots, 'slot')} in the text: write the count"
        change.trouble.append(Trouble(row.line, words))
        return True
    if any(one.panel == name and one.slot == number for one in rig.circuits):
        return False
    kept = next((s for s in rig.slots if s.panel == name and s.number == number), None)
    said = row.cells.get("name", "").casefold()
    place = f"{name}.{number}"
    if kept is not None:
        _put_kept(row, kept, _noted(rig, place), change)
    elif said in _KEPT and len(row.cells) == 1:
        use = "blank" if said == "blank" else "spare"
        change.add(row, place, f"slot {place} {use}\n", f"added as {use}")
    elif row.cells:
        loads = loads_of(row, change, has_commas=has_commas)
        text = circuit_text(row, place, loads or [(NOBODY, "? A")], change)
        change.add(row, place, text, "added as a circuit")
    return True


def _put_kept(row: Surveyed, kept: Slot, noted: str, change: SurveyChange) -> None:
    """Keep what is noted of a slot that is kept free, and tell each cell that says it is not.

    A wire that comes out of a slot that is free on paper may be live: not one cell is passed over.
    """
    beyond = [column for column in row.cells if not _is_free(column, row.cells[column], kept)]
    note = row.cells.get("note", "")
    if note and not beyond:
        if note.casefold() not in noted.casefold():
            change.add(row, kept.place, f'note {kept.place} "{note}"\n', f'note "{note}"')
        return
    told: tuple[Column, ...] = (*beyond, "note") if note else tuple(beyond)
    for column in told:
        words = (
            f"the text says it is {kept.use}: {column} `{row.cells[column]}` is NOT TAKEN; take "
            f"`slot {kept.place} {kept.use}` out of the text and put the table in again"
        )
        change.told(row, words)


def _is_free(column: Column, cell: str, kept: Slot) -> bool:
    """Whether a cell says no more than that a slot is free, or something to be noted of it."""
    if column == "name":
        return cell.casefold() in (*_KEPT, kept.label.casefold())
    return column == "note" or (column == "wires" and cell == "0")


def _noted(rig: Rig, place: str) -> str:
    """What the text notes of a slot by itself."""
    return "; ".join(one.note for one in rig.remarks if one.place == place)
