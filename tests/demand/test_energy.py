"""Energy worked by hand, and demand at every level."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import EXAMPLES, RIGS
from helpers.studies import studied, study_from
from rigfolio.books.trade import habits
from rigfolio.demand.charge_times import charging
from rigfolio.demand.energy import (
    AH_C,
    DAY_S,
    HOUR_S,
    autonomy,
    use_of_rig,
    uses,
)
from rigfolio.demand.levels import demand_by_level
from rigfolio.judgement.result import load
from rigfolio.study import Study

FEW = settings(max_examples=40, deadline=None, derandomize=True, database=None)
HEAD = 'rig "T"\n    system 12 V\n    rules rv\n'
BASE = """battery B1 flooded, 100 Ah
disconnect S1 100 A
panel P1 4 slots of 20 A, 50 A in all
busbar N1 100 A
charger C1 30 A
wire B1+ to S1.line 6 AWG red 1 ft
wire S1.load to P1 6 AWG red 1 ft
wire C1+ to P1 8 AWG red 1 ft
wire C1- to N1 8 AWG black 1 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Furnace" fuse 5 A
    wire 16 AWG red 9 ft
    load "Fan" 2 A, 10 h/day
circuit P1.2 "Board" fuse 3 A
    wire 16 AWG red 9 ft
    load "Board" 1 A, 24 h/day
