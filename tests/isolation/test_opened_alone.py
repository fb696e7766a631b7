"""What one switch does alone, worked out by hand on small rigs, and what its positions are told as.

By hand means: follow the wires from the plus posts with a finger, the switch open.
"""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import meanings, opened_alone, source_reach
from rigfolio.isolation.alone import OpenedAlone
from rigfolio.isolation.plans.least_cut import actions_of
from rigfolio.labels.devices import device_rows

HEAD = 'rig "T"\n    system 12 V\n    rules rv\n'
BANKS = """battery B1 "Start" agm, 90 Ah
battery B2 "House" agm, 200 Ah
disconnect S2 200 A
selector X1 300 A
panel P1 "Saloon" 4 slots, negative N1
busbar N1 200 A
wire B1+ to X1.1 2 AWG red 2 ft, fuse 100 A at B1+
wire B2+ to S2.line 2 AWG red 2 ft, fuse 100 A at B2+
wire S2.load to X1.2 2 AWG red 2 ft
wire X1.common to P1 2 AWG red 2 ft
wire B1- to N1 2 AWG black 2 ft
wire B2- to N1 2 AWG black 2 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
circuit X1.common "Heater" fuse 20 A
    wire 12 AWG red 9 ft
    load "Fan" 2 A
    load "Igniter" 4 A
wire X1.common to L1+ 14 AWG red 2 ft, fuse 15 A at X1.common
load L1 "Horn" 8 A, momentary
wire L1- to N1 14 AWG black 2 ft
"""
CAMPER = """battery B1 "House" agm, 200 Ah
disconnect S1 200 A
charger C1 "Converter" 30 A
solar U1 "Panels" 10 A
breaker K1 "Sun breaker" 20 A
panel P1 "Galley" 4 slots, negative N1
busbar N1 200 A
wire B1+ to S1.line 2 AWG red 2 ft, fuse 100 A at B1+
wire S1.load to P1 2 AWG red 2 ft
wire C1+ to P1 8 AWG red 2 ft, fuse 40 A at P1
wire U1+ to K1.line 12 AWG red 9 ft
wire K1.load to B1+ 12 AWG red 2 ft
wire B1- to N1 2 AWG black 2 ft
wire C1- to N1 8 AWG black 2 ft
wire U1- to N1 12 AWG black 9 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
    switch SW1 5 A
    wire 16 AWG red 3 ft
    load "Far lamp" 1 A
circuit S1.load "Heater" fuse 20 A
    wire 12 AWG red 9 ft
    load "Fan" 2 A
"""
PARALLEL = """battery B1 "One" agm, 90 Ah
battery B2 "Two" agm, 90 Ah
disconnect S3 200 A
busbar N1 200 A
wire B1+ to S3.line 2 AWG red 2 ft, fuse 100 A at B1+
wire S3.load to B2+ 2 AWG red 2 ft, fuse 100 A at B2+
wire B1- to N1 2 AWG black 2 ft
wire B2- to N1 2 AWG black 2 ft
load L1 "Horn" 8 A
wire B1+ to L1+ 14 AWG red 2 ft, fuse 15 A at B1+
wire L1- to N1 14 AWG black 2 ft
load L2 "Pump" 8 A
wire B2+ to L2+ 14 AWG red 2 ft, fuse 15 A at B2+
wire L2- to N1 14 AWG black 2 ft
"""
CONVERTER = """battery B1 "Start" agm, 90 Ah
panel P2 "Aft" 4 slots, negative N1
busbar N1 200 A
disconnect S4 60 A
dc-dc E1 30 A from 12 V to 12 V, draws 36 A
wire B1+ to S4.line 6 AWG red 2 ft, fuse 60 A at B1+
wire S4.load to E1.in 6 AWG red 2 ft
wire E1.out to P2 6 AWG red 2 ft, fuse 60 A at P2
wire E1- to N1 6 AWG black 2 ft
wire B1- to N1 2 AWG black 2 ft
load L1 "Horn" 8 A
wire B1+ to L1+ 14 AWG red 2 ft, fuse 15 A at B1+
wire L1- to N1 14 AWG black 2 ft
"""
SECOND_BANK = 'battery B2 "House" agm, 200 Ah\nwire P2 to B2+ 6 AWG red 2 ft\n' \
              "wire B2- to N1 2 AWG black 2 ft\n"  # fmt: skip


def alone(text: str, name: str) -> OpenedAlone:
    return opened_alone(study_from(HEAD + text), name)


def dark(found: OpenedAlone) -> list[tuple[str, str]]:
    return [(part.kind, part.name) for part in found.dark]


