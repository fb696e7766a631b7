"""What a state means: what the text says, and what the habits of the trade fill in."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.isolation import settings_words, unnamed
from rigfolio.isolation.conditions import opened
from rigfolio.isolation.energised import CLOSED, Open, source_reach
from rigfolio.isolation.set_to import at_rest, turned
from rigfolio.isolation.states import ENGINE_OFF, IN_USE, STORED, states_of
from rigfolio.judgement.result import load
from rigfolio.network import edge_name, feeding_panels, parallel_switches
from rigfolio.record import replace
from rigfolio.study import Study

HEAD = 'rig "T"\n    system 12 V\n    rules rv\n'
WIRED = (
    "battery B1 flooded, 100 Ah\n"
    "disconnect S1 100 A\n"
    "panel P1 4 slots\n"
    "busbar N1 100 A\n"
    "wire B1+ to S1.line 6 AWG red 1 ft\n"
    "wire S1.load to P1 6 AWG red 1 ft\n"
    "wire N1 to B1- 6 AWG black 1 ft\n"
)
CHARGER = (
    "charger C1 30 A\nwire C1+ to P1 8 AWG red 1 ft, fuse 40 A at P1\n"
    "wire C1- to N1 8 AWG black 1 ft\n"
)
SOLAR = "solar U1 15 A\nwire U1+ to B1+ 10 AWG red 1 ft\nwire U1- to N1 10 AWG black 1 ft\n"
VEHICLE = (
    "vehicle V1\nconnector J1 7 pins\n"
    "wire V1+ to J1.2.line 10 AWG black 9 ft, fuse 30 A at V1+\n"
    "wire J1.2.load to B1+ 10 AWG black 6 ft\n"
    "wire V1- to J1.5.line 10 AWG white 9 ft\nwire J1.5.load to N1 10 AWG white 3 ft\n"
)
TURBINE = SOLAR.replace("solar", "turbine").replace("U1", "T1")
ENGINE = "alternator A1 60 A\nwire A1+ to B1+ 6 AWG red 3 ft\nwire A1- to N1 6 AWG black 3 ft\n"


def study_of(*parts):
    _, rig, errors = load("t.rig", HEAD + "".join(parts))
    assert errors == ()
    return Study(rig, rig.book)


def by_name(study):
    return {state.name: state for state in states_of(study)}


def position(state, part):
    setting = state.of(part)
    return setting.position, setting.is_sure


def test_a_battery_and_a_disconnect_are_stored_or_in_use():
    states = by_name(study_of(WIRED))
    assert list(states) == ["stored", IN_USE]
    assert position(states["stored"], "S1") == ("open", True)
    assert position(states[IN_USE], "S1") == ("closed", True)


@pytest.mark.parametrize(
    ("parts", "name", "on"),
    [(CHARGER, "shore", "C1"), (SOLAR, "sun", "U1"), (VEHICLE, "towing", "V1"),
     (ENGINE, "engine", "A1"), (TURBINE, "wind", "T1")],
)  # fmt: skip
def test_a_source_runs_in_its_own_state(parts, name, on):
    states = by_name(study_of(WIRED, parts))
    assert position(states[name], on) == ("on", True)
    assert position(states[name], "S1") == ("closed", True)
    stored = position(states["stored"], on)
    assert stored == (("on", False) if on in ("U1", "T1") else ("off", True))


def test_while_towing_nobody_knows_whether_the_engine_is_the_one_on_board():
    states = by_name(study_of(WIRED, CHARGER, VEHICLE, ENGINE))
    assert position(states["towing"], "A1") == ("on", False)
    assert position(states["engine"], "A1") == ("on", True)
    assert position(states["shore"], "A1") == ("off", True)
    assert position(states["engine"], "V1") == ("off", True)


def test_a_plug_goes_with_its_vehicle():
    states = by_name(study_of(WIRED, VEHICLE))
    assert position(states["towing"], "J1") == ("closed", True)
    assert position(states["stored"], "J1") == ("open", True)
    assert "J1 unplugged" in settings_words(study_of(WIRED, VEHICLE).rig, states["stored"])


@pytest.mark.parametrize("ends", [("line", "load"), ("load", "line")])
def test_only_the_plug_that_the_vehicle_hangs_on_goes_with_it(ends):
    # J2 joins two panels of the rig and stays as it is; J1 may be drawn either way round.
    near, far = ends
    text = VEHICLE.replace("J1.2.line", "J1.2.here").replace("J1.2.load", f"J1.2.{far}")
    text = text.replace("J1.2.here", f"J1.2.{near}")
    text += "connector J2 2 pins\npanel P2 2 slots\nwire P1 to J2.1.line 10 AWG red 3 ft\n"
    states = by_name(study_of(WIRED, text, "wire J2.1.load to P2 10 AWG red 3 ft\n"))
    assert position(states["stored"], "J1") == ("open", True)
    assert position(states["towing"], "J1") == ("closed", True)
    assert states["stored"].of("J2") is None
    assert states["towing"].of("J2") is None


@pytest.mark.parametrize(
    ("said", "supplied"),
    [
        # One of two mains chargers that runs tells that the cord is in.
        ("state plugged C1 on\n", ["stored"]),
        ("state plugged C1 on, C2 off\n", ["stored"]),
        ("state plugged C1 off\n", ["stored", "shore"]),
    ],
)
def test_one_charger_of_two_that_is_on_is_shore_power(said, supplied):
    second = CHARGER.replace("C1", "C2")
    states = states_of(study_of(WIRED, CHARGER, second, said))
    assert [state.name for state in states] == ["plugged", *supplied]


def test_where_no_state_is_named_a_selector_stands_as_in_most_states_and_a_combiner_open():
    said = "state a X1 1\nstate b X1 2\nstate c X1 2, A1 off\nstate d X1 both\n"
    found = unnamed(study_of(TWO_BANKS, said))
    assert found.opened.edges == {"Q1", "X1.1"}
    assert found.words == (
        "selector `X1` on 2, as in `b`", "combiner `Q1` open, since nothing charges",
    )  # fmt: skip
    found = unnamed(study_of(TWO_BANKS))
    assert found.opened.edges == {"Q1"}
    assert found.words[0] == "selector `X1` on all of its banks"


def test_the_text_goes_before_and_is_not_doubled():
    said = "state parked S1 open, C1 off\nstate plugged S1 closed, C1 on\n"
    states = by_name(study_of(WIRED, CHARGER, SOLAR, said))
    # Stored and shore are there under names of the text; only the sun is not.
    assert list(states) == ["parked", "plugged", "sun"]
    assert states["parked"].of("C1").is_stated
    assert not states["parked"].of("U1").is_sure
    assert not states["sun"].is_stated


def test_a_state_with_a_known_name_is_filled_in_by_that_name():
    state = by_name(study_of(WIRED, CHARGER, "state stored C1 on\n"))["stored"]
    assert position(state, "C1") == ("on", True)
    assert position(state, "S1") == ("open", True)
    assert state.is_stated


def test_what_nobody_knows_counts_both_ways():
    study = study_of(WIRED, SOLAR, "state parked S1 open\n")
    parked = by_name(study)["parked"]
    assert opened(study.rig, parked).sources == frozenset()
    assert opened(study.rig, parked, surely=True).sources == {"U1"}


TWO_BANKS = (
    "battery B1 agm, 90 Ah\nbattery B2 agm, 200 Ah\nselector X1 300 A\ncombiner Q1 200 A\n"
    "busbar N1 100 A\npanel P1 4 slots\nalternator A1 60 A\n"
    "wire B1+ to X1.1 2 AWG red 1 ft\nwire B2+ to X1.2 2 AWG red 1 ft\n"
    "wire X1.common to P1 2 AWG red 1 ft\nwire B1+ to Q1.1 4 AWG red 1 ft\n"
    "wire Q1.2 to B2+ 4 AWG red 1 ft\nwire A1+ to B2+ 4 AWG red 1 ft\n"
    "wire B1- to N1 2 AWG black 1 ft\nwire B2- to N1 2 AWG black 1 ft\n"
    "wire A1- to N1 4 AWG black 1 ft\n"
)


def test_a_combiner_closes_when_something_charges_either_side():
    study = study_of(TWO_BANKS, "state laid-up X1 off, A1 off\nstate motoring X1 2, A1 on\n")
    states = by_name(study)
    assert position(states["laid-up"], "Q1") == ("open", True)
    assert position(states["motoring"], "Q1") == ("closed", True)
    assert "A1" in states["motoring"].of("Q1").reason


def test_a_combiner_may_close_where_something_may_charge():
    states = by_name(study_of(TWO_BANKS, "state sailing X1 2\n"))
    assert position(states["sailing"], "Q1") == ("closed", False)


@pytest.mark.parametrize(
    ("word", "cut"), [("1", {"X1.2"}), ("2", {"X1.1"}), ("both", set()), ("off", {"X1.1", "X1.2"})]
)
def test_positions_of_a_selector(word, cut):
    study = study_of(TWO_BANKS, f"state here X1 {word}, A1 off\n")
    assert opened(study.rig, by_name(study)["here"]).edges == {*cut, "Q1"}


def test_a_selector_that_is_not_spoken_of_may_stand_anywhere():
    study = study_of(TWO_BANKS, "state here A1 off\n")
    here = by_name(study)["here"]
    assert opened(study.rig, here).edges == {"Q1"}
    assert opened(study.rig, here, surely=True).edges == {"Q1", "X1.1", "X1.2"}


@pytest.mark.parametrize(
    ("before", "set_to", "edges"),
    [
        (CLOSED, [("X1", "1")], {"X1.2"}),
        (CLOSED, [("X1", "off"), ("Q1", "open")], {"X1.1", "X1.2", "Q1"}),
        # What a reading says of a switch goes before how the state has it.
        (Open(frozenset({"X1.1", "Q1"})), [("X1", "1")], {"X1.2", "Q1"}),
        (Open(frozenset({"X1.1", "X1.2", "Q1"})), [("X1", "both"), ("Q1", "closed")], set()),
    ],
)
def test_a_switch_that_is_turned_stands_as_it_is_set_and_all_else_as_before(before, set_to, edges):
    assert turned(study_of(TWO_BANKS).rig, before, set_to).edges == edges


@pytest.mark.parametrize(
    ("banks", "edges"), [({}, {"Q1"}), ({"X1": "1"}, {"Q1", "X1.2"}), ({"X1": "2"}, {"Q1", "X1.1"})]
)
def test_at_rest_a_combiner_is_open_and_a_selector_on_its_bank_or_on_all(banks, edges):
    assert at_rest(study_of(TWO_BANKS).rig, banks).edges == edges


def test_every_setting_says_why():
    for state in states_of(study_of(WIRED, CHARGER, SOLAR, VEHICLE, ENGINE)):
        assert state.how
        assert all(setting.reason for setting in state.settings)


def test_a_rig_with_an_engine_is_told_with_the_engine_off_too() -> None:
    """All that it had was the state in which the engine runs."""
    bank = "battery B1 flooded, 100 Ah\nbusbar N1 100 A\nwire N1 to B1- 6 AWG black 1 ft\n"
    study = study_of(bank, ENGINE)
    states = by_name(study)
    assert list(states) == ["engine", ENGINE_OFF]
    assert settings_words(study.rig, states[ENGINE_OFF]) == "A1 off"
    # A state of the text that says so is enough.
    named = study_of(WIRED, ENGINE, "state camped S1 closed, A1 off\n")
    assert ENGINE_OFF not in by_name(named)
    # With the disconnect open nothing is used.
    stored = study_of(WIRED, ENGINE, "state laid-up S1 open, A1 off\n")
    assert ENGINE_OFF in by_name(stored)


@pytest.mark.parametrize(
    ("said", "is_told"),
    [("A1 off, A2 on", True), ("A1 on, A2 off", True), ("A1 off, A2 off", False)],
)
def test_an_engine_rests_only_where_all_that_it_turns_rests(said, is_told):
    second = ENGINE.replace("A1", "A2")
    states = by_name(study_of(WIRED, ENGINE, second, f"state camped S1 closed, {said}\n"))
    assert (ENGINE_OFF in states) is is_told


@pytest.mark.parametrize(
    ("parts", "said", "words"),
    [
        # A battery goes without saying, unless it is said.
        (CHARGER, "state here S1 closed, C1 off", "S1 closed, C1 off"),
        (CHARGER, "state here S1 open, B1 off, C1 on", "S1 open, B1 off, C1 on"),
        (SOLAR, "state here S1 open", "S1 open, U1 perhaps on"),
        (VEHICLE, "state here V1 on", "S1 closed, J1 plugged in, V1 on"),
        (VEHICLE, "state here V1 off", "S1 closed, J1 unplugged, V1 off"),
        (VEHICLE, "state here J1 open", "S1 closed, J1 unplugged, V1 perhaps on"),
        # Where nobody says that the vehicle is there, nobody knows of its plug.
        (VEHICLE, "state here S1 open", "S1 open, J1 perhaps plugged in, V1 perhaps on"),
    ],
)
def test_what_stands_otherwise_is_told_and_what_nobody_knows_as_perhaps(parts, said, words):
    study = study_of(WIRED, parts, f"{said}\n")
    assert settings_words(study.rig, by_name(study)["here"]) == words


def test_where_nothing_can_be_switched_that_is_said():
    study = study_of("battery B1 flooded, 100 Ah\nload M1 1 A\nwire B1+ to M1+ 14 AWG red 1 ft\n",
                     "wire M1- to B1- 14 AWG black 1 ft\n")  # fmt: skip
    (state,) = states_of(study)
    assert state.name == IN_USE
    assert settings_words(study.rig, state) == "nothing switched"


CHAIN = (
    "battery B1 agm, 90 Ah\nbattery B2 agm, 90 Ah\nbattery B3 agm, 90 Ah\nalternator A1 60 A\n"
    "combiner Q2 200 A\ncombiner Q1 200 A\nbusbar N1 100 A\n"
    "wire A1+ to B1+ 4 AWG red 1 ft\nwire B1+ to Q1.1 4 AWG red 1 ft\n"
    "wire Q1.2 to B2+ 4 AWG red 1 ft\nwire B2+ to Q2.1 4 AWG red 1 ft\n"
    "wire Q2.2 to B3+ 4 AWG red 1 ft\nwire B1- to N1 2 AWG black 1 ft\n"
    "wire B2- to N1 2 AWG black 1 ft\nwire B3- to N1 2 AWG black 1 ft\n"
    "wire A1- to N1 4 AWG black 1 ft\n"
)


@pytest.mark.parametrize(
    ("said", "stands"),
    [
        ("A1 on", ("closed", True)),
        ("A1 off", ("open", True)),
        # A source that nobody speaks of may run, and then both close.
        ("B1 on", ("closed", False)),
    ],
)
def test_a_combiner_behind_another_closes_once_that_one_has(said, stands):
    state = by_name(study_of(CHAIN, f"state here {said}\n"))["here"]
    assert [position(state, name) for name in ("Q1", "Q2")] == [stands, stands]
    # The first stays open where somebody has opened it, and so does the second.
    held = by_name(study_of(CHAIN, "state here A1 on, Q1 open\n"))["here"]
    assert [position(held, name) for name in ("Q1", "Q2")] == [("open", True), ("open", True)]


def test_unplugged_a_vehicle_keeps_its_own_side_of_the_plug_live():
    # It comes back by its own frame, not by the pin of the plug.
    study = study_of(WIRED, VEHICLE)
    pins = frozenset(edge_name(each) for each in study.rig.devices if each.about.name == "J1")
    alive = source_reach(study).alive(Open(pins))
    assert alive["J1.2.line"] == ("V1",)
    assert alive["B1+"] == ("B1",)


def test_no_state_is_added_where_those_of_the_text_may_leave_the_engine_off() -> None:
    text = """rig "T" system 12 V
