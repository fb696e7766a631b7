"""How likely a symptom is with something wrong: told by hand of one load, one part, one figure."""

from collections.abc import Mapping
from types import SimpleNamespace

import pytest

from helpers.forgotten import cache
from helpers.studies import heard, study_from
from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.suspects import Suspect, SuspectKind
from rigfolio.diagnosis.symptoms import Symptoms, _by_share, _uncharged, edge_of, steady
from rigfolio.operating import NOTHING_WRONG, Wrong
from rigfolio.reading.logs.meter import read_log
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
battery B2 agm, 50 Ah, internal 20 mohm
charger C1 15 A
panel P1 4 slots of 20 A
panel P2 2 slots of 20 A
busbar N1 100 A
fuse F1 60 A
load M1 "Winch" 30 A, intermittent
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
wire B1+ to F1.line 4 AWG red 1 ft
wire F1.load to M1+ 4 AWG red 3 ft
wire M1- to B1- 4 AWG black 3 ft
wire C1+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C1- to N1 10 AWG black 3 ft
wire P1 to P2 6 AWG red 1 ft
circuit P1.1 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Lamp 1" 1 A
    wire 16 AWG red 6 ft
    load "Lamp 2" 1 A
    wire 16 AWG red 6 ft
    load "Lamp 3" 1 A
circuit P1.2 "Roof fan" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Fan" 3 A, motor
circuit P1.3 "Pump" fuse 10 A
    wire 14 AWG brown 10 ft
    load "Pump" 4 A, intermittent, motor
    load "Light of the pump" 2 A, intermittent
circuit P2.1 "Radio" fuse 5 A
    wire 14 AWG brown 10 ft
    load "Radio" 1 A, intermittent
circuit F1.load "Signal"
    wire 14 AWG brown 10 ft
    load "Horn" 5 A, intermittent
circuit B1+ "Bilge" fuse 10 A
    wire 14 AWG brown 10 ft
    load "Bilge pump" 5 A, intermittent
