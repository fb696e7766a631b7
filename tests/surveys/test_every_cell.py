"""Every filled cell of a survey is written into the text, or named as not taken."""

from pathlib import Path

import pytest

from rigfolio.answers.filled_survey import put_in

RIG = """rig "Cells"
    system 24 V
    rules rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
fuse F1 40 A, mega, interrupts 5 kA
disconnect S1 100 A
panel P1 6 slots of 20 A, interrupts 2 kA
busbar N1 100 A
charger C1 16 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to F1 10 mm2 red 0.2 m
wire W3 F1 to S1 10 mm2 red 2 m
wire W4 S1 to P1 10 mm2 red 2 m, fuse 40 A at S1
wire W5 C1+ to P1 4 mm2 red 2 m, note "rubs"
wire W6 C1- to N1 4 mm2 black 2 m
load L1 "Lone lamp" 24 W
wire W7 P1 to L1+ 2.5 mm2 red 2 m, fuse 5 A at P1
wire W8 L1- to N1 2.5 mm2 black 2 m
circuit P1.1 "Lamp" fuse 5 A, marked 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 24 W, led
circuit P1.2 "Told" fuse 5 A, note "{long}"
    wire 1.5 mm2 red 3 m
    load "Told" 1 A
circuit P1.3 fuse ? A
    wire ? mm2 ? ? m
    load "not known yet" ? A
slot P1.4 spare
slot P1.5 blank
""".format(long="x" * 70)
CELLS = {
    "name": "Zebra lamp", "colour": "violet", "gauge": "6 mm2", "length": "7.7 m",
    "found": "15 A", "marked": "25 A", "belongs": "7.5 A", "wires": "3", "went dead": "Yonder pump",
    "draws": "3.3 A", "tail": "12 cm", "leaves loom at": "9 cm", "plate": "interrupts 9 kA",
    "condition": "scorched, loose", "note": "a live wire end here, 24 V",
}  # fmt: skip
"""A value for each column that stands nowhere in the text."""
PLACES = (
    "P1.1", "P1.2", "P1.3", "P1.4", "P1.5", "P1.6", "W1", "W5", "F1", "S1", "P1/S1 fuse", "B1",
    "P1", "N1", "C1", "L1", "F7", "fuse F7",
)  # fmt: skip
LONG = "mouse " * 13 + "ate it"


def put(folder: Path, place: str, cells: dict[str, str]) -> tuple[str, str]:
    """The text after a row was put in, and what was told; the columns stand in one table."""
    rig, table = folder / "a.rig", folder / "a.csv"
    rig.write_text(RIG)
    row = ",".join(f'"{cell}"' for cell in cells.values())
    table.write_text(f"place,{','.join(cells)}\n{place},{row}\n")
    made, _ = put_in(str(rig), str(table))
    assert made is not None
    content = made.contents.get(rig)
    return RIG if content is None else content.decode(), made.told


def is_met(text: str, told: str, column: str, cell: str) -> bool:
    """Whether a cell stands in the text, or is named as one that was left alone."""
    parts = [part.strip() for part in cell.split(",")] if column == "condition" else [cell]
    new = text.replace(RIG, "") if text.startswith(RIG) else text
    words = told.partition("left alone:")[2] + told.partition("not read;")[2]
    if "nothing is called" in words:
        return True  # The whole row is named.
    return all(part in new or part in words or f"`{column}`" in words for part in parts)


@pytest.mark.parametrize("place", PLACES)
def test_each_cell_by_itself_is_written_or_named(place: str, tmp_path: Path) -> None:
    for column, cell in (*CELLS.items(), ("note", LONG)):
        text, told = put(tmp_path, place, {column: cell})
        assert is_met(text, told, column, cell), (column, told)


@pytest.mark.parametrize("place", PLACES)
def test_each_cell_beside_others_is_written_or_named(place: str, tmp_path: Path) -> None:
    for left in CELLS:
        cells = {column: cell for column, cell in CELLS.items() if column != left}
        text, told = put(tmp_path, place, cells)
        for column, cell in cells.items():
            assert is_met(text, told, column, cell), (left, column, told)


def test_a_new_part_takes_what_its_line_has_room_for(tmp_path: Path) -> None:
    text, told = put(tmp_path, "F7", {**CELLS, "name": "fuse Zebra", "plate": "60 A"})
    for column, cell in {**CELLS, "name": "Zebra", "plate": "60 A"}.items():
        assert is_met(text, told, column, cell), (column, told)


@pytest.mark.parametrize("place", ["P1.4", "P1.5"])
def test_a_note_on_a_slot_that_is_kept_free_stands_in_the_text_once(
    place: str, tmp_path: Path
) -> None:
    text, _ = put(tmp_path, place, {"name": "spare", "note": "a live wire end here, 24 V"})
    assert f'note {place} "a live wire end here, 24 V"' in text
    rig = tmp_path / "a.rig"
    rig.write_text(text)
    made, _ = put_in(str(rig), str(tmp_path / "a.csv"))
    assert made is not None
    assert made.contents == {}
    assert "nothing that the text does not say already" in made.told
