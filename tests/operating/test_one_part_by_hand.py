"""One load, one wire, one stage at a time, each at the edge of what it may do: by hand.

P = U (E - R I) has no root where P is above E² / 4 R (computed).
"""

import pytest

from helpers.studies import study_from
from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Load
from rigfolio.operating import drawn_at, operating
from rigfolio.operating.circuit_net import Drawn, drawn_behind
from rigfolio.operating.copper import Hot, copper_of
from rigfolio.operating.draws import (
    alone_draw,
    circuit_draws,
    draws_without_loss,
    most_alone_w,
)
from rigfolio.operating.readings.short_test import heavy_loads
from rigfolio.operating.scenario import at_once, drawn_in
from rigfolio.study import Study

HEAD = 'rig "Bench"\n    system 12 V\n    rules rv\n    ambient 20 degC\n'
BENCH = """battery B1 agm, 100 Ah, internal 100 mohm
busbar D1 200 A
busbar N1 200 A
panel P1 6 slots of 20 A, negative N1
wire B1+ to D1 4/0 AWG red 1 in
wire D1 to P1 4/0 AWG red 1 in
wire N1 to B1- 4/0 AWG black 1 in
load M1 "Heater" {}
wire D1 to M1+ {} red {}, tag T1
wire M1- to N1 4/0 AWG black 1 in
"""


def bench(load: str, size: str = "4/0 AWG", length: str = "1 in", more: str = "") -> Study:
    return study_from(HEAD + BENCH.format(load, size, length) + more)


def heater(draws: str) -> Load:
    (load,) = bench(draws).rig.loads
    return load


@pytest.mark.parametrize(
    ("draws", "lost_v", "own_ohm", "drawn"),
    [
        ("5 A", 1.0, 0.2, Drawn(5.0, 10.0)),
        ("2 ohm", 2.0, 0.5, Drawn(4.0, 8.0)),
        # Pushed the wrong way round a lamp is dark.
        ("2 ohm", 13.0, 0.5, Drawn(0.0, 0.0)),
        ("20 W", 0.0, 1.0, Drawn(2.0, 10.0)),
        # The very most: half of the volts are lost on the way.
        ("36 W", 0.0, 1.0, Drawn(6.0, 6.0)),
        ("36.1 W", 0.0, 1.0, Drawn(36.1 / 12.0, 0.0, collapses=True)),
        ("9 W", 6.0, 1.0, Drawn(3.0, 3.0)),
        # 0.5 V are little, and hold up what takes little: 0.25 - 4 * 0.1875 * 0.25 = 0.25².
        ("0.1875 W", 11.5, 0.25, Drawn(0.5, 0.375)),
        ("24 W", 12.0, 0.0, Drawn(2.0, 0.0, collapses=True)),
        ("24 W", 14.0, 0.0, Drawn(2.0, 0.0, collapses=True)),
        ("? A", 1.0, 1.0, Drawn(UNKNOWN, 11.0)),
    ],
)
def test_a_load_behind_a_resistance(
    draws: str, lost_v: float, own_ohm: float, drawn: Drawn
) -> None:
    assert drawn_behind(heater(draws), 12.0, lost_v, own_ohm) == drawn


@pytest.mark.parametrize(
    ("count", "limit_a", "current_a", "ohm"),
    [
        (1, 10.0, 0.0, 1.0),
        # Heat goes by the square of the current, and what is as hot as may be gets no hotter here.
        (1, 10.0, 5.0, 1.05),
        (1, 10.0, 10.0, 1.2),
        (1, 10.0, 15.0, 1.2),
        # Each of two carries half.
        (2, 10.0, 10.0, 1.05),
        (2, 10.0, 20.0, 1.2),
        # Of which nobody knows what it may carry counts as hot as its insulation may be.
        (1, 0.0, 1.0, 1.2),
    ],
)
def test_a_wire_is_warmed_by_its_own_share(
    count: int, limit_a: float, current_a: float, ohm: float
) -> None:
    assert Hot(1.0, 1.2, count, limit_a).ohm(current_a) == pytest.approx(ohm, abs=1e-3)
    # What a frame adds stays cold.
    assert Hot(1.0, 1.2, count, limit_a, 0.5).ohm(current_a) == pytest.approx(ohm + 0.5, abs=1e-3)


def test_two_conductors_side_by_side_have_half_of_the_resistance() -> None:
    ohms = []
    for said in ("10 ft", "10 ft, 2 conductors in parallel", "5 ft"):
        study = bench("1 A", "10 AWG", said)
        wire = study.rig.conductor("T1")
        ohms.append(copper_of(study).counted_ohm(wire, 0.0, wire.size))
    one, two, half = ohms
    # 10 ft of 10 AWG have 10.2 mohm at 20 °C, stranded (ASTM B258 and B8, from memory); cable for
    # vehicles has 12 to 19 % more.
    assert one is not None
    assert 0.0102 < one < 0.0102 * 1.19
    assert two == pytest.approx(half)
    assert two == pytest.approx(one / 2.0)


