"""Demand and energy in words, with the sums done by hand."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.studies import checked, heard, study_from
from rigfolio.answers.demand import demand_report
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.books import returned_share
from rigfolio.demand import flows_of
from rigfolio.judgement.result import understood
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load, sum_digits

TEXT = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
charger C1 10 A
panel P1 3 slots of 20 A, 40 A in all
busbar N1 100 A
wire B1+ to P1 6 AWG red 4 ft, fuse 50 A at B1+
wire C1+ to P1 10 AWG red 4 ft, fuse 15 A at P1
wire C1- to N1 10 AWG black 4 ft
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 6 ft
    load "Lamp" 24 W, 5 h/day
circuit P1.2 "Fridge" fuse 10 A
    wire 14 AWG blue 6 ft
    load "Fridge" 4 A, cyclic, 10 h/day
circuit P1.3 "Pump" fuse 10 A
    wire 14 AWG grey 6 ft
    load "Pump" 6 A, intermittent
"""


@cache
def study(text: str = TEXT) -> Study:
    result = understood("bench.rig", text=text)
    assert result.study is not None
    return result.study


def told(text: str = TEXT) -> str:
    return " ".join(as_text(demand_report(study(text))).split())


def plain(one: Study) -> dict[str, list[dict[str, Any]]]:
    """What a program reads."""
    read: dict[str, list[dict[str, Any]]] = json.loads(as_json(demand_report(one)))
    return read


def test_the_charge_of_a_day_by_hand() -> None:
    # 24 W at 12 V are 2 A, 5 h: 10 Ah, and a little more at the lamp's own volts.
    # 4 A for 10 h: 40 Ah.
    day = {one["label"]: one["ah"] for one in plain(study())["day"]}
    assert 10.0 < day["Lamp"] < 10.2
    assert day["Fridge"] == pytest.approx(40.0)
    assert day["Pump"] is None
    assert re.search(r"All in all 50\.\d\d? Ah a day, without Pump", told())
    assert "Pump: how long it runs a day is not said" in told()


def test_the_bank_lasts_a_day_by_hand() -> None:
    # Half of 100 Ah (common practice for flooded cells) at 50 Ah a day.
    (lasts,) = {one["hours"] for one in plain(study())["lasts"]}
    assert 23.9 < lasts < 24.0
    assert re.search(r"23\.9 h, 50 Ah to be used, 50\.\d\d? Ah a day", told())


def test_demand_at_the_panel_by_hand() -> None:
    # Connected 2 + 4 + 6 A, for hours 2 + 4 A.
    panel = next(one for one in plain(study())["levels"] if one["name"] == "P1")
    assert 12.0 < panel["connected_a"] < 12.1
    assert 6.0 < panel["continuous_a"] < 6.1
    assert 6.0 < panel["simultaneous_a"] < 12.1
    assert panel["rating_a"] == 40.0


def test_charging_takes_what_is_left_beside_the_loads() -> None:
    # 50 Ah used in a day are 2.08 A on average; of 10 A some 7.9 A are left.
    (one,) = plain(study())["charging"]
    assert one["current_a"] == pytest.approx(10.0 - 50.0 / 24.0, rel=1e-3)


def test_it_is_said_at_which_output_the_input_of_a_converter_counts() -> None:
    """By hand: 20 A at 12 V over 90 % are 267 W, 22.2 A at 12 V; its wires lose little."""
    text = (
        'rig "Case"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah, internal 1 mohm\n'
        "dc-dc E1 20 A from 12 V to 12 V, efficiency 90 %\nload M1 2 A\n"
        "wire B1+ to E1.in 4 AWG red 1 ft, fuse 30 A at B1+\nwire E1.out to M1+ 10 AWG red 1 ft\n"
        "wire M1- to B1- 10 AWG white 1 ft\nwire E1- to B1- 4 AWG white 1 ft\n"
    )
    study = study_from(text)
    readings = heard(study.rig, "B1+ to E1.in = 0.5 V")
    assert flows_of(study).demand("B1+/E1.in").current_a == pytest.approx(22.2, abs=0.2)
    said = str(demand_report(study))
    assert "Inputs of converters, E1.in: what is drawn at full output and nominal volts" in said
    read = str(diagnosis_report(study, readings))
    assert "inputs of converters, `E1.in`: by what is given then, not at full output" in read


def test_what_is_not_known_is_never_counted_as_nothing() -> None:
    words = told(TEXT.replace("24 W, 5 h/day", "? W, 5 h/day"))
    assert "Lamp: what it draws is not said" in words
    assert "not counted: Lamp" in words
    assert "P1.1 Lamp ? A ? A ? A 5 A" in words
    given = plain(study(TEXT.replace("24 W, 5 h/day", "? W, 5 h/day")))["levels"]
    (lamp,) = (one for one in given if one["name"] == "P1.1")
    assert lamp["connected_a"] is None


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_examples(file: Path) -> None:
    one = checked(file).study
    assert one is not None
    for level in plain(one)["levels"]:
        # What charges through a part is no load, and counts for hours and at one time.
        most_a = max(level["connected_a"], level["simultaneous_a"])
        assert level["continuous_a"] <= most_a + 1e-9
    assert "A day takes" in as_text(demand_report(one))


