"""What loads start at, and what that is held against, as demand and calculation print it."""

import pytest

from helpers.studies import study_from
from rigfolio.answers import demand_report
from rigfolio.figures import calculation_report
from rigfolio.judgement.result import understood
from rigfolio.shorts import hardest_start, may_open

RIG = """rig "Start"
    rules vehicle
battery B1 agm, 100 Ah, internal 10 mohm
fuse F1 100 A class-t on B1+
panel P1 8 slots of 30 A
busbar N1 200 A
wire F1.load to P1 4 AWG red 1 ft
wire N1 to B1- 4 AWG black 1 ft
circuit P1.1 "Pump" fuse {fuse}
    wire 10 AWG red 6 ft
    load "Pump" {draws}, starts at {times}
    load "Lamp" 2 A
"""


def starts(fuse="10 A", draws="5 A", times="3 times", more=""):
    study = understood(
        "made.rig", text=RIG.format(fuse=fuse, draws=draws, times=times) + more
    ).study
    (table,) = demand_report(study).tables("starts")
    (other,) = calculation_report(study).tables("starts")
    assert other.rows == table.rows
    return [{c.key: cell for c, cell in zip(table.columns, row, strict=True)} for row in table.rows]


@pytest.mark.parametrize(
    ("fuse", "times", "start_a", "lasts", "against"),
    [
        # 3 x 5 A and the 2 A of the lamp; blade fuses open at 1.6 times in 0.25 s to 50 s, at twice
        # their rating in 0.15 s to 5 s (ISO 8820-3, from memory).
        ("10 A", "3 times", 17.0, "0.1 s or longer", "its times: no sooner than"),
        ("7.5 A", "3 times for 2 s", 17.0, "2 s", "its times: may open after"),
        ("20 A", "3 times", 17.0, "0.1 s or longer", "its rating, not passed"),
        ("?", "3 times", 17.0, "0.1 s or longer", "the rating is not known"),
        ("20 A", "3 times for 3 min", 17.0, "3 min",
         "its rating, not passed; counts for drop and heat of its wires"),
    ],
)  # fmt: skip
def test_a_line_of_each_load_that_starts(fuse, times, start_a, lasts, against):
    (row,) = starts(fuse, times=times)
    assert row["start_a"].value == pytest.approx(start_a)
    assert row["running_a"].value == 5.0
    assert (row["lasts"], row["through"]) == (
        lasts, f"fuse {fuse}",
    )  # fmt: skip
    assert row["held_against"].startswith(against)


def test_a_load_of_which_nobody_knows_what_it_draws():
    (row,) = starts(draws="?")
    assert row["start_a"].value is None
    assert row["held_against"] == "what it draws is not known"


WINCH = """load M1 "Winch" 60 A, motor, momentary, starts at 2 times
load M2 "Light" 3 A
wire F1.load to M1+ 4 AWG red 3 ft
wire M1- to N1 4 AWG black 3 ft
wire M1+ to M2+ 10 AWG red 1 ft
wire M2- to N1 10 AWG black 1 ft
"""


def test_a_load_without_a_device_of_its_own():
    rows = {row["label"]: row for row in starts(more=WINCH)}
    winch = rows["M1 Winch"]
    assert (winch["start_a"].value, winch["held_against"]) == (120.0, "no device of its own")


def test_nothing_is_said_of_rigs_whose_loads_start_as_they_run():
    text = RIG.replace(", starts at {times}", "").format(fuse="10 A", draws="5 A")
    study = understood("made.rig", text=text).study
    assert demand_report(study).tables("starts") == ()
    (table,) = calculation_report(study).tables("starts")
    assert table.rows == ()


LIMITED = """
rig "Behind a converter"
    system 24 V
    rules vehicle
battery B1 24 V, lithium, 200 Ah, internal 8 mohm
dc-dc D1 10 A, from 24 V to 12 V, efficiency 90 %
busbar N1 100 A
wire B1+ to D1.in 4 mm2 red 1 m, fuse 15 A at B1+
wire D1- to N1 4 mm2 black 1 m
wire N1 to B1- 4 mm2 black 1 m
panel P2 4 slots of 15 A, negative N1
wire D1.out to P2 6 mm2 red 1 m
circuit P2.1 "Cool box" fuse 10 A
    wire 6 mm2 blue 1 m
    load "Cool box" 5 A, cyclic, motor, starts at {times} times
"""


@pytest.mark.parametrize(("times", "current_a"), [(1.5, 7.5), (2.0, 10.0), (5.0, 10.0)])
def test_no_start_draws_more_than_its_only_source_gives(times: float, current_a: float) -> None:
    study = study_from(LIMITED.format(times=times))
    device = next(one for one in study.rig.devices if one.about.name == "P2.1")
    start = hardest_start(study, device)
    assert start is not None
    assert start.current_a == pytest.approx(current_a)
    # Ten amperes open no fuse of ten.
    assert not may_open(device, start)
