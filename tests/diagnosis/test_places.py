"""What may be wrong in a rig before any reading, and where a probe goes: by hand."""

from itertools import pairwise

import pytest

from helpers.forgotten import cache
from helpers.studies import heard, study_from
from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.behind import Behind
from rigfolio.diagnosis.effort import effort, reaches_of
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.places import MeterPlaces
from rigfolio.diagnosis.suspects import Suspect, SuspectKind, joint_ohms, suspects
from rigfolio.record import replace
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
charger C1 15 A
disconnect S1 100 A
panel P1 4 slots of 20 A
busbar N1 100 A
load M1 "Winch" 30 A, intermittent
wire B1+ to S1.line 6 AWG red 1 ft, fuse 50 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft, corroded
wire B1+ to M1+ 4 AWG red 3 ft, fuse 60 A at B1+
wire M1- to B1- 4 AWG black 3 ft
wire C1+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C1- to N1 10 AWG black 3 ft
circuit P1.1 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Galley lamp" 1 A
    wire 16 AWG red 6 ft
    load "Bunk lamp" 1 A
circuit P1.2 "Roof fan" fuse 5 A, corroded
    wire 16 AWG blue 10 ft
    load "Fan" 3 A, motor, corroded
circuit P1.3 "Pump" fuse 10 A
    wire 14 AWG brown 10 ft
    load "Pump" 5 A, intermittent, motor
circuit S1.line "Alarm" fuse 3 A
    wire 16 AWG blue 10 ft
    load "Alarm" 0.1 A
circuit S1.load "Signal"
    wire 14 AWG brown 10 ft
    load "Horn" 5 A, intermittent
