"""What is said of charging is judged while something charges, and hides no fault that was read."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, EXAMPLES, RIGS
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import entry_words
from rigfolio.books import figure
from rigfolio.diagnosis.choice import choices, next_reading, predictions
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.posterior import emptied
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.suspects import drains
from rigfolio.isolation import opened, states_of
from rigfolio.operating import Wrong, drawn_at

RIG = """
rig "Two banks"
    system 12 V
    rules vehicle
battery B1 "House bank" lithium, 100 Ah, internal 5 mohm
battery B2 "Start battery" agm, 80 Ah, internal 8 mohm
charger C1 "Charger" 10 A
dc-dc E1 "Booster" 20 A from 12 V to 12.8 V, draws 25 A
alternator A1 "Alternator" 80 A
disconnect S1 "Link" 100 A
busbar N1 150 A
wire B1+ to S1.line 6 AWG red 2 ft, fuse 60 A at B1+
wire S1.load to B2+ 6 AWG red 2 ft, fuse 60 A at B2+
wire B1- to N1 4 AWG black 1 ft
wire B2- to N1 4 AWG black 1 ft
wire C1+ to B1+ 12 AWG red 3 ft, fuse 15 A at B1+
wire C1- to N1 12 AWG black 3 ft
wire A1+ to B2+ 4 AWG red 4 ft, fuse 100 A at B2+
wire A1- to N1 4 AWG black 4 ft
wire B2+ to E1.in 8 AWG red 6 ft, fuse 40 A at B2+, tag WE
wire E1.out to B1+ 8 AWG red 3 ft, fuse 40 A at B1+
wire E1- to N1 8 AWG black 3 ft
state linked   S1 closed, C1 off, E1 off, A1 off
state moored   S1 open,   C1 on,  E1 off, A1 off
state driving  S1 open,   C1 off, E1 on,  A1 on
"""


def test_what_one_bank_takes_from_the_other_is_no_charge() -> None:
    # By hand: lithium rests at 13.2 V, agm at 12.4 V: joined, some 45 A flow into the start
    # battery over 17 mohm; that is more than its alternator has to spare, and no charge.
    scenes = Scenes(study_from(RIG))
    assert scenes.of(("linked", ()), frozenset()).solve().given_a("B2") < -20.0
    assert scenes.running("B2") == "driving"
    assert scenes.running("C1") == "moored"


@pytest.mark.parametrize(
    ("read", "state"),
    [
        # The engine gives 20 A by the booster, the charger on shore 10 A.
        ((), "driving"),
        (("C1 = 14.2 V",), "moored"),
        (("C1+ to B1+ = 10 mV",), "moored"),
        (("E1.in = 13 V",), "driving"),
        (("C1 does not work",), "moored"),
    ],
)
def test_what_was_read_is_on_in_the_state_that_is_meant(read: tuple[str, ...], state: str) -> None:
    study = study_from(RIG)
    readings = heard(study.rig, "House bank does not charge", *read)
    assert Evidence(study, readings).running == state


def test_what_nothing_charges_has_no_state_to_be_charged_in() -> None:
    study = study_from("\n".join(
        line for line in RIG.splitlines()
        if not line.startswith(("charger", "alternator", "dc-dc", "wire C1", "wire A1", "wire E1",
                                "wire B2+ to E1", "state moored", "state driving"))
    ).replace("C1 off, E1 off, A1 off", ""))  # fmt: skip
    assert [Scenes(study).running(name) for name in ("B1", "B2")] == ["", ""]


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_a_bank_is_said_to_charge_where_something_that_charges_reaches_it(file: Path) -> None:
    study = studied(file)
    scenes = Scenes(study)
    for bank in (one for one in study.rig.sources if one.stores):
        name = scenes.running(bank.about.name)
        if not name:
            continue
        (state,) = (one for one in states_of(study) if one.name == name)
        stands = opened(study.rig, state)
        reached = study.net.walk([bank.plus], stands.bars)
        charging = [
            one.about.name for one in study.rig.sources
            if one.traits.charges and one.about.name not in stands.sources and one.plus in reached
        ]  # fmt: skip
        shown = scenes.of((name, ()), frozenset()).solve()
        assert any(shown.given_a(one) > 0.1 for one in charging)
        assert shown.given_a(bank.about.name) < 0.0


def test_no_volts_before_a_converter_are_a_blown_fuse_though_it_does_not_charge() -> None:
    unlinked = ("charger", "disconnect", "wire C1", "wire B1+ to S1", "wire S1", "state linked",
                "state moored")  # fmt: skip
    kept = (line for line in RIG.splitlines() if not line.startswith(unlinked))
    study = study_from("\n".join(kept).replace("S1 open,   C1 off, ", ""))
    told = diagnosed(study, heard(study.rig, "E1.in = 0 V", "House bank does not charge"))
    assert told.evidence.running == "driving"
    first = told.verdicts[0]
    assert [(one.kind, one.name) for one in first.faults] == [("open device", "WE fuse")]
    # It, its lead and the way back are all that takes these volts away: no second fault is needed.
    assert first.unexplained == ()
    assert sum(one.share for one in told.verdicts if len(one.faults) > 1) < 0.05


@pytest.mark.parametrize(
    ("said", "chargers"),
    [
        ("House bank does not charge, in driving", {"E1"}),
        ("House bank does not charge, in moored", {"C1"}),
        ("Start battery does not charge, in driving", {"A1"}),
    ],
)
def test_what_should_charge_a_bank_is_a_suspect_and_the_first_reading_parts_them(
    said: str, chargers: set[str]
) -> None:
    study = study_from(RIG)
    told = diagnosed(study, heard(study.rig, said))
    likely = [fault.name for one in told.verdicts[:6] for fault in one.faults]
    assert chargers <= set(likely)
    choice = next_reading(told)
    assert choice is not None
    shown = [one for one in predictions(told, choice) if one.verdict.touches]
    # Nothing that it may show leaves more than seven tenths of what is suspected.
    whole = sum(one.verdict.share for one in shown)
    for one in shown:
        alike = sum(other.verdict.share for other in shown if abs(other.value - one.value) < 0.1)
        assert alike < 0.7 * whole, one


def test_a_joint_that_lets_most_of_the_charge_through_is_not_why_a_bank_does_not_charge() -> None:
    # A bank that does not charge is not full: lithium at rest has 13.2 V, what charges it 13.6 V;
    # a joint of 5 mohm takes 0.05 V of that at 10 A.
    study = study_from(RIG)
    told = diagnosed(study, heard(study.rig, "House bank does not charge, in moored"))
    scene = told.evidence.scenes[0]
    assert scene.rest_share("B1")[0] * 12.0 == pytest.approx(13.2, abs=0.05)
    small = scene.solve(Wrong(ohm=(("C1 fuse", 0.005),))).given_a("B1")
    assert small == pytest.approx(scene.solve().given_a("B1"), rel=0.01)


def test_what_goes_on_drawing_from_a_battery_is_a_suspect_and_a_clamp_tells_it() -> None:
    study = study_from(RIG)

    def share(*lines: str) -> float:
        told = diagnosed(study, heard(study.rig, *lines))
        drains = [one for one in told.verdicts if one.faults[0].kind == "drain"]
        assert {fault.name for one in drains for fault in one.faults[:1]} == {"E1.in"}
        return sum(one.share for one in drains)

    said = "Start battery is flat in the morning, in moored"
    told = diagnosed(study, heard(study.rig, said))
    # A clamp first, for it empties while nothing is on; then volts: each is worth a reading.
    choice, second = choices(told)[0], next(c for c in choices(told) if c.how == "volts")
    assert (choice.how, choice.a) == ("amperes at rest", "B2")
    assert choice.bits > 0.5
    assert second.bits > 0.1
    # The plate of the booster: it draws 25 A from 12 V; a flat battery gives nothing with all off.
    shown = {one.verdict.faults[0].kind: one.value for one in predictions(told, choice)}
    assert shown["drain"] == pytest.approx(25.0, rel=0.05)
    assert shown["flat"] == pytest.approx(0.0, abs=1e-3)
    assert entry_words(told, choice, "0") == "B2 = 0 A, with all off"
    assert share(said) > 0.1
    assert share(said, "B2 = 0 A, with all off, in moored") < 0.01
    # One that stands by draws less than it does at work: half of it, more or less.
    assert share(said, "B2 = 11 A, with all off, in moored") > 0.9


def test_every_load_behind_a_battery_may_have_emptied_it() -> None:
    study = studied(EXAMPLES / "marsh-wren-17.rig")
    evidence = Evidence(study, heard(study.rig, "B1 is flat"))
    ((bank, behind),) = emptied(evidence)
    found = list(drains(study, bank, behind))
    known = {one.about.name for one in study.rig.loads if drawn_at(one, 12.0) > 0.0}
    assert {one.name for one in found} == known & behind
    assert found
    # Together they are as likely as the book has it, however many there are.
    assert sum(one.weight for one in found) == pytest.approx(figure("weight", "drain"))
    assert not list(emptied(Evidence(study, heard(study.rig, "Porch lamp dead"))))


def test_of_two_batteries_the_one_that_is_named_is_read_first() -> None:
    """Flat, it is charged; weak or open, it is replaced: volts at its own posts part these."""
    text = "".join(
        f"battery B{at} agm, 80 Ah, internal 8 mohm\nwire B{at}- to N1 4 AWG black 1 ft\n"
        f'circuit B{at}+ "Lamp {at}" fuse 5 A after 4 in\n    wire 14 AWG red 4 ft\n'
        f'    load "Lamp {at}" 2 A\n'
        for at in (1, 2)
    )
    study = study_from(f'rig "Two"\n    system 12 V\n    rules boat\nbusbar N1\n{text}')
    for bank in ("B1", "B2"):
        choice = next_reading(diagnosed(study, heard(study.rig, f"{bank} is flat")))
        assert choice is not None
        assert (choice.a, choice.b) == (f"{bank}+", f"{bank}-")
