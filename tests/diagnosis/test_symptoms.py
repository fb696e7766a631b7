"""What people say at the panel: heard, and held against every kind of fault."""

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.books.trade.diagnosis import spoken
from rigfolio.diagnosis.effort import effort
from rigfolio.diagnosis.suspects import SuspectKind
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.reading.logs.meter import read_log
from rigfolio.record import replace
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 "House bank" agm, 100 Ah, internal 20 mohm
charger C1 "Charger" 15 A
panel P1 3 slots of 20 A
busbar N1 100 A
load M1 "Winch" 30 A, intermittent
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire B1+ to M1+ 4 AWG red 3 ft, fuse 60 A at B1+
wire M1- to B1- 4 AWG black 3 ft
wire C1+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C1- to N1 10 AWG black 3 ft
circuit P1.1 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Galley lamp" 12 W
    wire 16 AWG red 6 ft
    load "Bunk lamp" 10 W
circuit P1.2 "Roof fan" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Fan" 3 A, motor
circuit P1.3 "Water pump" fuse 10 A
    wire 14 AWG brown 10 ft
    load "Pump" 5 A, intermittent, motor
"""


@cache
def bench() -> Study:
    return study_from(RIG)


def found(*lines: str) -> Diagnosis:
    return diagnosed(bench(), heard(bench().rig, *lines))


def shares(diagnosis: Diagnosis, *kinds: SuspectKind) -> float:
    return sum(
        one.share for one in diagnosis.verdicts
        if one.touches and any(fault.kind in kinds for fault in one.faults)
    )  # fmt: skip


def share_of(diagnosis: Diagnosis, kind: SuspectKind, name: str) -> float:
    return sum(
        one.share for one in diagnosis.verdicts
        if (kind, name) in {(fault.kind, fault.name) for fault in one.faults}
    )  # fmt: skip


@pytest.mark.parametrize(
    ("line", "symptom", "part"),
    [
        ("Fan runs slow", "slow", "Fan"),
        ("Roof fan does not work", "dead", "P1.2"),
        ("Fan doesn’t work", "dead", "Fan"),
        ("Galley lamp flickering", "flickers", "Galley lamp"),
        ("P1 no power", "dead", "P1"),
        ("Water pump tripped", "tripped", "P1.3"),
        ("Water pump keeps blowing its fuse", "blows", "P1.3"),
        ("Pump keeps blowing", "blows", "Pump"),
        ("Fan runs backwards", "backwards", "Fan"),
        ("everything dim", "dim", "everything"),
        ("Everything is dim", "dim", "everything"),
        ("LIGHTS: are very dim", "dim", "P1.1"),
        ("P1.1 is hot", "hot", "P1.1"),
        ("Bunk lamp works, with Pump on", "works", "Bunk lamp"),
        ("Winch is sluggish", "slow", "M1"),
        ("fuse blows P1.2", "blows", "P1.2"),
        ("fuse of P1.2 keeps blowing", "blows", "P1.2"),
        ("the breaker trips on Roof fan", "blows", "P1.2"),
        ("Water pump's fuse is blown", "tripped", "P1.3"),
        ("no power at P1", "dead", "P1"),
        ("no light from the Galley lamp", "dead", "Galley lamp"),
        ("the pump has stopped working", "dead", "Pump"),
        ("dim: Bunk lamp, with Pump on", "dim", "Bunk lamp"),
        ("house bank does not charge", "uncharged", "B1"),
        ("the House bank is not charging", "uncharged", "B1"),
        ("no charge in House bank", "uncharged", "B1"),
        ("House bank is dead", "dead", "B1"),
        ("Charger does not work", "dead", "C1"),
    ],
)
def test_words_of_a_technician(line: str, symptom: str, part: str) -> None:
    (one,) = heard(bench().rig, line)
    assert (one.measure, one.symptom, one.part) == ("symptom", symptom, part)


WORDS = [(kind, word) for kind, words in spoken() if kind != "everything" for word in words]


@pytest.mark.parametrize(("kind", "word"), WORDS)
def test_every_word_of_the_table_is_heard(kind: str, word: str) -> None:
    (one,) = heard(bench().rig, f"Galley lamp {word}")
    assert (one.symptom, one.part) == (kind, "Galley lamp")


@pytest.mark.parametrize(
    ("label", "line"),
    [
        ("Hot water pump", "Hot water pump dead"),
        ("Dead reckoner", "Dead reckoner dim"),
        ("Weak signal amplifier", "weak signal amplifier flickers"),
        ("Fine nozzle pump", "no power at Fine nozzle pump"),
    ],
)
def test_a_label_that_holds_a_symptom_is_a_place(label: str, line: str) -> None:
    rig = study_from(RIG.replace("Water pump", label)).rig
    log, problems = read_log(line, "r", rig)
    assert not problems
    assert log.readings[0].part == "P1.3"


def test_what_is_said_of_nothing_is_told_by_its_name() -> None:
    log, problems = read_log("fuse blows P9.9", "r", bench().rig)
    assert not log.readings
    assert problems[0].headline == "nothing is called `P9.9`"
    assert problems[0].at.span.start == len("fuse blows ")


@pytest.mark.parametrize(
    ("line", "same"),
    [
        ("pump 9.6 V", "pump = 9.6 V"),
        ("Pump is 9.6V", "Pump = 9.6 V"),
        ("9.6 V at the pump", "Pump = 9.6 V"),
        ("9.6 V across Pump, with Fan on", "Pump = 9.6 V, with Fan on"),
        ("P1 to P1.3 40 mV", "P1 to P1.3 = 40 mV"),
        ("B1 11.8 V at 7.5 A", "B1 = 11.8 V at 7.5 A"),
        ("B1 reads 12.3 volts at rest", "B1 = 12.3 V at rest"),
        ("P1.3 to N1 1.2 kohm", "P1.3 to N1 = 1200 ohm"),
        ("P1.3 to N1 = 0.5 Mohm", "P1.3 to N1 = 500 kohm"),
        ("Roof fan 3.1 A", "Roof fan = 3.1 A"),
    ],
)
def test_a_reading_without_its_sign_is_taken_as_one(line: str, same: str) -> None:
    (one,), (other,) = heard(bench().rig, line), heard(bench().rig, same)
    assert replace(one, text="", span=other.span) == replace(other, text="")
    # What is said back can be read again.
    (again,) = heard(bench().rig, one.text)
    assert replace(again, span=other.span) == replace(one, span=other.span)


@pytest.mark.parametrize(
    ("line", "headline"),
    [("pump 9.6", "`9.6` without a unit"), ("pump 9,6 V", "a decimal comma")],
)
def test_a_reading_that_lacks_more_than_its_sign_is_asked_for(line: str, headline: str) -> None:
    _, (problem,) = read_log(line, "r", bench().rig)
    assert problem.headline == headline


@pytest.mark.parametrize("line", ["B1 = 12.5v", "across pump = 12.5 V", "b1 = 12.5 volts"])
def test_readings_as_people_write_them(line: str) -> None:
    (one,) = heard(bench().rig, line)
    assert one.value == 12.5


def test_everything_is_no_place_for_a_meter() -> None:
    log, problems = read_log("everything = 12 V", "r", bench().rig)
    assert not log.readings
    assert problems[0].headline == "a reading of everything"


def test_everything_dim_is_what_all_share() -> None:
    told = found("everything dim")
    # The lamps share nothing but battery, trunk and main fuse; the winch and the pump are off.
    assert told.evidence.took_on == {"Galley lamp", "Bunk lamp", "Fan"}
    for verdict in told.verdicts[:6]:
        assert verdict.faults[0].circuit == ""
        assert verdict.touches


def test_a_panel_without_power_is_dead_as_a_whole() -> None:
    told = found("P1 no power")
    assert told.verdicts[0].faults[0].kind in ("open device", "open battery")
    assert share_of(told, "open device", "P1.2") < 0.02


def test_lights_that_are_all_dead_are_not_one_lamp() -> None:
    all_dead, one_dead = found("Lights dead"), found("Bunk lamp dead", "Galley lamp works")
    assert share_of(all_dead, "dead load", "Bunk lamp") < 0.02
    assert share_of(one_dead, "dead load", "Bunk lamp") > 0.1
    assert share_of(one_dead, "open device", "P1.1") < 0.02


def test_what_has_no_part_in_a_symptom_is_left_as_likely_as_it_was() -> None:
    told = found("Bunk lamp dead")
    fan = [v for v in told.verdicts if {f.circuit for f in v.faults} == {"P1.2"}]
    assert fan
    assert not any(one.touches for one in fan)
    by_kind = {one.faults[0].kind: one.share for one in fan}
    # Half as often before (weights of the book), half as likely after.
    assert by_kind["open device"] / by_kind["contact"] == pytest.approx(2.0 / 1.5)


def test_a_trunk_takes_down_more_than_the_one_load_that_is_named() -> None:
    # By hand: the main fuse and the fuse of a slot are as likely to blow. Behind the slot are two
    # lamps, behind the main fuse four loads: who names the bunk lamp does so in one of two cases
    # for the one, in one of four for the other. Of circuits it is one in one, and one in three.
    lamp, circuit = found("Bunk lamp dead"), found("P1.1 dead")
    for told, odds in ((lamp, 4.0 / 2.0), (circuit, 3.0 / 1.0)):
        slot = share_of(told, "open device", "P1.1")
        main = share_of(told, "open device", "B1+/P1 fuse")
        assert slot / main == pytest.approx(odds, rel=0.02)


def test_what_comes_back_to_the_other_bank_is_not_fed() -> None:
    # The minus of the second bank is joined to that of the first; its plus is joined to nothing
    # that the lamp could draw from. So the lamp is lost behind the return of the first alone.
    text = RIG + "battery B2 agm, 50 Ah, internal 20 mohm\nwire B2- to N1 6 AWG black 2 ft\n"
    study = study_from(text)
    log, _ = read_log("Bunk lamp dead", "r", study.rig)
    told = diagnosed(study, log.readings)
    back = share_of(told, "open wire", "B1-/N1")
    out = share_of(told, "open wire", "P1.1/Bunk lamp")
    # Both lie on the way of the lamp; the trunk leads back from four loads (winch aside), the last
    # wire of the circuit to the one lamp: 1.3 / 4 against 1.
    assert back / out == pytest.approx(1.3 / 4.0, rel=0.05)


def test_a_motor_that_is_slow_starves_or_labours() -> None:
    told = found("Fan runs slow")
    assert shares(told, "joint", "contact", "thin wire", "flat", "tired") > 0.4
    assert share_of(told, "overload", "Fan") > 5.0 * share_of(told, "overload", "Pump")
    # Volts that are right leave the motor alone.
    fed = found("Fan runs slow", "Fan = 12.2 V", "Roof fan = 4.9 A")
    assert {(one.kind, one.name) for one in fed.verdicts[0].faults} == {("overload", "Fan")}


def test_what_is_backwards_is_reversed() -> None:
    told = found("Fan runs backwards")
    assert {(one.kind, one.name) for one in told.verdicts[0].faults} == {("reversed", "Fan")}


def test_a_battery_that_does_not_charge_is_looked_for_on_the_way_of_its_charger() -> None:
    told = found("House bank does not charge")
    # Its state is one in which the charger runs; no load and no lamp's wire has a part in that.
    assert told.evidence.running == "shore"
    assert shares(told, "dead load", "overload", "thin wire") < 0.05
    assert share_of(told, "dead source", "C1") > 0.02
    words = as_text(diagnosis_report(bench(), heard(bench().rig, "House bank does not charge")))
    assert "as in `shore`, since something is to charge" in words


def test_a_charger_without_output_shows_no_lift() -> None:
    # By hand: a charger lifts the bank from 12.4 V at rest to some 13.6 V and feeds it; with 12.4 V
    # at its own terminals and its fuse sound it gives nothing.
    lines = ("House bank does not charge", "C1 = 12.42 V", "C1+ to P1 = 0 mV", "N1 to C1- = 0 mV")
    told = found(*lines)
    assert {(one.kind, one.name) for one in told.verdicts[0].faults} == {("dead source", "C1")}


def test_a_dead_battery_is_flat_more_often_than_badly_joined() -> None:
    told = found("House bank is dead")
    assert shares(told, "flat", "tired", "open battery") > 0.5
    assert 0.0 < share_of(told, "open device", "P1.3") < 0.01
    well = found("House bank works")
    assert shares(well, "flat", "tired", "open battery") < 0.05


def test_what_flickers_is_loose_or_chafed() -> None:
    told = found("Roof fan flickers")
    assert shares(told, "joint", "contact", "open wire", "open device", "chafed") > 0.8
    assert share_of(told, "chafed", "P1.2") > 10.0 * share_of(told, "chafed", "P1.3")


def test_what_is_hot_has_a_resistance_that_carries_current() -> None:
    told = found("P1.3 is hot")
    assert shares(told, "joint", "contact") > 0.5
    assert told.verdicts[0].faults[0].circuit == "P1.3"


def test_a_fuse_that_has_tripped_once_may_have_been_old_one_that_keeps_blowing_not() -> None:
    once, often = found("Water pump tripped"), found("Water pump keeps blowing")
    # Beside a short, a chafed wire, and a pump that draws too much or is stuck.
    assert share_of(once, "open device", "P1.3") > 0.25
    assert share_of(often, "open device", "P1.3") < 0.05
    assert shares(often, "short", "chafed", "stuck load", "overload") > 0.8


FRIDGE = """rig "Fridge" system 12 V, rules rv
battery B1 lithium, 100 Ah, delivers 900 A
busbar N1 100 A
fuse F1 50 A terminal-cube on B1+
panel P1 6 slots of 20 A, negative N1, 100 A in all
wire F1.load to P1 6 AWG red 4 ft
wire N1 to B1- 6 AWG white 4 ft
circuit P1.1 "Fridge" fuse 10 A
    wire 14 AWG red 8 ft
    load "Fridge" 5 A, starts at 2.4 times