def test_of_a_wire_that_nobody_has_measured_no_resistance_is_known() -> None:
    for size, length in (("10 AWG", "?"), ("?", "10 ft")):
        study = bench("1 A", size, length)
        wire = study.rig.conductor("T1")
        assert copper_of(study).counted_ohm(wire, 0.0, wire.size) is None


@pytest.mark.parametrize(("most_w", "found_w"), [(1000.0, 360.0), (400.0, 360.0), (200.0, 200.0)])
def test_what_a_battery_can_give_at_the_very_most(most_w: float, found_w: float) -> None:
    # 12² / (4 * 0.1) = 360 W; leads of an inch take nothing of it that is printed.
    study = bench("20 W")
    (load,) = study.rig.loads
    assert most_alone_w(study, load, most_w) == pytest.approx(found_w, rel=1e-3)
    assert alone_draw(study, load).known_a == pytest.approx(20.0 / 11.831, rel=1e-3)


def test_what_little_a_long_thin_wire_lets_through() -> None:
    study = bench("0.1 W", "18 AWG", "9999 ft")
    (load,), wire = study.rig.loads, study.rig.conductor("T1")
    ohm = copper_of(study).counted_ohm(wire, 0.0, wire.size)
    # 18 AWG has 6.5 ohm/kft (ASTM B258), stranded some more: half of 12 V over some 70 ohm.
    assert ohm is not None
    assert 65.0 < ohm < 78.0
    assert most_alone_w(study, load, 100.0) == pytest.approx(36.0 / (ohm + 0.1), rel=0.01)


def test_what_no_source_serves_can_take_nothing() -> None:
    study = bench("20 W", more='load M2 "Loose" 20 W\nwire M2- to N1 10 AWG black 1 ft\n')
    assert most_alone_w(study, study.rig.by_name.loads["M2"], 100.0) is None


@pytest.mark.parametrize(
    ("draws", "drawn"),
    [("24 W", Drawn(2.0, 12.0)), ("3 ohm", Drawn(4.0, 12.0)), ("5 A", Drawn(5.0, 12.0)),
     ("? A", Drawn(UNKNOWN, 12.0))],
)  # fmt: skip
def test_what_no_source_serves_is_taken_at_the_volts_of_its_system(
    draws: str, drawn: Drawn
) -> None:
    more = f'load M2 "Loose" {draws}\nwire M2- to N1 10 AWG black 1 ft\n'
    study = bench(draws, "10 AWG", "30 ft", more)
    assert circuit_draws(study)["M2"] == drawn
    # Without what copper loses the same load at home draws the same.
    assert draws_without_loss(study) == {"M1": drawn, "M2": drawn}


@pytest.mark.parametrize("limit", ["30 A", "? A"])
@pytest.mark.parametrize(("volts", "gives"), [(11, False), (13, True)])
def test_a_charger_takes_nothing_back_whatever_it_gives_at_most(
    limit: str, volts: int, gives: bool
) -> None:
    charger = f"charger C1 {limit}, {volts} V\nwire C1+ to D1 10 AWG red 9 ft\n" \
              "wire C1- to N1 10 AWG black 9 ft\n"  # fmt: skip
    found = operating(bench("5 A", more=charger), sources={"B1", "C1"})
    # At 5 A the battery holds 11.5 V: above 11 V the charger is shut out, and all comes from B1.
    assert (found.given_a("C1") > 1.0) is gives
    assert gives or found.given_a("C1") == pytest.approx(0.0, abs=1e-9)
    assert gives or found.given_a("B1") == pytest.approx(5.0)
    assert [source.about.name for source in found.blocked] == ([] if gives else ["C1"])


PUMPS = """circuit P1.1 "Pumps" fuse 15 A
    wire 10 AWG red 1 in
    load "Pump" 36 W
    load "Fan" 60 W
"""


def test_a_load_alone_has_the_volts_that_its_neighbour_does_not_take() -> None:
    # Alone 36 W draw 3.077 A at 11.69 V; beside 60 W all together draw 96 W: 8.61 A at 11.14 V.
    study = bench("1 A", more=PUMPS)
    pump = study.rig.by_name.loads["Pump"]
    alone, beside = alone_draw(study, pump), drawn_in(study, pump, at_once(study))
    volts = (12.0 + (144.0 - 4.0 * 36.0 * 0.1) ** 0.5) / 2.0
    assert alone.volts == pytest.approx(volts, abs=0.005)
    assert alone.known_a == pytest.approx(36.0 / volts, rel=1e-3)
    # The heater takes 1 A more, 0.1 V.
    both = (11.9 + (11.9**2 - 4.0 * 96.0 * 0.1) ** 0.5) / 2.0
    assert beside.volts == pytest.approx(both, abs=0.01)
    assert not beside.collapses