"""
PUMP = (
    'circuit P1.3 "Pump" fuse 10 A\n    wire 14 AWG red 9 ft\n    load "Pump" 7 A, intermittent\n'
)
ASKED = 'circuit P1.4 "Radio" fuse 3 A\n    wire 16 AWG red 9 ft\n    load "Radio" ?, 3 h/day\n'


def study_of(*parts):
    _, rig, errors = load("t.rig", HEAD + "".join(parts))
    assert errors == ()
    return Study(rig, rig.book)


def ah(coulomb):
    return coulomb / AH_C


def test_ampere_hours_of_a_day():
    # 2 A x 10 h = 20 Ah; 1 A x 24 h = 24 Ah.
    study = study_of(BASE)
    assert [ah(use.day_c) for use in uses(study)] == pytest.approx([20.0, 24.0])
    assert ah(use_of_rig(study).known_c) == pytest.approx(44.0)


def test_watts_count_at_the_volts_that_their_wires_leave():
    """12 W behind 18 ft of 16 AWG and 3 ft of 6 AWG, at 30 °C and at 75 °C.

    NFPA 70-2023 chapter 9 table 8: 4.99 ohm per 1000 ft (memory) and 0.491 (seen).
    """
    (_, board) = uses(study_of(BASE.replace("1 A, 24 h/day", "12 W, 24 h/day")))
    ohm = 18.0 * 4.99e-3 + 3.0 * 0.491e-3
    least_a, most_a = (
        12.0 / ((12.0 + math.sqrt(144.0 - 48.0 * share * ohm)) / 2.0) for share in (0.85, 1.0)
    )
    assert least_a * 24.0 < ah(board.day_c) < most_a * 24.0


def test_what_is_not_known_is_listed_and_never_counted_as_nothing():
    study = study_of(BASE, PUMP, ASKED)
    found = {use.load: use for use in uses(study)}
    assert found["Pump"].day_c is None
    assert found["Pump"].missing == "how long it runs a day"
    assert found["Radio"].missing == "what it draws"
    whole = use_of_rig(study)
    assert ah(whole.known_c) == pytest.approx(44.0)
    assert whole.unknown == ("Pump", "Radio")


def test_how_long_a_bank_lasts():
    # Half of 100 Ah over 44 Ah a day; in storage nothing is drawn.
    lasts = {one.state: one for one in autonomy(study_of(BASE))}
    assert lasts["shore"].lasts_s / DAY_S == pytest.approx(50 / 44)
    assert lasts["shore"].charging == ("C1",)
    assert lasts["stored"].lasts_s == math.inf
    assert lasts["stored"].source.status == "common practice"


def test_a_bank_of_unknown_make_is_not_judged():
    text = BASE.replace("flooded, 100 Ah", "100 Ah")
    assert {one.lasts_s for one in autonomy(study_of(text))} == {None}
    (charge,) = charging(study_of(text))
    assert (charge.bulk_s, charge.missing) == (None, "capacity and chemistry of every bank")


def test_only_unknown_loads_give_no_time():
    text = BASE.replace(", 10 h/day", "").replace(", 24 h/day", "")
    lasts = {one.state: one for one in autonomy(study_of(text))}
    assert lasts["shore"].lasts_s is None


def test_how_long_charging_takes():
    # 30 A less 44/24 A is 28.2 A; C/5 of 100 Ah takes 20 A. 50 Ah x 1.15 / 20 A, then 4 h.
    (charge,) = charging(study_of(BASE))
    assert charge.current_a == pytest.approx(20.0)
    assert charge.bulk_s / HOUR_S == pytest.approx(50 * 1.15 / 20)
    assert charge.tail_s / HOUR_S == pytest.approx(4.0)
    assert charge.source.status == "memory"


def test_a_small_charger_is_slowed_by_the_loads():
    # 3 A less 44/24 A.
    (charge,) = charging(study_of(BASE.replace("C1 30 A", "C1 3 A")))
    assert charge.current_a == pytest.approx(3 - 44 / 24)
    assert charge.bulk_s / HOUR_S == pytest.approx(50 * 1.15 / (3 - 44 / 24))


def test_each_of_several_banks_takes_back_its_own_share_more():
    """Together they take what they take one by one: 50 Ah x 1.15 and 40 Ah x 1.1, by hand."""
    text = BASE.replace(
        "flooded, 100 Ah\n",
        "flooded, 100 Ah\nbattery B2 agm, 80 Ah\nwire B2+ to B1+ 6 AWG red 1 ft\n"
        "wire B2- to N1 6 AWG black 1 ft\n",
    ).replace("C1 30 A", "C1 12 A")
    (charge,) = charging(study_of(text))
    assert charge.banks == ("B1", "B2")
    put_back = 50 * 1.15 + 40 * 1.1
    assert charge.bulk_s / HOUR_S == pytest.approx(put_back / (12 - 44 / 24))
    assert "101.5 Ah to put back" in charge.how
    # The slower of both tells how long the current falls.
    assert charge.tail_s / HOUR_S == pytest.approx(4.0)


def test_a_charger_that_the_loads_eat_never_fills():
    (charge,) = charging(study_of(BASE.replace("C1 30 A", "C1 1 A")))
    assert charge.bulk_s is None
    assert (charge.tail_s, charge.missing) == (None, "")


ROOF = """solar U1 {limit}, input 100 V
array Y1 2 strings in parallel, open circuit 22.4 V, short circuit 6 A{watts}
wire U1+ to P1 8 AWG red 1 ft
wire U1- to N1 8 AWG black 1 ft
wire Y1+ to U1.in 10 AWG red 9 ft
wire Y1- to U1.in- 10 AWG black 9 ft
"""


@pytest.mark.parametrize(
    ("limit", "watts", "gives_a"),
    [
        # Four fifths of 2 x 60 W at 12 V are 8 A; without watts no more than 2 x 6 A.
        ("20 A", ", 60 W, works at 18 V", 0.8 * 120 / 12),
        ("20 A", "", 12.0),
        ("5 A", ", 60 W, works at 18 V", 5.0),
        # Flooded batteries are held at 13.4 V: what works below that gives them nothing.
        ("20 A", ", 60 W, works at 13.4 V", 8.0),
        ("20 A", ", 60 W, works at 13.3 V", 0.0),
    ],
)
def test_the_sun_gives_the_smaller_of_modules_and_controller(limit, watts, gives_a):
    head = HEAD.replace("    rules rv\n", "    rules rv\n    sun 4 h/day\n")
    _, rig, errors = load("t.rig", head + BASE + ROOF.format(limit=limit, watts=watts))
    assert errors == ()
    charge = charging(Study(rig, rig.book))[1]
    assert charge.by == "U1"
    assert charge.current_a == pytest.approx(gives_a - 44 / 24)
    assert ah(charge.day_c) == pytest.approx(4 * gives_a)


def test_modules_below_their_battery_charge_nothing_and_that_is_told():
    roof = ROOF.format(limit="20 A", watts=", 60 W, works at 13.3 V")
    charge = charging(study_of(BASE, roof))[1]
    assert charge.bulk_s is None
    assert "Y1 is not counted, it has 13.3 V at work and B1 is charged from 13.4 V" in charge.how
    doubtful = roof.replace(", works at 13.3 V", "").replace("22.4 V", "17 V")
    assert charging(study_of(BASE, doubtful))[1].missing == "at what volts its modules work"


def test_without_modules_or_hours_of_sun_nothing_is_said_of_a_day():
    text = ROOF.format(limit="20 A", watts="")
    assert [one.day_c for one in charging(study_of(BASE, text))] == [None, None]
    bare = "".join(line for line in text.splitlines(keepends=True) if "Y1" not in line)
    charge = charging(study_of(BASE, bare))[1]
    assert charge.current_a == pytest.approx(20 - 44 / 24)


def test_behind_a_converter_the_currents_go_by_their_ratio():
    # 44 Ah a day at the output of 30 A is 44 x 8 / 30 at the input of 8 A.
    text = BASE.replace("battery B1 flooded, 100 Ah", "battery B1 lithium, 100 Ah, 51.2 V")
    text = text.replace("charger C1 30 A\n", "dc-dc E1 30 A from 51.2 V to 12 V, draws 8 A\n")
    text = text.replace("S1.load to P1", "S1.load to E1.in").replace("C1+ to P1", "E1.out to P1")
    study = study_of(text.replace("C1- to N1", "E1- to N1"))
    assert ah(use_of_rig(study).known_c) == pytest.approx(44 * 8 / 30)
    lasts = next(one for one in autonomy(study) if one.state == "in use")
    assert lasts.banks == ("B1",)
    assert lasts.lasts_s / DAY_S == pytest.approx(80 / (44 * 8 / 30))


def test_what_is_left_out_behind_a_converter_is_named_by_its_loads():
    """The converter is counted with what is known behind it: it is not left out itself."""
    text = BASE.replace("battery B1 flooded, 100 Ah", "battery B1 lithium, 100 Ah, 51.2 V")
    text = text.replace("charger C1 30 A\n", "dc-dc E1 30 A from 51.2 V to 12 V, draws 8 A\n")
    text = text.replace("S1.load to P1", "S1.load to E1.in").replace("C1+ to P1", "E1.out to P1")
    study = study_of(text.replace("C1- to N1", "E1- to N1"), ASKED)
    whole = use_of_rig(study)
    assert ah(whole.known_c) == pytest.approx(44 * 8 / 30)
    assert len(whole.unknown) == 1
    assert "Radio" in whole.unknown[0]


def test_banks_that_charging_joins_last_each_by_itself():
    """The relay lets go once the shore charger rests."""
    _, rig, _ = load(str(EXAMPLES / "kittiwake-30.rig"))
    found, joined = (
        [one for one in autonomy(Study(rig, rig.book), charged=each) if one.state == "moored"]
        for each in (False, True)
    )
    assert [one.banks for one in found] == [("B1",), ("B2",)]
    assert [ah(one.usable_c) for one in found] == pytest.approx([0.5 * 90, 0.5 * 400])
    assert [one.banks for one in joined] == [("B1", "B2")]
    assert ah(joined[0].usable_c) == pytest.approx(0.5 * (90 + 400))


def test_demand_at_every_level():
    # Continuous 2 A + 1 A; connected with the pump 10 A; at one time 3 A + 7 A.
    found = {(one.level, one.name): one for one in demand_by_level(study_of(BASE, PUMP, ASKED))}
    for key in (("source", "B1"), ("device", "S1"), ("panel", "P1")):
        one = found[key]
        assert one.connected_a == pytest.approx(10.0)
        # The charger drives 30 A through the disconnect, for hours.
        assert one.continuous_a == pytest.approx(30.0 if key[0] == "device" else 3.0)
        assert one.simultaneous_a == pytest.approx(30.0 if key[0] == "device" else 10.0)
        assert one.unknown == ("Radio",)
    assert found["panel", "P1"].rating_a == 50.0
    assert found["circuit", "P1.3"].connected_a == pytest.approx(7.0)
    assert found["circuit", "P1.3"].continuous_a == 0.0


def test_no_source_drives_more_than_its_limit():
    found = {one.name: one for one in demand_by_level(study_of(BASE.replace("C1 30 A", "C1 2 A")))}
    assert found["C1"].simultaneous_a == pytest.approx(2.0)
    assert found["C1"].connected_a == pytest.approx(3.0)


@FEW
@given(st.floats(0.0, 24.0).map(lambda hours: round(hours, 1)))
def test_more_hours_never_last_longer(hours):
    def lasts(text):
        return next(o.lasts_s for o in autonomy(study_of(text)) if o.state == "shore")

    longer = BASE.replace("1 A, 24 h/day", f"1 A, {hours:g} h/day")
    assert lasts(longer) >= lasts(BASE) * (1 - 1e-12)


@pytest.mark.parametrize("chemistry", ["flooded", "agm", "gel", "lithium"])
def test_every_chemistry_of_the_language_has_its_figures(chemistry):
    for look in (habits.usable_share, habits.returned_share, habits.taken_per_hour, habits.tail_s):
        figure = look(chemistry)
        assert figure.value > 0.0
        assert figure.source.status in ("memory", "common practice")


def test_what_an_inverter_takes_at_rest_counts_for_the_rest_of_the_day():
    """By hand: 2 h of 40 A and 22 h of 0.8 A are 80 + 17.6 = 97.6 Ah."""
    inverter = (
        "inverter I1 480 W, draws 40 A, 2 h/day, takes {rest} at rest\n"
        "wire B1+ to I1+ 2 AWG red 1 ft\nwire I1- to B1- 2 AWG black 1 ft\n"
    )
    use = next(u for u in uses(study_of(BASE, inverter.format(rest="0.8 A"))) if u.load == "I1")
    assert use.day_c / AH_C == pytest.approx(97.6)
    asked = next(u for u in uses(study_of(BASE, inverter.format(rest="?"))) if u.load == "I1")
    assert (asked.day_c, asked.missing) == (None, "what it takes at rest")


TWO_BANKS = """battery B1 flooded, 70 Ah
battery B2 lithium, 100 Ah
alternator A1 {gives} A
dc-dc D1 from 12 V to {volts}, 30 A{draws}
wire A1+ to B1+ 2 AWG red 4 ft
wire A1- to B1- 2 AWG black 4 ft
wire B1+ to D1.in 6 AWG red 6 ft, fuse 40 A at B1+
wire D1.out to B2+ 6 AWG red 6 ft, fuse 40 A at B2+
wire D1- to B2- 6 AWG black 6 ft
wire B1- to B2- 6 AWG black 6 ft
"""


def alternator(gives="45", volts="12 V", draws=", draws 34 A"):
    text = TWO_BANKS.format(gives=gives, volts=volts, draws=draws)
    return next(one for one in charging(study_of(text)) if one.by == "A1")


def test_what_a_converter_takes_for_another_bank_is_not_there_for_its_own():
    # 45 A less 34 A are 11 A; half of 70 Ah x 1.15 are 40.25 Ah to be put back, then 4 h.
    charge = alternator()
    assert charge.current_a == pytest.approx(11.0)
    assert charge.bulk_s == pytest.approx(40.25 / 11.0 * HOUR_S)
    assert ", 34 A into D1, " in charge.how


def test_an_alternator_that_gives_all_of_it_away_fills_nothing():
    charge = alternator("30")
    assert charge.current_a == pytest.approx(-4.0)
    assert charge.bulk_s is None
    assert (charge.tail_s, charge.missing) == (None, "")


def test_what_nobody_knows_of_a_converter_is_asked_for():
    charge = alternator(draws="")
    assert charge.current_a is None
    assert charge.missing == "what D1 takes of it for another bank"
    # 30 A at 24 V are 60 A at 12 V by 100 %, and 90 A is less than that and the 14 A of the bank.
    charge = alternator("90", "24 V", ", efficiency 90 %")
    assert charge.current_a == pytest.approx(14.0)
    assert alternator("75", "24 V", ", efficiency 90 %").current_a < 9.0


@FEW
@given(takes=st.integers(1, 80), more=st.integers(1, 40))
def test_a_converter_that_takes_more_never_makes_it_quicker(takes, more):
    less, most = (alternator("90", draws=f", draws {a} A") for a in (takes, takes + more))
    assert most.current_a <= less.current_a
    assert (most.bulk_s or math.inf) >= (less.bulk_s or math.inf)


SELECTED = """rig "Bench"
    system 12 V
    rules boat
