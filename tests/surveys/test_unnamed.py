"""A circuit of which nobody knew what it is gets the name of what went dead, and no second load."""

from pathlib import Path

import pytest

from rigfolio.answers.filled_survey import put_in

RIG = """rig "Unnamed"
    system 12 V
    rules rv
battery B1 100 Ah
panel P1 6 slots of 20 A
busbar N1
wire B1+ to P1 6 AWG 3 ft
wire N1 to B1- 6 AWG 3 ft
circuit P1.1 "{circuit}" fuse ?
    wire ?
    load "{load}" ?
"""


def put(folder: Path, circuit: str, load: str, went: str) -> str:
    rig, table = folder / "a.rig", folder / "a.csv"
    rig.write_text(RIG.format(circuit=circuit, load=load))
    table.write_text(f"place,went dead,draws\nP1.1,{went},1.2 A\n")
    made, _ = put_in(str(rig), str(table))
    assert made is not None
    return made.contents[rig].decode()


@pytest.mark.parametrize("word", ["Unknown", "Nobody knows", "not known", "Mystery", "UNNAMED"])
def test_what_nobody_knew_gets_the_name_of_what_went_dead(tmp_path: Path, word: str) -> None:
    text = put(tmp_path, word, word, "AIS receiver")
    assert word not in text
    assert text.endswith(
        'circuit P1.1 "AIS receiver" fuse ?\n    wire ?\n    load "AIS receiver" 1.2 A\n'
    )


def test_a_name_that_says_what_it_is_stays_beside_what_went_dead_too(tmp_path: Path) -> None:
    text = put(tmp_path, "Radio", "Radio", "Reading lamp")
    assert 'circuit P1.1 "Radio"' in text
    assert 'load "Radio" ?' in text
    assert 'load "Reading lamp" 1.2 A' in text


def test_a_circuit_with_a_name_keeps_it(tmp_path: Path) -> None:
    text = put(tmp_path, "Mast", "unknown", "Anchor light")
    assert 'circuit P1.1 "Mast"' in text
    assert 'load "Anchor light" 1.2 A' in text
    assert "unknown" not in text