def words(text: str, switch: str) -> dict[str, str]:
    told = meanings(study_from(HEAD + text))
    return {one.position: one.words for one in told if one.switch == switch}


def test_a_disconnect_of_one_bank_darkens_what_the_selector_has_on_that_bank() -> None:
    # On 1 and on both B1 feeds all of it; on 2 there is nothing but B2 behind S2. A circuit stands
    # for both of its loads; the horn has no circuit.
    found = alone(BANKS, "S2")
    assert found.when == "X1 on 2"
    assert dark(found) == [("panel", "P1"), ("circuit", "circuit X1.common"), ("load", "L1")]
    # With S2 open its far end is live by the selector, from the other bank.
    assert found.live == (("S2.line", ("B2",)), ("S2.load", ("B1",)))


def test_a_selector_that_is_off_darkens_the_same_in_any_of_its_positions() -> None:
    found = alone(BANKS, "X1")
    assert found.when == ""
    assert dark(found) == [("panel", "P1"), ("circuit", "circuit X1.common"), ("load", "L1")]
    assert found.live == (("X1.1", ("B1",)), ("X1.2", ("B2",)))


def test_what_no_battery_feeds_goes_dark_by_the_switch_of_its_charger() -> None:
    # Nothing but the charger ever feeds P9: on the batteries alone it is dark anyhow.
    more = "charger C9 30 A\ndisconnect S9 100 A\npanel P9 4 slots, negative N1\n" \
           "wire C9+ to S9.line 8 AWG red 2 ft\nwire S9.load to P9 8 AWG red 2 ft\n" \
           "wire C9- to N1 8 AWG black 2 ft\n"  # fmt: skip
    for text in (CAMPER, BANKS):
        found = alone(text + more, "S9")
        assert (dark(found), found.when, found.unless) == ([("panel", "P9")], "", ())


def test_what_a_converter_keeps_live_while_it_runs_is_told_beside_what_goes_dark() -> None:
    found = alone(CAMPER, "S1")
    assert dark(found) == [("panel", "P1"), ("circuit", "circuit S1.load")]
    assert (found.when, found.unless) == ("", ("C1",))
    assert found.live == (("S1.line", ("B1", "U1")), ("S1.load", ("C1",)))


def test_a_switch_within_a_circuit_darkens_the_load_behind_it_and_not_the_circuit() -> None:
    found = alone(CAMPER, "SW1")
    assert dark(found) == [("load", "Far lamp")]


def test_a_switch_before_all_loads_of_a_circuit_darkens_the_circuit_and_so_of_one_without() -> None:
    text = CAMPER + 'circuit P1.2 "Step lamps" fuse 5 A\n    wire 16 AWG red 9 ft\n' \
        "    switch SW2 5 A\n    wire 16 AWG red 3 ft\n    load 1 A\n    load 2 A\n" \
        'circuit S1.load "Spare" fuse 5 A\n    wire 16 AWG red 3 ft\n'  # fmt: skip
    assert dark(alone(text, "SW2")) == [("circuit", "P1.2")]
    assert ("circuit", "circuit S1.load-2") in dark(alone(text, "S1"))


def test_the_breaker_of_the_panels_darkens_nothing_and_leaves_them_serving_nothing() -> None:
    found = alone(CAMPER, "K1")
    assert (found.dark, found.cut_off, found.parted) == ((), ("U1",), ())


def test_a_switch_between_two_batteries_with_loads_of_their_own_parts_them_and_no_more() -> None:
    found = alone(PARALLEL, "S3")
    assert (found.dark, found.cut_off, found.parted) == ((), (), ("B1", "B2"))


def test_a_battery_that_nothing_hangs_on_is_cut_off_and_not_parted_from_the_other() -> None:
    # One thing is told of a switch: the worse.
    found = alone(PARALLEL.partition("load L2")[0], "S3")
    assert (found.dark, found.cut_off, found.parted) == ((), ("B2",), ())


def test_a_converter_that_charges_no_bank_goes_dark_with_its_panel() -> None:
    found = alone(CONVERTER, "S4")
    assert (dark(found), found.cut_off) == ([("panel", "P2")], ())


def test_a_converter_that_charges_a_bank_is_cut_off_and_the_bank_keeps_its_panel() -> None:
    found = alone(CONVERTER + SECOND_BANK, "S4")
    assert (dark(found), found.cut_off) == ([], ("E1",))