battery B1 flooded, 90 Ah
battery B2 agm, 200 Ah
selector S2 100 A
charger C1 30 A, two outputs
busbar N1 100 A
load M1 "Lamp" 1 A, 12 h/day
wire B1+ to S2.1 6 AWG red 2 ft, fuse 80 A at B1+
wire B2+ to S2.2 6 AWG red 2 ft, fuse 80 A at B2+
wire S2 to M1+ 10 AWG red 2 ft
wire M1- to N1 10 AWG black 2 ft
wire B1- to N1 6 AWG black 2 ft
wire B2- to N1 6 AWG black 2 ft
wire C1.1 to B1+ 10 AWG red 2 ft, fuse 40 A at B1+
wire C1.2 to B2+ 10 AWG red 2 ft, fuse 40 A at B2+
wire C1- to N1 10 AWG black 2 ft
"""


def test_a_charger_fills_what_it_reaches_in_the_states_of_the_text():
    study = study_from(SELECTED + 'state "on shore" S2 2, C1 on\nstate away S2 1, C1 off\n')
    found = charging(study)
    assert [(one.by, one.banks) for one in found] == [("C1.1", ("B1",)), ("C1.2", ("B2",))]
    # The lamp, half an ampere on average, hangs on B2 alone. B1 takes a fifth of its 90 Ah an hour,
    # B2 three tenths of 200 Ah, which is more than is left.
    assert [one.current_a for one in found] == pytest.approx([18.0, 29.5], rel=0.01)
    assert all("30 A for all outputs together" in one.how for one in found)


def test_without_such_a_state_it_fills_all_that_it_reaches():
    found = charging(study_from(SELECTED + "state away S2 off, C1 off\n"))
    assert [one.banks for one in found] == [("B1", "B2"), ("B1", "B2")]


def test_all_that_is_not_within_another_adds_up_to_the_whole():
    """What hangs on a converter counts once, where that takes it in."""
    held = 0
    for file in (*RIGS, *EXAMPLES.glob("*.rig")):
        study = studied(file)
        found = uses(study)
        held += sum(bool(one.within) for one in found)
        try:
            whole_c = use_of_rig(study).known_c
        except ValueError:
            continue
        assert sum(one.day_c or 0.0 for one in found if not one.within) == pytest.approx(whole_c)
    assert held > 0


HEATED = """rig "Heated" system 12 V, rules boat
battery B1 agm, 100 Ah
panel P1 4 slots of 30 A
busbar N1 100 A
wire B1+ to P1 16 mm2 red 1 m, fuse 60 A at B1+
wire B1- to N1 16 mm2 black 1 m
circuit P1.1 "Lamp" fuse 5 A
    wire 2.5 mm2 red 2 m
    load "Lamp" 2 A, 5 h/day
circuit P1.2 "Heater" fuse 15 A
    wire 2.5 mm2 red 2 m
    switch SW1 "Heater switch" 20 A{}
    wire 2.5 mm2 red 2 m
    load "Heater" 10 A, heater, 2 h/day
"""


@pytest.mark.parametrize("rests", ["", ", rests open"])
def test_hours_that_are_written_count_behind_a_switch_that_rests_open(rests):
    # 2 A x 5 h + 10 A x 2 h; somebody closes the switch for those two hours.
    study = study_from(HEATED.format(rests))
    used_c = max(one.use.known_c for one in autonomy(study))
    assert used_c / AH_C == pytest.approx(30.0)