state shore  C1 on
"""


@cache
def bench() -> Study:
    return study_from(RIG)


def by_fault() -> dict[tuple[str, str], Suspect]:
    return {(one.kind, one.name): one for one in suspects(bench())}


def weight(kind: SuspectKind, name: str) -> float:
    return by_fault()[kind, name].weight


def evidence(line: str) -> Evidence:
    return Evidence(bench(), heard(bench().rig, line))


def test_a_wire_has_two_joints_and_a_return_corrodes_sooner() -> None:
    joint, opened = figure("weight", "joint"), figure("weight", "open")
    back, damaged = figure("weight", "return"), figure("weight", "damaged")
    assert weight("joint", "P1.1/Bunk lamp") == pytest.approx(2.0 * joint)
    assert weight("open wire", "P1.1/Bunk lamp") == pytest.approx(opened)
    assert weight("joint", "P1.1/1R") == pytest.approx(2.0 * joint * back)
    assert weight("open wire", "P1.1/1R") == pytest.approx(opened * back)
    # What is seen to be corroded is suspected before what looks sound.
    assert weight("joint", "B1-/N1") == pytest.approx(2.0 * joint * back * damaged)
    assert weight("open wire", "B1-/N1") == pytest.approx(opened * back * damaged)


def test_a_fuse_may_be_blown_and_a_switch_may_be_open() -> None:
    contact, damaged = figure("weight", "contact"), figure("weight", "damaged")
    assert weight("contact", "P1.1") == pytest.approx(contact)
    # The slot that is marked, and the device that is none.
    assert weight("contact", "P1.2") == pytest.approx(contact * damaged)
    assert weight("contact", "S1") == pytest.approx(contact)
    assert weight("open device", "P1.1") == figure("weight", "blown")
    assert weight("open device", "S1") == figure("weight", "switch")
    # Behind a fuse are wires that may be chafed, and a load that is stuck; behind a switch neither.
    assert weight("short", "P1.1") == figure("weight", "short")
    assert weight("chafed", "P1.1") == figure("weight", "chafed")
    assert ("short", "S1") not in by_fault()
    assert weight("stuck load", "Pump") == figure("weight", "stuck")
    assert ("stuck load", "Horn") not in by_fault()
    # A fuse on a wire guards what it feeds as one in a slot does.
    assert weight("short", "B1+/M1+ fuse") == figure("weight", "short")
    assert weight("chafed", "B1+/M1+ fuse") == figure("weight", "chafed")
    assert weight("stuck load", "M1") == figure("weight", "stuck")


def test_a_load_and_a_source_fail_each_in_their_way() -> None:
    damaged = figure("weight", "damaged")
    assert weight("dead load", "Pump") == pytest.approx(figure("weight", "load"))
    assert weight("dead load", "Fan") == pytest.approx(figure("weight", "load") * damaged)
    assert {kind for kind, name in by_fault() if name == "B1"} == {"flat", "tired", "open battery"}
    assert {kind for kind, name in by_fault() if name == "C1"} == {"dead source"}
    # A load that is dead, or a source, has nothing of what it should; one that is stuck opens.
    assert by_fault()["dead load", "Pump"].wrong(0.0).draws == (("Pump", 0.0),)
    assert by_fault()["dead source", "C1"].wrong(0.0).emf == (("C1", 0.0),)
    stuck = by_fault()["stuck load", "Pump"].wrong(5.0)
    assert stuck.draws == (("Pump", 5.0),)
    assert stuck.ohm == (("P1.3", figure("joint", "open_ohm")),)
    chafed = by_fault()["chafed", "P1.3"]
    # Its fuse is whole, or has opened again.
    assert chafed.amounts == (0.0, 1.0)
    assert chafed.wrong(0.0).ohm == ()
    assert chafed.wrong(1.0).ohm == (("P1.3", figure("joint", "open_ohm")),)


def test_a_thinner_wire_has_more_of_its_own_resistance() -> None:
    # 10 ft of 16 AWG: 4.016 ohm in 1000 ft, solid at 20 degC, ASTM B258 (from memory); a tenth more
    # in SAE cable, which is thinner, and a tenth when it is warm: 40 to 50 mohm. Twice that
    # is one time more than is there, in the way out and in the way back.
    thin = by_fault()["thin wire", "P1.2"]
    (out, out_ohm), (back, back_ohm) = thin.wrong(2.0).ohm
    assert {out, back} == {"P1.2/1", "P1.2/1R"}
    assert out_ohm == pytest.approx(0.045, rel=0.13)
    assert back_ohm == pytest.approx(out_ohm, rel=0.01)
    assert thin.wrong(1.0).ohm == ((out, 0.0), (back, 0.0))


def test_a_bad_joint_has_from_5_milliohm_to_200_ohm() -> None:
    # 4.6 decades by three steps each, evenly by the logarithm: 14 steps.
    ohms = joint_ohms()
    assert (len(ohms), ohms[0], ohms[-1]) == (15, pytest.approx(0.005), pytest.approx(200.0))
    ratios = [b / a for a, b in pairwise(ohms)]
    assert ratios == pytest.approx([40000.0 ** (1.0 / 14.0)] * 14)


@pytest.mark.parametrize(
    ("line", "kind", "name", "named"),
    [
        # Five loads stand behind the switch: two lamps, fan, pump and horn; winch and alarm do not.
        ("Fan dead", "open device", "S1", 1.0 / 5.0),
        ("Fan dead", "open device", "P1.2", 1.0),
        ("Bunk lamp dead", "open device", "P1.1", 1.0 / 2.0),
        ("Bunk lamp dead", "dead load", "Bunk lamp", 1.0),
        ("Bunk lamp dim", "thin wire", "P1.1", 1.0 / 2.0),
        # All seven hang on the battery; the return of the bar takes six with it, not the winch.
        ("Fan dead", "open battery", "B1", 1.0 / 7.0),
        ("Fan dead", "open wire", "B1-/N1", 1.0 / 6.0),
        # Who is mistaken may be so of any of the seven.
        ("M1 dead", "open device", "S1", 1.0 / 7.0),
        # Of circuits four stand behind the switch; the two lamps are one of them.
        ("P1.1 dead", "open device", "S1", 1.0 / 4.0),
        ("P1.1 dead", "open device", "P1.1", 1.0),
        # The winch has none: with it there are six of them by name.
        ("P1.1 dead", "open device", "P1.2", 1.0 / 6.0),
        # What is said of all, or of what is not dark, tells nothing of who was named.
        ("everything dead", "open device", "S1", 1.0),
        ("P1 no power", "open device", "S1", 1.0),
        ("Fan works", "open device", "S1", 1.0),
    ],
)
def test_one_of_several_is_named(line: str, kind: SuspectKind, name: str, named: float) -> None:
    one = evidence(line)
    told = Behind(bench(), one.scenes[0]).chance(one.readings[0], by_fault()[kind, name])
    assert told == pytest.approx(named)


def test_loads_are_on_where_a_reading_was_taken() -> None:
    def on(line: str) -> set[str]:
        return set(MeterPlaces(bench()).loads_on(*heard(bench().rig, line)))

    hours = {"Galley lamp", "Bunk lamp", "Fan", "Alarm"}
    assert on("everything dim") == hours
    assert on("B1 does not charge") == set()
    assert on("B1 dead") == hours
    assert on("P1 no power") == hours - {"Alarm"}
    # Volts at a panel or a bank are read with nothing on that was not said.
    assert on("P1 = 12 V") == on("B1 = 12 V") == set()
    assert on("Fan = 12 V") == on("P1.2 = 12 V") == on("Roof fan = 3 A") == {"Fan"}
    assert on("Fan = 12 V, with Pump on") == {"Pump"}
    assert on("M1+ = 12 V") == on("M1- to B1- = 10 mV") == {"M1"}
    assert on("Bunk lamp = 12 V") == {"Galley lamp", "Bunk lamp"}


def test_the_black_probe_goes_to_the_minus_of_its_part() -> None:
    minus = MeterPlaces(bench()).minus_of
    assert minus("M1+") == "M1-"
    assert minus("B1+") == "B1-"
    assert minus("C1+") == "C1-"
    # At a slot to the bar where its return lands; elsewhere to the post of the bank.
    assert minus("P1.2") == "N1"
    assert minus("P1") == "N1"
    assert minus("S1.line") == "B1-"


def test_a_probe_costs_what_it_takes_to_get_it_there() -> None:
    study = bench()
    slot, bar, post, device, load = (
        figure("reach", each) for each in ("slot", "bar", "post", "device", "load")
    )
    # Half for either end.
    assert effort(study, "volts", "P1.1", "N1") == pytest.approx((slot + bar) / 2.0)
    assert effort(study, "volts", "S1.line", "S1.load") == pytest.approx(device)
    assert effort(study, "volts", "B1+", "B1-") == pytest.approx(post)
    # From the bank to the panel goes a long lead.
    far = figure("effort", "far")
    assert effort(study, "volts", "B1+", "P1.1") == pytest.approx(far * (post + slot) / 2.0)
    # The fuse of the charger stands at the feed of the panel, and is handier than the feed.
    assert effort(study, "volts", "P1", "P1.1") == pytest.approx((device + slot) / 2.0)
    assert effort(study, "ohms", "P1.1", "N1") == pytest.approx(
        figure("effort", "ohms") * (slot + bar) / 2.0
    )
    clamp = figure("effort", "amperes")
    assert effort(study, "amperes", "P1.1", "") == pytest.approx(clamp)
    assert effort(study, "amperes", "Bunk lamp", "") == pytest.approx(clamp * load)
    # A fuse at a terminal is no slot.
    (alarm,) = [one for one in study.rig.circuits if one.label == "Alarm"]
    assert reaches_of(study).cost(alarm.start) == device


WAYS_BACK = """
rig "Ways back"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
busbar N2 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire N2 to N1 6 AWG black 1 ft
circuit P1.1 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Near lamp" 1 A
    wire 16 AWG red 6 ft
    load "Far lamp" 1 A