@pytest.mark.parametrize(
    ("position", "said"),
    [
        ("1", "Start B1 feeds Saloon P1, Heater, Horn"),
        ("2", "House B2 feeds Saloon P1, Heater, Horn"),
        ("BOTH", "Start B1 and House B2 feed Saloon P1, Heater, Horn"),
        ("OFF", "Saloon P1, Heater, Horn dead. "
                "These stay live: the wires of Start B1, House B2"),
    ],
)  # fmt: skip
def test_each_position_of_a_selector_names_the_bank_that_feeds(position: str, said: str) -> None:
    assert words(BANKS, "X1")[position] == said


def test_a_converter_is_named_by_the_battery_behind_it() -> None:
    assert words(CONVERTER, "S4") == {
        "ON": "Start B1 feeds Aft P2",
        "OFF": "Aft P2 dead. These stay live: Horn; the wires of Start B1",
    }


def test_what_a_converter_feeds_is_told_by_its_panel_and_not_by_its_wires() -> None:
    # S5 has nothing to do with the converter: its panel stays live, from the battery.
    more = "disconnect S5 20 A\nload L2 1 A\nwire B1+ to S5.line 12 AWG red 2 ft\n" \
           "wire S5.load to L2+ 12 AWG red 2 ft\nwire L2- to N1 12 AWG black 2 ft\n"  # fmt: skip
    told = words(CONVERTER + more, "S5")["OFF"]
    assert told == "L2 dead. These stay live: Aft P2, Horn; the wires of Start B1"


@pytest.mark.parametrize(
    ("rating", "by_wrench"),
    [
        ("40 A", False),
        ("50 A", True),
        ("30 A midi", True),
        ("60 A maxi", False),
        ("? A", True),
        ("", True),
    ],
)
def test_a_fuse_of_no_known_make_is_pulled_by_hand_as_far_as_blades_are_made(
    rating: str, by_wrench: bool
) -> None:
    # Blade fuses end at 40 A (ISO 8820-3, from memory); what is larger is held by nuts. Of a kind
    # that is told the kind decides: strips are bolted, large blades are pulled (common practice).
    # One that nobody has read may be a large one.
    text = f"battery B1 agm, 100 Ah\nfuse F1 {rating} on B1+\nload L1 1 A\n" \
           "wire F1.load to L1+ 8 AWG red 1 ft\nwire L1- to B1- 8 AWG black 1 ft\n"  # fmt: skip
    rig = study_from(HEAD + text).rig
    assert [one.opening.by_wrench for one in actions_of(rig) if one.part == "F1"] == [by_wrench]


def test_a_switch_that_changes_nothing_by_itself_is_told_so() -> None:
    assert words(PARALLEL, "S3") == {
        "ON": "nothing of this text hangs on it alone",
        "OFF": "changes nothing on the batteries alone. "
               "These stay live: Horn, Pump; the wires of One B1, Two B2",
    }  # fmt: skip


def test_a_bank_that_a_converter_charges_feeds_by_itself() -> None:
    # The start battery charges the house bank by E1; what S6 feeds hangs on the house bank.
    more = "disconnect S6 60 A\nload L6 \"Winch\" 8 A\nwire P2 to S6.line 8 AWG red 2 ft\n" \
           "wire S6.load to L6+ 8 AWG red 2 ft\nwire L6- to N1 8 AWG black 2 ft\n"  # fmt: skip
    assert words(CONVERTER + SECOND_BANK + more, "S6")["ON"] == "House B2 feeds Winch"
    assert words(CONVERTER + more, "S6")["ON"] == "Start B1 feeds Winch"


THREE = """battery B1 "Start" agm, 90 Ah
battery B2 "House" agm, 100 Ah
battery B3 "House 2" agm, 100 Ah
combiner K1 100 A
busbar N1 200 A
busbar N2 200 A
wire B1+ to K1.1 2 AWG red 2 ft, fuse 100 A at B1+, tag W1
wire N2 to K1.2 2 AWG red 2 ft, fuse 100 A at N2, tag W2
wire B2+ to N2 2 AWG red 2 ft, fuse 100 A at B2+, tag W3
wire B3+ to N2 2 AWG red 2 ft, fuse 100 A at B3+, tag W4
wire B1- to N1 2 AWG black 2 ft
wire B2- to N1 2 AWG black 2 ft
wire B3- to N1 2 AWG black 2 ft
"""
OWN = """load L{0} 9 A
wire B{0}+ to L{0}+ 14 AWG red 2 ft, fuse 15 A at B{0}+
wire L{0}- to N1 14 AWG black 2 ft
"""
PUMP = """battery B1 agm, 90 Ah
busbar N1 200 A
wire B1- to N1 2 AWG black 2 ft
circuit B1+ "Bilge pump" fuse 10 A
    wire 14 AWG red 3 ft
    splice Z1
    switch SW1 "Float" 10 A{0}
    wire 14 AWG red 3 ft to Z2
    splice Z2
    wire from Z1 14 AWG red 4 ft
    switch SW2 "Helm" 10 A{1}
    wire 14 AWG red 4 ft to Z2
    wire from Z2 14 AWG red 1 ft
    load "Pump" 5 A
    return to N1
"""


