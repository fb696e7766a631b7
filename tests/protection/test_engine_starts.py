"""What an engine's start runs through is held against it: cable, fuses and switches."""

import pytest

from helpers.studies import study_from
from rigfolio.rule import rule
from rigfolio.shorts.starts import starts_of
from rigfolio.sizing.settled import sizes

RIG = """rig "Start" system 12 V, rules boat
battery B1 agm, 100 Ah, internal 3 mohm
busbar D1 400 A
busbar N1 400 A
fuse F1 {fuse}
disconnect S1 {switch} A
load L1 "Starter" {start} A, motor, momentary
load L2 "Lamp" 2 A
wire B1+ to F1 50 mm2 red 0.1 m, cranking
wire F1 to D1 50 mm2 red 1 m, cranking
wire D1 to S1 50 mm2 red 1 m, cranking
wire S1 to L1+ tag T1 {out} mm2 red 1 m{mark}
wire L1- to N1 tag T2 {back} mm2 black 2 m{mark}
wire B1- to N1 50 mm2 black 0.5 m{mark}
wire D1 to L2+ 2.5 mm2 red 1 m, fuse 5 A at D1
wire L2- to N1 2.5 mm2 black 1 m
"""
GOOD = {"fuse": "300 A, mega", "switch": 700, "start": 600, "out": 50, "back": 50,
        "mark": ", cranking"}  # fmt: skip


def _study(**facts):
    return study_from(RIG.format(**(GOOD | facts)))


def _told(study, name: str) -> list[str]:
    _, check, _ = rule(name)
    return [finding.headline for finding in check(study)]


@pytest.mark.parametrize("which", ["out", "back"])
@pytest.mark.parametrize("mark", [", cranking", ""])
def test_thin_cable_is_burnt_by_a_start_whatever_is_written_on_it(which, mark):
    # 115 A s^0.5 / mm2 for copper in PVC (IEC 60364-4-43 table 43A, from memory): 600 A are borne
    # for (115 x 10 / 600)^2 = 3.7 s by 10 mm2, for 9.4 s by 16 mm2. A start is taken to last 5 s.
    tag = {"out": "T1", "back": "T2"}[which]
    thin = _told(_study(mark=mark, **{which: 10}), "start-heats-wire")
    assert [tag in one for one in thin] == [True]
    assert _told(_study(mark=mark, **{which: 16}), "start-heats-wire") == []


@pytest.mark.parametrize(("amperes", "is_told"), [(60, True), (100, True), (300, False)])
def test_a_fuse_that_serves_other_loads_as_well_may_open_in_a_start(amperes, is_told):
    # ISO 8820-5, 600 % of the rating: open within 1 s at the latest (from memory).
    study = _study(fuse=f"{amperes} A, mega")
    assert bool(_told(study, "starting-opens-fuse")) is is_told


def test_a_switch_that_a_start_overloads_is_to_be_seen_from_its_maker():
    (told,) = _told(_study(switch=100), "switch-overloaded")
    assert told.endswith("made for 100 A; what that bears for seconds is not said")
    assert _told(_study(), "switch-overloaded") == []


def test_a_start_stands_in_the_table_of_starts_with_the_fuse_on_its_way():
    (line,) = (one for one in starts_of(_study()) if one.load.about.name == "L1")
    assert line.current is not None
    assert line.device is not None
    assert (line.current.current_a, line.device.about.name) == (600.0, "F1")


def test_no_return_of_a_start_is_sized_thinner_than_that_allows():
    facts = {"mark": "", "start": 300}
    wires = {wire.name: wire for one in sizes(_study(**facts)) for wire in one.wires}
    back = f"{wires['T2'].least.area_m2 * 1e6:.3g}"
    # (115 x 6 / 300)^2 = 5.3 s, and 2 m of 6 mm2 lose 1.7 V and a tenth is 1.2 V.
    assert float(back) > 6.0
    for name in ("start-heats-wire", "voltage-drop"):
        assert _told(_study(back=back, **facts), name) == []
