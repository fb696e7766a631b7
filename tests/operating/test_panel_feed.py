"""The ways by which a panel comes alive, and the source that a load is judged from: by hand."""

import pytest

from helpers.studies import study_from
from rigfolio.operating import circuit_draws, ways_of
from rigfolio.operating.draws import homes_of
from rigfolio.operating.readings.panel_feed import panel_feeds, selections, supply_ends
from rigfolio.study import Study

HEAD = 'rig "T"\n    system 12 V\n    rules rv\nbusbar N1 100 A\n'
BANKS = """battery B1 agm, 90 Ah
battery B2 agm, 200 Ah
selector X1 300 A
panel P1 4 slots, negative N1
wire B1+ to X1.1 2 AWG red 2 ft
wire B2+ to X1.2 2 AWG red 2 ft
wire X1.common to P1 2 AWG red 2 ft
wire B1- to N1 2 AWG black 2 ft
wire B2- to N1 2 AWG black 2 ft
"""
CONVERTER = """battery B1 agm, 90 Ah
panel P1 4 slots, negative N1
dc-dc E1 30 A from 12 V to 12 V, draws 36 A
wire E1.out to P1 6 AWG red 2 ft
wire E1- to N1 6 AWG black 2 ft
wire B1- to N1 2 AWG black 2 ft
"""
INPUT = "wire B1+ to E1.in 6 AWG red 2 ft, fuse 60 A at B1+\n"
CHARGED = """battery B1 agm, 100 Ah
charger C1 30 A, 14.4 V
panel P1 4 slots, negative N1
wire B1+ to P1 6 AWG red 1 ft
wire C1+ to P1 8 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire C1- to N1 8 AWG black 1 ft
load L1 "Heater" 2 ohm
load L2 "Lamp" 24 W
wire P1 to L1+ 10 AWG red 1 ft
wire P1 to L2+ 10 AWG red 1 ft
wire L1- to N1 10 AWG black 1 ft
wire L2- to N1 10 AWG black 1 ft
"""


def ways(text: str) -> tuple[Study, list[list[str]]]:
    study = study_from(HEAD + text)
    found = panel_feeds(study, study.rig.by_name.panels["P1"])
    return study, [list(feed.terminals()) for feed in found]


def test_each_bank_of_a_selector_reaches_the_panel_in_its_own_position() -> None:
    study, found = ways(BANKS)
    assert found == [
        ["B1+", "X1.1", "X1.common", "P1"], ["B2+", "X1.2", "X1.common", "P1"],
    ]  # fmt: skip
    feeds = panel_feeds(study, study.rig.by_name.panels["P1"])
    passing = {one.words: [feed.start for feed in feeds if one.passes(feed)]
               for one in selections(study)}  # fmt: skip
    assert passing == {"X1 on 1": ["B1+"], "X1 on 2": ["B2+"]}


def test_what_lies_before_a_converter_comes_alive_before_what_lies_behind_it() -> None:
    _, found = ways(CONVERTER + INPUT)
    assert found == [
        ["B1+", "B1+/E1.in.fuse.load", "E1.in"], ["E1.out", "P1"],
    ]  # fmt: skip


def test_a_converter_whose_input_nobody_has_drawn_begins_at_its_output() -> None:
    _, found = ways(CONVERTER)
    assert found == [["E1.out", "P1"]]


def test_a_charger_is_no_way_to_a_panel_that_has_a_battery() -> None:
    _, found = ways(CHARGED)
    assert found == [["B1+", "P1"]]


def test_a_heater_draws_by_the_highest_volts_and_a_lamp_of_watts_by_the_battery() -> None:
    # 14.4 V over 2 ohm are 7.2 A, less what 4 ft of copper take; 24 W at 12 V are 2 A and a little.
    study, _ = ways(CHARGED)
    chosen = {load.about.name: [way.source.about.name for way in ways_of(study).chosen(load)]
              for load in study.rig.loads}  # fmt: skip
    assert chosen == {"L1": ["C1"], "L2": ["B1"]}
    drawn = circuit_draws(study)
    assert drawn["L1"].known_a == pytest.approx(7.2, rel=0.005)
    assert drawn["L2"].known_a == pytest.approx(2.0, rel=0.005)
    assert drawn["L1"].known_a < 7.2
    assert drawn["L2"].known_a > 2.0