state shore  C1 on
"""
SURE, CHANCE = figure("seen", "sure"), figure("seen", "chance")
PART = figure("seen", "part")
IMAGINED = figure("seen", "imagined")


@cache
def bench() -> Study:
    return study_from(RIG)


def here(
    volts: Mapping[str, float], given: Mapping[str, float] | None = None, amperes: float = 0.0
) -> SimpleNamespace:
    """What a meter shows: volts at loads by their name, 12 V at all others; what sources give."""
    by_plus = {one.plus: volts.get(one.about.name, 12.0) for one in bench().rig.loads}
    return SimpleNamespace(
        between_v=lambda a, _: by_plus[a],
        given_a=lambda name: (given or {}).get(name, 0.0),
        current_a=lambda _: amperes,
    )


WELL = here({})


def fault(kind: SuspectKind = "joint", name: str = "", circuit: str = "") -> Suspect:
    return Suspect(kind, name, circuit, 1.0, (1.0,))


def chance(
    line: str, suspect: Suspect | None = None, wrong: Wrong = NOTHING_WRONG,
    shown: SimpleNamespace = WELL, sound: SimpleNamespace = WELL,
) -> float:  # fmt: skip
    (reading,) = heard(bench().rig, line)
    return Symptoms(bench()).chance(reading, suspect or fault(), wrong, shown, sound)


@pytest.mark.parametrize(
    ("share", "dead", "dim", "works"),
    [
        # By the book a load is dead below 0.45 of its volts and dim below 0.9; half of what is not
        # seen for sure goes to what lies next to it.
        (1.0, CHANCE, CHANCE, SURE),
        (0.9, CHANCE, CHANCE, SURE),
        (0.89, 0.06, SURE, 0.06),
        (0.45, 0.06, SURE, 0.06),
        (0.44, SURE, 0.06, CHANCE),
    ],
)
def test_a_load_is_seen_by_the_volts_that_it_gets(
    share: float, dead: float, dim: float, works: float
) -> None:
    told = [_by_share(each, share, is_off=False) for each in ("dead", "dim", "slow", "works")]
    assert told == pytest.approx([dead, dim, dim, works])
    off = [_by_share(each, share, is_off=True) for each in ("dead", "dim", "slow", "works")]
    assert off == pytest.approx([SURE, 0.06, 0.06, CHANCE])


def test_of_several_lamps_the_brightest_is_meant() -> None:
    # Lamps are said to be dead when all are: one that works is enough to deny it.
    one_dark = here({"Lamp 1": 0.0})
    assert chance("Lights dead", shown=one_dark) == CHANCE
    assert chance("Lights works", shown=one_dark) == SURE
    assert chance("Lamp 1 dead", shown=one_dark) == SURE
    all_dark = here(dict.fromkeys(("Lamp 1", "Lamp 2", "Lamp 3"), 2.0))
    assert chance("Lights dead", shown=all_dark) == SURE
    # Two that have failed and one without volts: none is left to shine.
    wrong = Wrong(draws=(("Lamp 2", 0.0),), reversed_loads=("Lamp 3",))
    assert chance("Lights dead", wrong=wrong, shown=one_dark) == SURE
    assert chance("Lights dead", wrong=wrong) == CHANCE
    # One that draws half is not off.
    assert chance("Lamp 2 dead", wrong=Wrong(draws=(("Lamp 2", 0.5),))) == CHANCE
    assert chance("Lamp 2 dead", wrong=Wrong(draws=(("Lamp 2", 0.0),))) == SURE


def test_of_a_whole_rig_a_quarter_may_still_be_as_it_should() -> None:
    # Lamps and fan run for hours: a quarter of the four is one.
    one_left = here({"Lamp 1": 0.0, "Lamp 2": 0.0, "Lamp 3": 0.0})
    two_left = here({"Lamp 1": 0.0, "Lamp 2": 0.0})
    assert chance("everything dead", shown=one_left) == SURE
    assert chance("everything dead", shown=two_left) == CHANCE
    gone = Wrong(draws=(("Lamp 1", 0.0), ("Lamp 2", 0.0), ("Lamp 3", 0.0)))
    assert chance("everything dead", wrong=gone) == SURE


def test_what_hangs_on_a_dead_outlet_does_not_charge() -> None:
    assert chance("Lamp 1 does not charge", shown=here({"Lamp 1": 0.0})) == SURE
    assert chance("Lamp 1 does not charge") == CHANCE


def test_heat_is_felt_from_half_a_watt_on() -> None:
    # By hand: 5 A through 20 mohm are 25 * 0.02 = 0.5 W, through 19 mohm 0.475 W.
    for ohm, told in ((0.02, SURE), (0.019, CHANCE)):
        wrong = Wrong(ohm=(("P1.2", ohm),))
        assert chance("Roof fan is hot", wrong=wrong, shown=here({}, amperes=5.0)) == told
    # Two joints of half that each, in the wire out and in the way back of one circuit.
    circuit = bench().circuit("P1.2")
    assert circuit is not None
    wrong = Wrong(ohm=((circuit.wires[0], 0.011), (circuit.returns[0], 0.011)))
    assert chance("Roof fan is hot", wrong=wrong, shown=here({}, amperes=5.0)) == SURE
    # A joint elsewhere does not warm this one; nor does what lies behind a fuse warm its clip.
    assert chance("P1.1 is hot", wrong=wrong, shown=here({}, amperes=5.0)) == CHANCE
    assert chance("F1 is hot", wrong=wrong, shown=here({}, amperes=5.0)) == CHANCE
    held = Wrong(ohm=(("F1", 0.03),))
    assert chance("F1 is hot", wrong=held, shown=here({}, amperes=5.0)) == SURE


def test_a_part_is_asked_at_its_own_edge() -> None:
    def edge(line: str) -> str:
        log, _ = read_log(line, "r", bench().rig)
        return edge_of(bench(), log.readings[0])

    assert edge("P1.2 is hot") == "P1.2"
    assert edge("F1 is hot") == "F1"
    # The fuse of a circuit at a post has a name of its own; where there is none, it is the wire.
    assert edge("Bilge is hot") == "B1+/Bilge fuse"
    assert edge("Signal is hot") == "F1.load/Signal"
    # A load is no edge, nor is it the circuit that has the same label.
    assert edge("M1 is hot") == "M1"


def test_a_fuse_blows_for_what_lies_behind_it() -> None:
    for kind in ("short", "chafed", "stuck load"):
        assert chance("P1.2 blows", fault(kind, "P1.2", "P1.2")) == SURE
        assert chance("P1.2 blows", fault(kind, "P1.1", "P1.1")) == IMAGINED
        # Whoever names the load means the fuse of its circuit.
        assert chance("Fan blows its fuse", fault(kind, "P1.2", "P1.2")) == SURE
    # A clip that is hot warms its fuse; an old fuse opens once and not again.
    assert chance("P1.2 blows", fault("contact", "P1.2", "P1.2")) == pytest.approx(5 * IMAGINED)
    assert chance("P1.2 blows", fault("contact", "P1.1", "P1.1")) == IMAGINED
    opened = fault("open device", "P1.2", "P1.2")
    assert chance("P1.2 blows", opened) == IMAGINED
    assert chance("P1.2 tripped", opened) == figure("seen", "aged")
    assert chance("P1.1 tripped", opened) == IMAGINED
    assert chance("P1.2 blows", fault("joint", "P1.2/1", "P1.2")) == IMAGINED


@pytest.mark.parametrize(
    ("share", "told"),
    [
        # 2 A and 4 A in a fuse of 10 A: with the pump at 2.2 times its own 10.8 A, which a fuse
        # of 10 A may bear; at 2.3 times 11.2 A, more than a tenth above its rating.
        (2.2, IMAGINED),
        (2.25, IMAGINED),
        (2.3, SURE),
        (1.0, IMAGINED),
    ],
)
def test_a_load_that_draws_too_much_blows_its_fuse(share: float, told: float) -> None:
    wrong = Wrong(draws=(("Pump", share),))
    assert chance("P1.3 blows", fault("overload", "Pump", "P1.3"), wrong) == told
    assert chance("P1.1 blows", fault("overload", "Pump", "P1.3"), wrong) == IMAGINED
    # A load that draws less blows nothing, whatever else is on.
    less = Wrong(draws=(("Pump", 0.5),))
    assert chance("P1.3 blows", fault("overload", "Pump", "P1.3"), less) == IMAGINED


def test_a_fuse_outside_a_panel_blows_for_the_loads_behind_it() -> None:
    # 30 A in 60 A with 5 A of the horn: at 2.1 times its own 68 A, more than a tenth above.
    for share, told in ((2.0, IMAGINED), (2.1, SURE)):
        wrong = Wrong(draws=(("M1", share),))
        for words in ("F1 blows", "M1 blows", "Winch keeps blowing its fuse"):
            assert chance(words, fault("overload", "M1", ""), wrong) == told
        assert chance("B1+/P1 fuse blows", fault("overload", "M1", ""), wrong) == IMAGINED


def test_a_fuse_outside_a_panel_that_was_found_blown_was_old_or_loose() -> None:
    assert chance("F1 blown", fault("open device", "F1", "")) == figure("seen", "aged")
    assert chance("F1 keeps blowing", fault("open device", "F1", "")) == IMAGINED
    assert chance("F1 blown", fault("contact", "F1", "")) == 5.0 * IMAGINED
    for other in ("B1+/P1 fuse", "C1+/P1 fuse"):
        assert chance("F1 blown", fault("open device", other, "")) == IMAGINED
        # The winch draws through its own fuse: what opens others is not said of it.
        assert chance("Winch keeps blowing its fuse", fault("contact", other, "")) == IMAGINED


def test_a_motor_labours_while_its_volts_are_right() -> None:
    heavy = Wrong(draws=(("Fan", 1.7),))
    assert chance("Fan runs slow", wrong=heavy) == figure("seen", "labours")
    assert chance("Pump runs slow", wrong=heavy) == CHANCE
    # Of two loads in a circuit one labours; a twentieth more is more.
    more = Wrong(draws=(("Light of the pump", 1.05),))
    assert chance("P1.3 runs slow", wrong=more) == figure("seen", "labours")
    assert chance("Fan runs slow", wrong=Wrong(draws=(("Fan", 1.0),))) == CHANCE
    assert chance("Fan dim", wrong=heavy) == CHANCE
    assert chance("Fan runs slow", shown=here({"Fan": 9.0})) == SURE


def test_only_what_is_reversed_runs_backwards() -> None:
    wrong = Wrong(reversed_loads=("Fan",))
    assert chance("Fan runs backwards", wrong=wrong) == SURE
    assert chance("Pump runs backwards", wrong=wrong) == CHANCE
    one = Wrong(reversed_loads=("Pump",))
    assert chance("P1.3 runs backwards", wrong=one) == SURE


def test_what_is_loose_flickers_where_it_takes_a_tenth_of_the_volts() -> None:
    loose = figure("seen", "loose")
    for kind in ("joint", "contact", "open wire", "open device"):
        assert chance("Fan flickers", fault(kind), shown=here({"Fan": 10.7})) == loose
        assert chance("Fan flickers", fault(kind), shown=here({"Fan": 10.8})) == CHANCE
    # A battery that is flat is so all the time; and what is always low is not loose.
    assert chance("Fan flickers", fault("flat"), shown=here({"Fan": 6.0})) == CHANCE
    low = here({"Fan": 10.7})
    assert chance("Fan flickers", fault("joint"), shown=low, sound=low) == CHANCE
    dull = here({"Lamp 3": 10.7})
    assert chance("Lights flickers", fault("joint"), shown=dull, sound=dull) == CHANCE
    # Of three lamps the one that comes and goes is seen.
    assert chance("Lights flickers", fault("joint"), shown=here({"Lamp 3": 0.0})) == loose
    chafed = fault("chafed", "P1.2", "P1.2")
    assert chance("Fan flickers", chafed) == figure("seen", "chafes")
    assert chance("Lamp 1 flickers", chafed) == CHANCE


def test_a_charge_is_missed_as_much_as_is_lost_of_it() -> None:
    assert [_uncharged(here_a, -15.0) for here_a in (-7.4, -7.5, -13.6)] == [SURE, PART, CHANCE]
    # Nine tenths of a trickle are a charge as well.
    assert _uncharged(-0.28, -0.3) == CHANCE
    # What flows the other way is no charge; nor is nothing where nothing is to be expected.
    assert _uncharged(15.0, -15.0) == SURE
    assert _uncharged(0.0, 0.0) == _uncharged(-1.0, 1.0) == CHANCE


def test_a_battery_and_its_charger_are_seen_by_what_flows() -> None:
    full = here({}, {"B1": -15.0, "C1": 15.0})
    none = here({}, {"B1": 3.0, "C1": 0.0})
    for line in ("B1 does not charge", "C1 dead"):
        assert chance(line, shown=none, sound=full) == SURE
        assert chance(line, shown=full, sound=full) == CHANCE
    assert chance("C1 works", shown=full, sound=full) == SURE
    assert chance("C1 works", shown=none, sound=full) == CHANCE


def test_a_battery_is_dead_if_it_is_weak_or_all_is_dark() -> None:
    for kind in ("flat", "tired", "open battery"):
        for line in ("B1 dead", "B1 dim", "B1 slow"):
            assert chance(line, fault(kind, "B1")) == SURE
            imagined = figure("seen", "imagined") if line == "B1 dead" else CHANCE
            assert chance(line, fault(kind, "B2")) == imagined
        assert chance("B1 works", fault(kind, "B1")) == CHANCE
        assert chance("B1 works", fault(kind, "B2")) == SURE
    # A charger that is dead is no weak battery.
    assert chance("B1 dead", fault("dead source", "B1")) == figure("seen", "imagined")
    # A bad terminal makes all dim, and is taken for the battery; one lamp that shines denies it.
    names = [one.about.name for one in bench().rig.loads]
    dark = here(dict.fromkeys(names, 10.7))
    assert chance("B1 dead", fault("joint", "B1+/P1"), shown=dark) == figure("seen", "mistaken")
    edge = here(dict.fromkeys(names, 10.8))
    assert chance("B1 dead", fault("joint", "B1+/P1"), shown=edge) == figure("seen", "imagined")
    lit = here({**dict.fromkeys(names, 6.0), "Lamp 2": 12.0})
    assert chance("B1 dead", fault("joint", "B1+/P1"), shown=lit) == figure("seen", "imagined")
    # What does not run for hours is not on: the winch tells nothing.
    assert chance("B1 dead", shown=here({**dict.fromkeys(names, 6.0), "M1": 12.0})) == figure(
        "seen", "mistaken"
    )
    assert chance("B1 flickers", fault("flat", "B1")) == CHANCE


def test_what_runs_for_hours_is_on_and_all_where_nothing_does() -> None:
    rig = bench().rig
    assert steady(rig.loads) == ("Lamp 1", "Lamp 2", "Lamp 3", "Fan")
    short = [one for one in rig.loads if one.circuit == "P1.3"]
    assert steady(short) == ("Pump", "Light of the pump")


def test_a_symptom_is_of_the_loads_at_its_place() -> None:
    def names(line: str) -> list[str]:
        log, _ = read_log(line, "r", bench().rig)
        return [one.about.name for one in Symptoms(bench()).loads_at(log.readings[0])]

    assert names("everything dead") == ["Lamp 1", "Lamp 2", "Lamp 3", "Fan"]
    assert names("everything dead, with Pump on") == ["Pump"]
    assert names("Fan dead") == ["Fan"]
    # Two at one terminal are two loads.
    assert names("Pump dead") == ["Pump"]
    assert names("Lights dead") == ["Lamp 1", "Lamp 2", "Lamp 3"]
    assert names("M1+ dead") == ["M1"]
    assert names("M1- dead") == ["M1"]
    # A panel without power: all that hangs on it, and not the winch.
    behind = ["Lamp 1", "Lamp 2", "Lamp 3", "Fan", "Pump", "Light of the pump"]
    assert names("P1 no power") == behind