circuit P1.2 "Deck" fuse 10 A
    wire   16 AWG red 10 ft
    splice Z1
    wire   18 AWG red 3 ft
    load   "Port" 1 A
    wire   from Z1 18 AWG red 6 ft
    load   "Starboard" 1 A
circuit P1.3 "Fan" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Fan" 1 A
    return 16 AWG black 9 ft to N2
"""


@pytest.mark.parametrize(("slot", "bar"), [("P1.1", "N1"), ("P1.2", "N1"), ("P1.3", "N2")])
def test_the_black_probe_goes_to_the_bar_that_the_way_back_leads_to(slot: str, bar: str) -> None:
    """The last return of the text may lead from one lamp to another, or to a joint."""
    study = study_from(WAYS_BACK)
    assert MeterPlaces(study).minus_of(slot) == bar
    for order in (1, -1):
        circuits = tuple(replace(one, returns=one.returns[::order]) for one in study.rig.circuits)
        turned = Study(replace(study.rig, circuits=circuits), study.book.name)
        assert MeterPlaces(turned).minus_of(slot) == bar


TOWED = """
rig "Towed"
    system 12 V
battery B3 agm, 80 Ah, internal 6 mohm
battery B1 lithium, 100 Ah, internal 8 mohm
chassis G1
connector J1 1 pins of 50 A
wire B3- to J1.1 4 AWG black 20 ft
wire J1.1 to G1 4 AWG black 1 ft
busbar N1 100 A
wire N1 to B1- 6 AWG black 30 ft
wire N1 to G1 6 AWG black 3 ft
panel P1 6 slots of 30 A
wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+, class T
circuit P1.1 "Pump" fuse 10 A
    wire 14 AWG red 9 ft
    load "Pump" 7 A
"""


def test_the_black_probe_goes_to_the_battery_of_the_place_and_not_through_a_plug() -> None:
    study = study_from(TOWED)
    places = MeterPlaces(study)
    for terminal in ("N1", "G1", "J1.1.load"):
        assert places.minus_of(terminal) == "B1-", terminal
    assert places.minus_of("J1.1.line") == "B3-"
