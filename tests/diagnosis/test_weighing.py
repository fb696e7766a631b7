"""How well a fault explains readings: densities, spreads and steps, worked out by hand."""

from math import exp, hypot, log, log1p, pi, sqrt
from types import SimpleNamespace

import pytest

from helpers.forgotten import cache
from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.posterior import _FaultSearch
from rigfolio.diagnosis.shows import MeterShows, compared
from rigfolio.diagnosis.spreads import Expected, Spreads
from rigfolio.diagnosis.suspects import Suspect, SuspectKind, suspects
from rigfolio.diagnosis.verdicts import Diagnosis, Verdict, by_part
from rigfolio.operating import NOTHING_WRONG, Wrong
from rigfolio.reading.logs.meter import read_log
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
charger C1 15 A
charger C2 5 A
panel P1 2 slots of 20 A
busbar N1 100 A
disconnect S1 100 A
wire P1 to S1.line 6 AWG red 1 ft
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire C1+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C1- to N1 10 AWG black 3 ft
wire C2+ to P1 10 AWG red 3 ft, fuse 20 A at P1
wire C2- to N1 10 AWG black 3 ft
circuit P1.1 "Heater" fuse 10 A
    wire 14 AWG red 10 ft
    load "Element" 2 ohm
circuit P1.2 "Roof fan" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Fan" 3 A, motor
state stored  C1 off, C2 off
state harbour  C1 off, C2 on
state shore  C1 on, C2 on
state road  C1 on, C2 off
"""
SLIP, SLIP_V = figure("slip", "share"), figure("slip", "volt")
GAIN = 0.5 * figure("meter", "share")
VOLT, AMPERE = figure("meter", "volt"), figure("meter", "ampere")


@cache
def bench() -> Study:
    return study_from(RIG)


def evidence(*lines: str) -> Evidence:
    return Evidence(bench(), heard(bench().rig, *lines))


def showing(*values: float, seen: float = 0.0) -> Expected:
    """What is shown, with nothing that moves it."""
    none = (0.0,) * len(values)
    return Expected(values, (none,), none, seen)


def log_normal(off: float, spread: float) -> float:
    return -0.5 * log(2.0 * pi) - log(spread) - 0.5 * (off / spread) ** 2


# Two digits of 0.01 V, the last of them rounded; copper that bears nothing loses nothing.
REST = hypot(VOLT, 0.01 / sqrt(12.0))


def test_one_reading_is_as_likely_as_it_is_near() -> None:
    one = evidence("B1 = 12.42 V, with all off")
    wide = hypot(REST, GAIN * 12.42)
    told = one.fit.log_likelihood(showing(12.42, seen=-0.5))
    assert told == pytest.approx(log_normal(0.0, wide) + log1p(-SLIP) - 0.5)
    wide = hypot(REST, GAIN * 12.3)
    told = one.fit.log_likelihood(showing(12.3))
    assert told == pytest.approx(log_normal(0.12, wide) + log1p(-SLIP))
    # One reading alone is taken at its word: 3 V off are some eighty spreads, and no slip.
    assert one.fit.log_likelihood(showing(9.42)) < -1000.0


def test_one_of_several_readings_may_be_a_slip() -> None:
    # 3 V off: that it was taken at another place has the chance of a slip, anywhere within 6 V.
    two = evidence("B1 = 12.42 V, with all off", "P1 = 9.42 V, with all off")
    other = log_normal(0.0, hypot(REST, GAIN * 12.42)) + log1p(-SLIP)
    told = two.fit.log_likelihood(showing(12.42, 12.42))
    assert told == pytest.approx(log(SLIP / (2.0 * SLIP_V)) + other, abs=1e-6)


def test_a_spread_that_all_share_is_counted_once() -> None:
    # By hand: how far off in spreads, of the reading, the gain and what moves it, squared; mean.
    two = evidence("B1 = 12.42 V, with all off", "P1 = 12.42 V, with all off")
    want = Expected((12.32, 12.42), ((0.3, 0.3),), (0.0, 0.4), 0.0)
    first = 0.1 / sqrt(REST**2 + (GAIN * 12.32) ** 2 + 0.3**2)
    assert two.fit.misfit(want) == pytest.approx(first**2 / 2.0)
    assert two.fit.misfit(showing(12.42, 12.42)) == pytest.approx(0.0, abs=1e-12)
    assert evidence("Fan dead").fit.misfit(showing()) == 0.0


def test_ohms_have_a_spread_of_their_own() -> None:
    # Three times 4 ohm is one deviation off: the gain of a meter for volts has no part in it.
    one = evidence("P1.2 to N1 = 4 ohm")
    assert one.fit.misfit(showing(log(12.0))) == pytest.approx(1.0)


def test_what_was_measured_is_told_from_what_was_seen() -> None:
    one = evidence("Fan dead", "P1.2 = 12 V, with Fan on")
    assert [each.reading.measure for each in one.numeric] == ["voltage"]
    assert [each.reading.symptom for each in one.symptoms] == ["dead"]
    # Someone has to say what was on.
    assert one.leaves_on_open
    assert not evidence("P1.2 = 12 V, with Fan on").leaves_on_open
    assert evidence("P1.2 = 12 V").leaves_on_open


def test_five_spreads_off_is_not_explained() -> None:
    one = evidence("B1 = 12.42 V, with all off")
    for off, is_far in ((4.9, False), (-4.9, False), (5.1, True), (-5.1, True)):
        want = 12.42 + off * hypot(REST, GAIN * 12.42)
        moved = Expected((want,), ((0.0,),), (0.0,), 0.0)
        # The gain grows with what is expected, by 1 in 100 here.
        assert (one.fit.unexplained(moved) == one.readings) is is_far


def test_nothing_fits_better_than_the_most() -> None:
    for lines in (
        ("B1 = 12.42 V, with all off",),
        ("P1 to P1.2 = 4.0 mV",),
        ("Roof fan = 3.00 A", "P1 to P1.2 = 4.0 mV"),
        ("P1.2 to N1 = 4.00 ohm",),
    ):
        one = evidence(*lines)
        assert one.fit.log_likelihood(showing(*one.observed)) <= one.fit.most_log
        # It is no more than a quarter of a spread wrong for each reading: ln(1 / 0.8) is 0.22.
        exact = sum(log_normal(0.0, one.spreads.of(at, v)) for at, v in enumerate(one.observed))
        assert one.fit.most_log == pytest.approx(exact + len(lines) * log(1.0 / 0.8))


def test_what_moves_all_readings_of_a_day() -> None:
    one = evidence("B1 = 12.42 V, with all off", "Roof fan = 3 A, with Fan on")
    nothing = suspects(bench())[0]
    made = one.expected(nothing, NOTHING_WRONG, one.sound)
    # A bank at rest moves by its share of the nominal volts; a fan on does not draw more for it.
    ((by_bank, by_amps),) = made.by_emf
    assert by_bank == pytest.approx(0.5 * figure("rest", "spread") * 12.0, rel=1e-3)
    assert by_amps == pytest.approx(0.0, abs=1e-6)
    # What loads draw is off by a share of 3 A; with all off no load moves a bank.
    assert made.by_load[1] == pytest.approx(figure("spread", "load_share") * 3.0, rel=1e-3)
    assert made.by_load[0] == pytest.approx(0.0, abs=1e-6)
    # Where it was measured, little is open of it.
    said = evidence("Roof fan = 4 A at 4 A, with Fan on")
    made = said.expected(nothing, NOTHING_WRONG, said.sound)
    assert made.values[0] == pytest.approx(4.0, rel=1e-3)
    assert made.by_load[0] == pytest.approx(figure("spread", "measured_share") * 4.0, rel=1e-3)


def test_loads_draw_what_was_measured() -> None:
    # 3 A of the text, 7.5 A of the clamp: two and a half times as much.
    assert evidence("B1 = 12 V at 7.5 A, with Fan on").draws == pytest.approx((2.5,))
    assert evidence("B1 = 12 V, with Fan on").draws == (1.0,)
    # As little as 0.3 A may be twice that.
    small = study_from(RIG.replace("3 A, motor", "0.3 A, motor"))
    log_, _ = read_log("B1 = 12 V at 0.6 A, with Fan on", "r", small.rig)
    assert Evidence(small, log_.readings).draws == pytest.approx((2.0,))
    # What is off draws nothing, whatever a clamp shows.
    assert evidence("B1 = 12 V at 0.1 A, with all off").draws == (1.0,)


def test_what_was_on_is_taken_from_the_place() -> None:
    def on(*lines: str) -> list[set[str]]:
        return [set(scene.on) for scene in evidence(*lines).scenes]

    assert on("P1.2 = 12 V") == [{"Fan"}]
    assert on("P1.2 = 12 V", "Element = 11 V") == [{"Fan", "Element"}]
    assert on("B1 = 11.8 V at 8 A") == [{"Fan", "Element"}]
    assert on("P1.2 = 12 V at 3 A") == [{"Fan"}]
    assert on("P1.2 = 12 V at 3 A, with Element on") == [{"Element"}]
    # A bare reading beside a loaded one is at rest; one that says how much was drawn says all.
    assert on("B1 = 12.3 V", "B1 = 11.8 V, with Fan on") == [set(), {"Fan"}]
    assert on("P1.2 = 12 V at 3 A", "Element = 11 V") == [{"Fan"}, {"Element"}]


def test_a_charge_is_missed_where_something_charges() -> None:
    # Of the states that in which most flows into the bank: 20 A of both chargers.
    assert evidence("B1 does not charge").running == "shore"
    assert evidence("B1 does not charge").onward.standing == ("shore", ())
    assert (
        evidence("B1 = 13 V, in road", "B1 does not charge, in road").onward.standing[0] == "road"
    )
    # The charger gives its most where it runs alone or with another: the first such state.
    assert evidence("C1 dead").running in ("shore", "road")
    assert evidence("C2 dead").running in ("shore", "harbour")
    assert evidence("B1 dead").running == ""
    assert evidence("C1 = 13 V").running == ""


def test_a_fuse_carries_a_third_more_for_a_while() -> None:
    carried = dict(evidence("Fan dead").carried)
    # 1.35 times 5 A and 10 A (ISO 8820-3, from memory).
    assert carried["P1.2"] == pytest.approx(6.75)
    assert carried["P1.1"] == pytest.approx(13.5)
    # Three wires and two slots have one; a disconnect opens by hand alone.
    assert len(carried) == 5


def spreads(line: str, sound_v: float) -> Spreads:
    one = evidence(line)
    shown = SimpleNamespace(between_v=lambda *_: sound_v)
    return Spreads(bench(), one.numeric, one.observed, (shown,))


@pytest.mark.parametrize(
    ("line", "sound_v", "lost_v", "own"),
    [
        # Volts against minus: what sound copper loses of 12 V, 0.4 V here; none above 12 V; of a
        # dead line no more than a tenth of 12 V.
        ("P1.2 = 11.6 V", 11.6, 0.4, hypot(VOLT, 0.1 / sqrt(12.0))),
        ("P1.2 = 12.4 V", 12.4, 0.0, hypot(VOLT, 0.1 / sqrt(12.0))),
        ("P1.2 = 0 V", 0.0, 1.2, VOLT),
        # Volts along a way are a loss as a whole, whichever way the probes are held; with its load
        # on a sound joint takes up to a twentieth of a volt, two deviations from none.
        ("P1 to P1.2 = 40 mV", 0.05, 0.05, hypot(VOLT / 10.0, 0.001 / sqrt(12.0), 0.025)),
        ("P1 to P1.2 = 40 mV", -0.05, 0.05, hypot(VOLT / 10.0, 0.001 / sqrt(12.0), 0.025)),
        ("P1 to P1.2 = 1.00 V", 0.1, 0.1, hypot(VOLT, 0.01 / sqrt(12.0), 0.025)),
        ("P1 to P1.2 = 40 mV, with all off", 0.0, 0.0, hypot(VOLT / 10.0, 0.001 / sqrt(12.0))),
    ],
)
def test_volts_spread_by_digits_and_by_the_copper(
    line: str, sound_v: float, lost_v: float, own: float
) -> None:
    want = hypot(own, figure("spread", "drop_share") * lost_v)
    assert spreads(line, sound_v).of(0, 12.0) == pytest.approx(want)


def test_amperes_and_ohms_spread_by_the_meter() -> None:
    # Two digits and half a per cent of 10 A, the jaw of a clamp 1 %, the digit that was rounded.
    want = sqrt((AMPERE + 0.05) ** 2 + 0.1**2 + 0.1**2 / 12.0)
    assert spreads("Roof fan = 9.5 A", 0.0).of(0, 10.0) == pytest.approx(want)
    assert spreads("Roof fan = 9.5 A", 0.0).of(0, -10.0) == pytest.approx(want)
    assert spreads("P1.2 to N1 = 4 ohm", 0.0).of(0, 1.0) == pytest.approx(log(3.0))


def test_ohms_are_compared_by_their_logarithm() -> None:
    (probe,) = evidence("P1.2 to N1 = 4 ohm").numeric
    assert compared(probe, 4.0) == pytest.approx(log(4.0))
    # Leads have 20 mohm; no meter tells a megohm from an open line.
    assert compared(probe, 0.0) == pytest.approx(log(0.02))
    assert compared(probe, 1e9) == compared(probe, 1e6) == pytest.approx(log(1e6))
    (volts,) = evidence("P1.2 = 4 V").numeric
    assert compared(volts, -4.0) == -4.0


def test_amperes_of_a_battery_have_a_sign_where_one_was_written() -> None:
    one = evidence("Roof fan = 3 A")
    shows = MeterShows(bench(), one.scenes, one.numeric, one.places)
    shown = SimpleNamespace(given_a=lambda _: -7.0)
    for value, seen in ((7.0, 7.0), (-7.0, -7.0), (0.0, 7.0)):
        reading = SimpleNamespace(kind="source", part="B1", value=value)
        assert shows._current_a(reading, shown) == seen


def verdict(
    kind: SuspectKind, name: str, share: float, *, touches: bool = True, misfit: float = 0.0,
    unexplained: tuple[object, ...] = (),
) -> Verdict:  # fmt: skip
    fault = Suspect(kind, name, "", 1.0, (1.0,))
    return Verdict((fault,), share, (2.0,), ((2.0, 2.0),), misfit, touches, (), unexplained)


def test_joint_and_break_of_a_wire_are_summed_up() -> None:
    every = (
        verdict("joint", "W1", 0.3), verdict("contact", "F1", 0.4),
        verdict("open wire", "W1", 0.2), verdict("joint", "W9", 0.1, touches=False),
    )  # fmt: skip
    told = by_part(Diagnosis(SimpleNamespace(), every))
    assert told == ((("W1",), pytest.approx(0.5)), (("F1",), 0.4), ((), 0.1))
    assert every[0].wrong == Wrong(ohm=(("W1", 2.0),))


@pytest.mark.parametrize(
    ("misfit", "unexplained", "count", "fits", "explains"),
    [(5.9, 0, 3, True, True), (6.0, 0, 3, False, True), (0.0, 1, 3, False, True),
     (0.0, 2, 4, False, False), (0.0, 1, 2, False, False), (0.0, 0, 0, True, True)],
)  # fmt: skip
def test_what_leaves_half_of_the_readings_open_explains_nothing(
    misfit: float, unexplained: int, count: int, fits: bool, explains: bool
) -> None:
    one = verdict("joint", "W1", 1.0, misfit=misfit, unexplained=(None,) * unexplained)
    told = Diagnosis(SimpleNamespace(numeric=(None,) * count), (one,))
    assert (told.fits, told.explains) == (fits, explains)


def test_the_ohms_of_a_joint_are_volts_over_amperes() -> None:
    # 2 ohm, 60 mohm of copper, 20 mohm of battery and 0.5 ohm more: 12.42 / 2.58 A, of which the
    # half ohm takes 2.407 V.
    lines = ("P1.1 to P1.1~1 = 2.55 V", "Heater = 4.81 A", "B1 = 12.32 V")
    log_, _ = read_log("\n".join(lines), "r", bench().rig)
    best = diagnosed(bench(), log_.readings).verdicts[0]
    assert {(one.kind, one.name) for one in best.faults} == {("joint", "P1.1/1")}
    # The wire itself has 30 mohm of the 2.55 / 4.81 ohm.
    assert best.amounts[0] == pytest.approx(0.5, rel=0.04)


def test_a_fuse_that_opens_in_a_sound_rig_rules_nothing_out() -> None:
    def shown(amperes: float, *, is_same: bool = False) -> SimpleNamespace:
        return SimpleNamespace(current_a=lambda _: amperes, is_same=lambda _: is_same)

    search = object.__new__(_FaultSearch)
    search.evidence = SimpleNamespace(sound=(shown(3.0),), carried=(("P1.2", 6.75),))
    assert search._opens([shown(6.8)])
    assert not search._opens([shown(6.75)])
    assert not search._opens([shown(6.8, is_same=True)])
    search.evidence = SimpleNamespace(sound=(shown(7.0),), carried=(("P1.2", 6.75),))
    assert not search._opens([shown(9.0)])
    search.evidence = SimpleNamespace(sound=(shown(6.75),), carried=(("P1.2", 6.75),))
    assert search._opens([shown(9.0)])


def test_a_fault_counts_by_how_often_it_happens() -> None:
    # Two faults that show the same: 3 to 1 before, 3 to 1 after.
    search = object.__new__(_FaultSearch)
    search.total = 8.0
    search.evidence = SimpleNamespace(
        fit=SimpleNamespace(misfit=lambda _: 0.0, unexplained=lambda _: (), stand_at=lambda _: ())
    )
    trial = SimpleNamespace(expected=showing(1.0))
    for weight in (3.0, 1.0):
        one = SimpleNamespace(
            suspect=Suspect("chafed", "W1", "", weight, (0.0, 1.0)), log_evidence=log(0.2),
            fine=((0.0, showing(1.0), log(0.01) - 2e3), (1.0, showing(2.0), log(0.39) - 2e3)),
            touches=True,
            trials=(trial, trial),
        )  # fmt: skip
        found_log, made = search._single(one)
        assert exp(found_log) == pytest.approx(weight / 8.0 * 0.2)
        # The likelier of its two amounts, with 39 of 40 parts of its weight.
        assert (made.amounts, made.spans) == ((1.0,), ((1.0, 1.0),))
        assert [part for part, _ in made.trials] == pytest.approx([1.0 / 40.0, 39.0 / 40.0])