@pytest.mark.parametrize("side", ["line", "load"])
def test_an_unplugged_vehicle_is_read_at_its_own_plug_on_the_side_of_the_rig(side: str) -> None:
    # The other plug stands first in the text, and joins two parts of the rig.
    far = {"line": "load", "load": "line"}[side]
    text = f"""battery B1 agm, 90 Ah
busbar D1 100 A
busbar D2 100 A
connector J0 2 pins
connector J1 2 pins
vehicle V1
wire B1+ to D1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire D1 to J0.1.line 8 AWG red 1 ft
wire J0.1.load to D2 8 AWG red 1 ft
wire V1+ to J1.1.{side} 8 AWG red 1 ft
wire J1.1.{far} to D1 8 AWG red 1 ft
wire V1- to J1.2.{side} 8 AWG black 1 ft
wire J1.2.{far} to N1 8 AWG black 1 ft
"""
    found = {one.of: (one.plus, one.minus) for one in supply_ends(study_from(HEAD + text))}
    assert found["V1"] == (f"J1.1.{far}", f"J1.2.{far}")


def test_a_load_with_a_bank_of_its_own_is_served_by_that_alone() -> None:
    # The combiner joins the banks while one is charged. L1 hangs on B2, the second of three; what
    # hangs between two combiners has no bank of its own, and is served by whichever is joined.
    text = "".join(
        f"battery B{n} agm, 90 Ah\nbusbar D{n} 100 A\nwire B{n}+ to D{n} 6 AWG red 1 ft\n"
        f"wire B{n}- to N1 6 AWG black 1 ft\n"
        for n in (1, 2, 3)
    )
    text += "busbar D4 100 A\n" + "".join(
        f"combiner Q{n} 100 A\nwire D{n} to Q{n}.1 6 AWG red 1 ft\n"
        f"wire Q{n}.2 to D4 6 AWG red 1 ft\n"
        for n in (1, 2, 3)
    )
    for name, end in (("L1", "D2"), ("L2", "D4")):
        text += f"load {name} 1 A\nwire {end} to {name}+ 14 AWG red 1 ft\n"
        text += f"wire {name}- to N1 14 AWG black 1 ft\n"
    study = study_from(HEAD + text)
    served = {name: [way.source.about.name for way in ways_of(study).of[name]]
              for name in ("L1", "L2")}  # fmt: skip
    assert served == {"L1": ["B2"], "L2": ["B1", "B2", "B3"]}


@pytest.mark.parametrize(
    ("one_ft", "two_ft", "home"),
    # 2 A along 40 ft of 14 AWG, out of two, lose some 0.2 V; 0.8 V more at the start are no reason.
    [(1, 40, "B1"), (40, 1, "B2"), (1, 1, "B2")],
)
def test_a_load_is_at_home_where_it_loses_the_least_part_of_the_volts(
    one_ft: int, two_ft: int, home: str
) -> None:
    study = study_from(f"""{HEAD}battery B1 agm, 90 Ah
battery B2 lithium, 100 Ah, 12.8 V
busbar D1 100 A
wire B1+ to D1 14 AWG red {one_ft} ft
wire B2+ to D1 14 AWG red {two_ft} ft
wire B1- to N1 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
load L1 24 W
wire D1 to L1+ 14 AWG red 1 ft
wire L1- to N1 14 AWG black 1 ft
""")
    assert homes_of(study)["L1"].source.about.name == home


LONE = """battery B1 agm, 90 Ah
battery B2 agm, 90 Ah
busbar D1 100 A
busbar D2 100 A
busbar D3 100 A
charger C1 30 A
charger C2 30 A
wire B1+ to D1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
wire C1+ to D1 8 AWG red 1 ft
wire C1- to N1 8 AWG black 1 ft
wire C2+ to D2 8 AWG red 1 ft
wire C2- to N1 8 AWG black 1 ft
wire D3 to L1+ 8 AWG red 1 ft
load L1 1 A
wire L1- to N1 8 AWG black 1 ft
splice J1
wire D1 to J1 8 AWG red 1 ft
"""


def test_volts_are_read_at_every_source_and_plus_bar_that_is_live_by_itself() -> None:
    # The lone bank at its own posts; the charger with a bank shows that bank, the other charger
    # is all that its bar has. Nothing feeds D3, and no probe goes into a splice.
    found = [(one.of, one.plus, one.minus) for one in supply_ends(study_from(HEAD + LONE))]
    assert found == [
        ("B1", "B1+", "B1-"), ("B2", "B2+", "B2-"), ("C1", "C1+", "C1-"), ("C2", "C2+", "C2-"),
        ("D1", "D1", ""), ("D2", "D2", ""),
    ]  # fmt: skip
    # Where nothing charges the banks are all there is.
    found = [(one.of, one.plus, one.minus) for one in supply_ends(study_from(HEAD + BANKS))]
    assert found == [("B1", "B1+", "B1-"), ("B2", "B2+", "B2-")]