def test_of_three_batteries_a_fuse_parts_the_one_from_those_that_stay_joined() -> None:
    text = THREE + "".join(OWN.format(one) for one in (1, 2, 3))
    assert alone(text, "W1 fuse").sides == (("B1",), ("B2", "B3"))
    assert alone(text, "W2 fuse").sides == (("B1",), ("B2", "B3"))
    assert alone(text, "W3 fuse").sides == (("B2",), ("B1", "B3"))
    assert alone(text, "W4 fuse").sides == (("B3",), ("B1", "B2"))
    rows = {one.name: one.dark_words for one in device_rows(study_from(HEAD + text))}
    assert rows["W3 fuse"] == "parts B2 House from B1 Start and B3 House 2"
    assert rows["W1 fuse"] == "parts B1 Start from B2 House and B3 House 2"


@pytest.mark.parametrize("float_", ["", ", rests open"])
@pytest.mark.parametrize("helm", ["", ", rests open"])
def test_of_two_switches_side_by_side_each_stands_for_the_load_unless_the_other_is_closed(
    float_: str, helm: str
) -> None:
    text = PUMP.format(float_, helm)
    found = alone(text, "SW1")
    assert [part.label or part.name for part in found.dark] == ["Bilge pump"]
    assert found.beside == ("SW2",)
    # Its far end is live by the other one all the same.
    assert len(found.live) == 2
    rows = {one.name: one.dark_words for one in device_rows(study_from(HEAD + text))}
    assert rows["SW1"] == "Bilge pump (unless SW2 Helm is closed)"
    assert rows["SW2"] == "Bilge pump (unless SW1 Float is closed)"


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_no_switch_that_a_load_hangs_behind_is_said_to_do_nothing(file: Path) -> None:
    study = checked(file).study
    for row in () if study is None else device_rows(study):
        device = study.rig.by_name.devices[row.name]
        posts = {one.plus for one in study.rig.sources}
        if not device.traits.starts_load or row.dark_words != "nothing of this text":
            continue
        behind = study.net.walk([device.load], lambda edge, device=device: edge is device)
        is_between = any(one.plus in behind for one in study.rig.loads) and posts & behind.keys()
        assert not is_between, row.name


SECOND_CHARGER = """dc-dc E2 6 A, from 12 V to 12 V, efficiency 90 %
battery B2 "Lift" flooded, 90 Ah
circuit P1.2 "Lift charger" fuse 10 A
    wire 12 AWG brown 9 ft to E2.in
wire E2.out to B2+ 12 AWG red 4 ft, fuse 10 A at B2+
wire E2- to N1 12 AWG black 4 ft
wire B2- to N1 6 AWG black 4 ft
"""


@pytest.mark.parametrize("more", ["", "charger"])
def test_a_converter_whose_input_goes_dark_is_told_with_the_rest(more) -> None:
    """By hand: E2 gets nothing with S1 open, unless the charger C1 keeps P1 alive."""
    text = CAMPER + SECOND_CHARGER
    if not more:
        text = "".join(row for row in text.splitlines(keepends=True) if "C1" not in row)
    found = alone(text, "S1")
    is_told = ("source", "E2") in dark(found)
    # Where nothing else may run it is cut off for good, and that is said by itself.
    assert (is_told, "E2" in found.cut_off) == ((True, False) if more else (False, True))
    assert found.unless == (("C1",) if more else ())


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_no_converter_that_charges_is_forgotten_with_the_panel_that_feeds_it(file: Path) -> None:
    study = checked(file).study
    for row in device_rows(study) if study is not None else ():
        assert study is not None
        found = opened_alone(study, row.name)
        panels = {part.name for part in found.dark if part.kind == "panel"}
        told = {part.name for part in found.dark} | {*found.cut_off}
        drive = source_reach(study)
        for circuit in study.rig.circuits:
            fed = {s.about.name for s in study.rig.sources if s.inlet in circuit.loads}
            if circuit.panel in panels:
                assert fed <= told | drive.passes_on, (row.name, circuit.place)