battery B1 90 Ah
selector S2 100 A
busbar N1 100 A
alternator A1 60 A
battery B2 90 Ah
wire B1+ to S2.1 6 AWG red 1 ft
wire B2+ to S2.2 6 AWG red 1 ft
wire A1+ to S2 6 AWG red 1 ft
wire A1- to N1 6 AWG black 1 ft
wire B1- to N1 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
state moored S2 off
state engine S2 1, A1 on
"""
    quiet = "state quiet S2 2\n"
    names = [one.name for one in states_of(study_from(text + quiet))]
    assert names == ["moored", "engine", "quiet"]
    # Without it nothing of the text tells what is live at rest.
    assert [one.name for one in states_of(study_from(text))][-1] == "engine off"


CONVERTED = """disconnect S1 "Main" 150 A
dc-dc D1 "12 to 24" 10 A from 12 V to 24 V, draws 25 A
load L1 "Pump" 5 A
wire B1+ to S1 25 mm2 red 0.3 m
wire S1 to D1.in 6 mm2 red 1 m
wire D1- to B1- 6 mm2 black 1 m
wire D1.out to L1+ 2.5 mm2 red 1 m
wire L1- to D1- 2.5 mm2 black 1 m
state "Laid up" S1 open{said}
state "Out" S1 closed
"""


@pytest.mark.parametrize(
    ("said", "laid_up"), [("", "D1 off"), (", D1 on", "D1 on"), (", D1 off", "D1 off")]
)
def test_a_converter_with_a_dead_input_is_off_unless_the_text_says_otherwise(said, laid_up):
    text = 'rig "S" system 12 V, rules rv, revised 2026-12-01\nbattery B1 "House" agm, 100 Ah\n'
    study = study_from(text + CONVERTED.format(said=said))
    words = {one.name: settings_words(study.rig, one) for one in states_of(study)}
    assert words["Laid up"] == f"S1 open, {laid_up}"
    assert "D1 off" not in words["Out"]


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_a_converter_is_off_where_and_only_where_its_input_is_dead(file):
    study = checked(file).study
    for state in states_of(study) if study is not None else ():
        alive = source_reach(study).alive(opened(study.rig, state))
        for source in study.rig.sources:
            told = state.of(source.about.name)
            if source.inlet and not told.is_stated:
                is_fed = bool(alive.get(study.rig.by_name.loads[source.inlet].plus))
                assert (told.position == "on") == is_fed, (state.name, source.about.name)


WINCH = """rig "Winch" system 12 V, rules vehicle
battery B1 100 Ah, agm
charger C1 10 A
disconnect S2 "Winch isolator" 300 A{}
load L2 "Winch" 100 A, intermittent
wire B1+ to S2 70 mm2 red 1 m, fuse 150 A at B1+
wire S2 to L2+ 70 mm2 red 1 m
wire L2- to B1- 70 mm2 black 1 m
wire C1+ to B1+ 6 mm2 red 1 m, fuse 20 A at B1+
wire C1- to B1- 6 mm2 black 1 m
"""


@pytest.mark.parametrize(
    ("rests", "position"), [("", "closed"), (", rests closed", "closed"), (", rests open", "open")]
)
def test_a_disconnect_stands_as_it_rests_while_the_shore_cord_is_in(rests, position):
    for more in ("", "state parked S2 open\n"):
        states = states_of(study_from(WINCH.format(rests) + more))
        shore = next(one for one in states if one.name == "shore")
        assert shore.of("S2").position == position
        # What rests open parts nothing in use: no state beside is there for it.
        assert [one.name for one in states] == ["parked" if more else "stored", "shore"]


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_rests_open_is_open_where_the_text_does_not_say_otherwise(file):
    """But for what a panel hangs behind: that is closed while the rig is used."""
    rig = checked(file).study.rig
    parts = [one for one in rig.devices if one.traits.parts_rig and not one.traits.selects]
    for name in dict.fromkeys(one.about.name for one in parts):
        devices = tuple(
            replace(one, rests="open") if one.about.name == name else one for one in rig.devices
        )
        for state in states_of(Study(replace(rig, devices=devices), rig.book)):
            setting = state.of(name)
            own = frozenset(edge_name(one) for one in rig.devices if one.about.name == name)
            feeds = own & feeding_panels(rig, own)
            in_use = feeds and state.name != STORED
            stands = "closed" if in_use and name not in parallel_switches(rig) else "open"
            assert setting.is_stated or setting.position == stands, (name, state.name)
