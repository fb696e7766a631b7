"""What a row of the calculation says of a feed whose figures are those of one of its wires."""

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
