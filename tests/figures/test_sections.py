"""What a row of the calculation says of a feed whose figures are those of one of its wires."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked
from rigfolio.demand import sags_of
from rigfolio.figures import sections_table
from rigfolio.judgement.result import Result, check

RIG = """rig "Bench"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
busbar N1 100 A
fuse F1 60 A anl, interrupts 6 kA
panel P1 4 slots of 20 A
alternator A1 40 A, 14.4 V
wire W1 B1+ to F1 6 AWG red 6 in
wire W2 F1 to P1 6 AWG red 20 ft
wire W3 P1- to N1 6 AWG black 20 ft
wire W4 N1 to B1- 6 AWG black 1 ft
wire W5 A1+ to B1+ 8 AWG red 4 ft, fuse 60 A at B1+, engine space
wire W6 A1- to N1 6 AWG black 4 ft
wire W7 A1+ to M1+ 14 AWG red 2 ft
load M1 "Hour meter" 0.1 A
wire M1- to N1 14 AWG black 2 ft
circuit P1.1 "Radio" fuse 20 A
    wire 10 AWG red 4 ft
    load 18 A, {}
"""


def _row(result: Result, place: str) -> dict[str, object]:
    assert result.study is not None
    table = sections_table(result.study, result.findings)
    keys = [column.key for column in table.columns]
    return next(dict(zip(keys, row, strict=True)) for row in table.rows if row[0] == place)


def _checked(tmp_path, text: str) -> Result:
    file = tmp_path / "case.rig"
    file.write_text(text)
    return check(str(file))


def test_a_feed_over_its_limit_says_where_that_is_told(tmp_path):
    # By hand: 52 ft of 6 AWG at 0.41 mohm a foot lose 18 A x 21 mohm = 0.38 V, 3.2 %; with the
    # radio's own 8 ft of 10 AWG at 1.04 mohm it is 0.53 V, 4.4 %, of which a critical load may 3 %.
    result = _checked(tmp_path, RIG.format("critical").replace("20 ft", "26 ft"))
    assert {one.rule for one in result.findings} >= {"voltage-drop"}
    assert _row(result, "F1")["verdict"] == "no finding: told of its loads"


def test_a_feed_within_its_limit_says_no_more(tmp_path):
    result = _checked(tmp_path, RIG.format("critical").replace("20 ft", "3 ft"))
    assert _row(result, "F1")["verdict"] == "no finding"


def test_a_feed_of_unlike_wires_names_the_one_that_bears_least(tmp_path):
    # 8 AWG bears 70 A and in an engine space 75 % of it, 14 AWG 20 A (33 CFR 183.425 Table 5).
    result = _checked(tmp_path, RIG.format("critical"))
    said = {one: _row(result, one)["carries"] for one in ("F1", "W5 fuse")}
    assert str(said["W5 fuse"]).startswith("20 A")
    assert str(said["W5 fuse"]).endswith(": W7")
    assert ":" not in str(said["F1"])


BACK = """rig "rd" system 24 V, rules vehicle
battery B1 24 V, lithium, 200 Ah, internal 8 mohm
panel P1 4 slots of 20 A, negative N1, interrupts 5 kA
busbar N1 200 A
wire W1 B1+ to P1 16 mm2 red 30 cm, fuse 50 A at B1+, class T, interrupts 20 kA
wire W4 N1 to B1- 16 mm2 black 30 cm
panel P2 4 slots of 20 A
circuit P1.1 "Feed" fuse 15 A
    wire W2 4 mm2 red 1 m to P2
    return to N1
circuit P1.3 "Radio" fuse 5 A
    wire W32 1.5 mm2 grey 4 m
    load "Radio" {radio_a} A
    return tag W33 1.5 mm2 black 10 m to P2-
wire W38 P2- to N1 1.5 mm2 black 9 m
circuit P2.1 "Lamp" fuse 15 A
    wire W3 4 mm2 blue 1 m
    load "Lamp" {lamp_a} A
"""


def test_a_circuit_over_its_limit_says_which_wire_that_is_told_of(tmp_path):
    # 1.5 mm2 may carry 10 A by the book; the lamp and the radio send back more through W38.
    over = _checked(tmp_path, BACK.format(radio_a=2, lamp_a=12))
    told = {one.rule for one in over.findings}
    assert "voltage-drop" not in told
    assert "return-too-thin" in told
    assert _row(over, "P1.3")["verdict"] == "no finding: told of W38"
    less = _checked(tmp_path, BACK.format(radio_a=2, lamp_a=6))
    assert "voltage-drop" in str(_row(less, "P1.3")["verdict"])


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_no_circuit_loses_more_than_allowed_without_a_word(file):
    result = checked(file)
    if result.study is None:
        return
    for sag in sags_of(result.study):
        if sag.load.circuit and not sag.drop.collapses:
            verdict = str(_row(result, sag.load.circuit)["verdict"])
            assert verdict != "no finding", (sag.load.circuit, sag.drop.share)