circuit P1.2 "Fan" fuse 5 A
    wire 16 AWG red 8 ft
    load "Fan" 2 A
"""


def told_of_fridge(words: str) -> dict[str, float]:
    """What is told of the fridge, by kind of fault."""
    study = study_from(FRIDGE)
    verdicts = diagnosed(study, heard(study.rig, words)).verdicts
    return {
        one.faults[0].kind: one.share
        for one in verdicts
        if len(one.faults) == 1 and one.faults[0].name in ("Fridge", "P1.1")
    }


def test_a_load_that_draws_too_much_is_a_reason_why_its_fuse_opens() -> None:
    """10 A carry 3 times 5 A for seconds only; a start of 12 A, 2.2 times as much for less."""
    running, starting = (
        told_of_fridge(words)
        for words in ("P1.1 keeps blowing", "P1.1 keeps blowing when the fridge starts")
    )
    assert running["overload"] > 0.1
    assert starting["overload"] > running["overload"]
    # A fuse of which nothing is said is taken to be closed: no more runs through it than it bears.
    assert told_of_fridge("Fan keeps blowing its fuse").get("overload", 0.0) < 0.01


@pytest.mark.parametrize(
    "words", ["a fuse blows when the fridge starts", "the fuse blows, with Fridge starting",
              "Fuse blows when the fridge starts", "a breaker trips when the fridge starts"]
)  # fmt: skip
def test_a_fuse_that_is_not_named_is_that_of_the_load_that_ran(words: str) -> None:
    rig = study_from(FRIDGE).rig
    (reading,) = heard(rig, words)
    assert (reading.part, reading.symptom, reading.starting) == ("Fridge", "blows", ("Fridge",))


def test_a_fuse_that_is_not_named_at_all_is_asked_for() -> None:
    rig = study_from(FRIDGE).rig
    for words in ("a fuse blows", "a fuse blows, with Fridge and Fan on"):
        with pytest.raises(AssertionError):
            heard(rig, words)


def test_a_fuse_outside_the_panel_that_keeps_blowing() -> None:
    assert heard(bench().rig, "Winch keeps blowing its fuse")[0].symptom == "blows"
    assert found("Winch keeps blowing its fuse").verdicts


def test_a_load_with_a_name_of_its_own_is_on_while_it_is_read() -> None:
    told = found("Winch = 8.1 V")
    assert told.evidence.took_on == {"M1"}
    words = as_text(diagnosis_report(bench(), heard(bench().rig, "M1 = 8.1 V")))
    assert "on while reading: M1" in words
    # 30 A over some joint take what the winch lacks: were it off, nothing would.
    assert told.verdicts[0].share < 0.9
    assert shares(told, "joint", "contact", "flat", "tired") > 0.5


def test_help_lists_what_may_be_said(capsys: pytest.CaptureFixture[str]) -> None:
    from rigfolio.cli.registry import parser

    words = " ".join(parser("diagnose").format_help().split())
    for word in ("runs slow", "does not work", "flickering", "no power", "tripped",
                 "keeps blowing", "backwards", "everything dim"):  # fmt: skip
        assert word in words


@pytest.mark.parametrize("name", ["heron-van", "kittiwake-30", "lapwing-cabin", "marsh-wren-17"])
def test_symptoms_of_everything_are_heard_in_every_example(name: str) -> None:
    study = studied(EXAMPLES / f"{name}.rig")
    log, problems = read_log("everything dead", "r", study.rig)
    assert not problems
    assert diagnosed(study, log.readings).verdicts[0].touches


def test_who_reads_at_a_load_has_it_on_and_who_reads_at_a_panel_nothing() -> None:
    assert found("M1+ = 11.9 V").evidence.took_on == {"M1"}
    assert found("P1 = 12.3 V").evidence.took_on == set()
    assert found("P1 no power").evidence.took_on == {"Galley lamp", "Bunk lamp", "Fan"}


def test_a_clamp_goes_round_the_wire_at_the_panel_before_it_goes_to_the_load() -> None:
    at_panel, at_load = (effort(bench(), "amperes", a, "") for a in ("P1.2", "Fan"))
    # A clamp has to be fetched: either costs more than volts at the front of the panel.
    assert effort(bench(), "volts", "P1.2", "P1.3") < at_panel < at_load


def test_everything_is_said_before_every_load_was_tried() -> None:
    # Of the three that run for hours none may work if everything is dead; a fuse of one circuit
    # leaves the fan or the lamps running.
    told = found("everything dead")
    assert share_of(told, "open device", "B1+/P1 fuse") > 20.0 * share_of(
        told, "open device", "P1.1"
    )


def test_one_bank_that_is_dead_says_nothing_of_the_other() -> None:
    study = study_from(
        f'{RIG}battery B2 "Engine bank" agm, 50 Ah, internal 20 mohm\n'
        "wire B2- to N1 6 AWG black 2 ft\n"
    )
    log, _ = read_log("House bank is dead", "r", study.rig)
    told = diagnosed(study, log.readings)
    assert share_of(told, "flat", "B1") > 20.0 * share_of(told, "flat", "B2")


def test_lights_flicker_where_the_last_of_them_is_loose() -> None:
    told = found("Lights flicker")
    loose = share_of(told, "joint", "P1.1/Bunk lamp")
    assert loose > 5.0 * share_of(told, "joint", "P1.3/1")