SUNNY = (
    TEXT.replace("rules vehicle", "rules vehicle\n    sun 4 h/day")
    + """
array Y1 "Roof" open circuit 22 V, short circuit 7.2 A, 120 W, works at 18 V
solar U1 "Controller" 20 A, input 50 V
wire Y1+ to U1.in 10 AWG red 6 ft
wire Y1- to U1.in- 10 AWG black 6 ft
wire U1+ to P1 10 AWG red 3 ft, fuse 25 A at P1
wire U1- to N1 10 AWG black 3 ft
"""
)


def test_the_balance_of_a_day_by_hand() -> None:
    # 80 % of 120 W at 12 V are 8 A, 4 h of them 32 Ah; of that 1/1.15 stays in flooded cells (from
    # memory, as the book has it): 27.8 Ah. Some 50.1 Ah are used: 22.3 Ah short, which half of
    # 100 Ah bears for 2.2 days.
    (one,) = plain(study(SUNNY))["balances"]
    assert one["given"] == {"U1": pytest.approx(32.0)}
    assert one["kept_ah"] == pytest.approx(32.0 / returned_share("flooded").value)
    assert one["left_ah"] == pytest.approx(one["kept_ah"] - one["day_ah"])
    assert one["hours"] == pytest.approx(50.0 / -one["left_ah"] * 24.0)
    assert one["at_times"] == ["C1"]
    assert "what C1 puts in hangs on how long it runs" in told(SUNNY)
    assert "a day are short without that: 50 Ah last 2." in told(SUNNY)
    # With little used the day leaves something over, and no bank runs empty.
    little = SUNNY.replace("4 A, cyclic, 10 h/day", "4 A, cyclic, 2 h/day")
    (one,) = plain(study(little))["balances"]
    assert one["left_ah"] > 0.0
    assert one["hours"] is None
    assert "a day are left over" in told(little)


def test_watts_are_told_with_the_volts_that_make_amperes_of_them() -> None:
    (words,) = plain(study())["watts"]
    watts, volts, amps = (float(one) for one in re.findall(r"([\d.]+) [WVA]", words))
    assert watts == 24.0
    assert amps == pytest.approx(watts / volts, abs=0.01)
    inverter = TEXT.replace("P1.3", "P1.3") + (
        'inverter I1 "Inverter" 300 W, efficiency 80 %\n'
        "wire P1 to I1+ 6 AWG red 3 ft, fuse 40 A at P1\nwire I1- to N1 6 AWG black 3 ft\n"
    )
    words = next(one for one in plain(study(inverter))["watts"] if "I1" in one)
    watts, volts, amps = (float(one) for one in re.findall(r"([\d.]+) [WVA]", words))
    # 300 W over 80 % are 375 W.
    assert "300 W, 80 % of what it draws" in words
    assert amps == pytest.approx(375.0 / volts, abs=0.02)


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_one_quantity_is_printed_the_same_all_over_a_report(file: Path) -> None:
    """Exact figures are added up, and each is printed by one function, to two places at least."""
    one = checked(file).study
    assert one is not None
    report = demand_report(one)
    read = json.loads(as_json(report))
    text = " ".join(as_text(report).split())
    day = [each["ah"] for each in read["day"] if each["ah"]]
    for charge in day:
        assert f" {written(charge * 3600.0, 'Ah')} " in f" {text} "
    for level in read["levels"]:
        for key in ("connected_a", "continuous_a", "simultaneous_a"):
            if level[key]:
                assert written(level[key], "A") in text
    for each in (*read["lasts"], *read["balances"]):
        assert each["day_ah"] == 0.0 or f"{written(each['day_ah'] * 3600.0, 'Ah')} a day" in text
    for each in read["balances"]:
        if each["hours"]:
            usable = each["hours"] / 24.0 * -each["left_ah"]
            assert any(usable == pytest.approx(last["usable_ah"]) for last in read["lasts"])


def written(value: float, unit: str) -> str:
    return show_load(value, unit, sum_digits(value, unit))


@pytest.mark.parametrize(
    ("said", "rating_a", "share", "words"),
    [
        # By hand: 24 W and 4 A run for hours, 6 A of the pump now and then come to 12 A and more.
        ("", None, None, None),
        ("gives 3 A for hours", 3.0, "continuous_a", " for hours"),
        ("cuts off above 6 A", 6.0, "simultaneous_a", ""),
        # The one counts of which the larger part is taken.
        ("gives 30 A for hours, cuts off above 6 A", 6.0, "simultaneous_a", ""),
        ("gives 3 A for hours, cuts off above 60 A", 3.0, "continuous_a", " for hours"),
    ],
)
def test_a_battery_is_held_against_what_its_maker_allows(said, rating_a, share, words) -> None:
    text = TEXT.replace(
        "internal 10 mohm", f"internal 10 mohm, {said}" if said else "internal 10 mohm"
    )
    rows = plain(study(text))["levels"]
    (row,) = (one for one in rows if one["name"] == "B1")
    assert row["rating_a"] == rating_a
    assert row["of_rating"] == (None if share is None else pytest.approx(row[share] / rating_a))
    if words is not None:
        assert f"{show_limit(rating_a, 'A')} {row['of_rating']:.0%}".replace("%", " %") in told(
            text
        )
        assert (" % for hours" in told(text)) is bool(words)