def test_what_collapses_or_is_not_known_is_told_so_with_all_on() -> None:
    study = bench("400 W", more=PUMPS.replace("36 W", "? A"))
    loads = study.rig.by_name.loads
    heater_, pump, fan = (drawn_in(study, loads[x], at_once(study)) for x in ("M1", "Pump", "Fan"))
    assert (heater_.collapses, heater_.volts) == (True, 0.0)
    assert heater_.known_a == pytest.approx(400.0 / 12.0)
    assert (pump.current_a, pump.known_a, pump.collapses) == (UNKNOWN, 0.0, False)
    # Without what collapses the fan has what it would have alone.
    volts = (12.0 + (144.0 - 4.0 * 60.0 * 0.1) ** 0.5) / 2.0
    assert fan.volts == pytest.approx(volts, abs=0.01)


@pytest.mark.parametrize(
    ("draws", "heavy"),
    [
        # Some eight amperes show a bad joint by its drop (common practice); the book has 7.5 A.
        (("7.5 A", "9 A", "2 A"), ["Fan", "M1"]),
        (("7.4 A", "9 A", "2 A"), ["Fan"]),
        # Where none is heavy the largest has to do.
        (("3 A", "2 A", "7.4 A"), ["Pump"]),
        (("? A", "9 A", "8 A"), ["Fan", "Pump"]),
    ],
)
def test_heavy_loads_are_tried_the_largest_first(
    draws: tuple[str, str, str], heavy: list[str]
) -> None:
    one, fan, pump = draws
    study = bench(one, more=PUMPS.replace("36 W", pump).replace("60 W", fan))
    assert [load.about.name for load in heavy_loads(study)] == heavy


@pytest.mark.parametrize(
    ("load", "length", "of_it", "of_the_pump"),
    [
        ("5 A", "1 in", (), ()),
        # The wire feeds the heater alone, and what that draws comes by the leads of the battery.
        ("5 A", "?", ("T1",), ()),
        ("? A", "1 in", ("M1",), ("M1",)),
        ("? A", "?", ("M1", "T1"), ("M1",)),
    ],
)
def test_what_nobody_knows_casts_doubt_on_what_it_touches(
    load: str, length: str, of_it: tuple[str, ...], of_the_pump: tuple[str, ...]
) -> None:
    study = bench(load, length=length, more=PUMPS)
    found, loads = operating(study), study.rig.by_name.loads
    assert tuple(sorted(found.doubts(loads["M1"]))) == of_it
    assert found.doubts(loads["Pump"]) == of_the_pump


@pytest.mark.parametrize(
    ("size", "length", "volts"),
    # 5 A lose 0.5 V in the battery, and 51 to 57 mV more in 10 ft of 10 AWG, where they are known.
    [("10 AWG", "10 ft", 11.446), ("10 AWG", "?", 11.5), ("?", "10 ft", 11.5)],
)
def test_a_wire_that_nobody_has_measured_counts_as_without_resistance(
    size: str, length: str, volts: float
) -> None:
    found = operating(bench("5 A", size, length))
    high, low = found.volts("M1+"), found.volts("M1-")
    assert high is not None
    assert low is not None
    assert high - low == pytest.approx(volts, abs=0.004)


def test_a_wire_thinner_than_the_book_goes_counts_as_hot_as_its_insulation_may_be() -> None:
    # The trailer's table begins at 18 AWG (NFPA 70 Table 552.10(E)(1), from memory).
    for size, is_known in (("24 AWG", False), ("18 AWG", True)):
        study = bench("1 A", size, "10 ft")
        wire = study.rig.conductor("T1")
        assert not isinstance(wire.size, Unknown)
        hot = copper_of(study).hot(wire, wire.size)
        assert hot is not None
        assert (hot.limit_a > 0.0) is is_known
        assert (hot.ohm(0.0) < hot.ohm(1.0)) is is_known
        assert hot.ohm(0.0) == (hot.cold_ohm if is_known else hot.cold_ohm + hot.rise_ohm)
        assert hot.rise_ohm > 0.0


@pytest.mark.parametrize(
    ("draws", "at_12_a", "at_6_a"),
    [("5 A", 5.0, 5.0), ("24 W", 2.0, 4.0), ("3 ohm", 4.0, 2.0), ("? A", 0.0, 0.0)],
)
def test_what_a_load_draws_at_a_voltage_and_nothing_where_nobody_knows(
    draws: str, at_12_a: float, at_6_a: float
) -> None:
    assert (drawn_at(heater(draws), 12.0), drawn_at(heater(draws), 6.0)) == (at_12_a, at_6_a)
