"""A slot that is free on paper and has a wire in it: every cell of its row is told of."""

from rigfolio.answers.filled_survey import put_in

RIG = """rig "Spare"
    system 24 V
    rules boat
panel P1 4 slots of 30 A
busbar N1 200 A
battery B1 agm, 180 Ah
wire B1+ to P1 16 mm2 red 2 m, fuse 80 A at B1+
wire N1 to B1- 16 mm2 black 1 m
"""
TABLE = "place,name,colour,gauge,found\nP1.3,{},{},{},{}\n"
NOTHING_NEW = "the survey says nothing that the text does not say already"


def told(tmp_path, slot: str, *cells: str) -> str:
    rig, table = tmp_path / "a.rig", tmp_path / "a.csv"
    rig.write_text(RIG + slot)
    table.write_text(TABLE.format(*cells))
    put, _ = put_in(str(rig), str(table))
    assert put is not None
    return put.told


def test_each_cell_of_a_wire_in_a_spare_slot_is_told_as_not_taken(tmp_path) -> None:
    words = told(tmp_path, "slot P1.3 spare\n", "spare", "grey", "1.5 mm2", "10 A")
    for column, cell in (("colour", "grey"), ("gauge", "1.5 mm2"), ("found", "10 A")):
        assert f"P1.3: the text says it is spare: {column} `{cell}` is NOT TAKEN" in words
    assert NOTHING_NEW not in words
    # The way out that is told is one.
    assert "added as a circuit" in told(tmp_path, "", "spare", "grey", "1.5 mm2", "10 A")


def test_a_spare_slot_that_is_found_spare_says_nothing_new(tmp_path) -> None:
    assert NOTHING_NEW in told(tmp_path, "slot P1.3 spare\n", "spare", "", "", "")
