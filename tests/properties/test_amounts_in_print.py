"""What is printed of a load and of its limit tells them apart, and the load on the right side."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import found_by, study_from
from rigfolio.answers.demand import demand_report
from rigfolio.reports.terminal import as_text

FEW = settings(max_examples=40, deadline=None, derandomize=True, database=None)
RIG = """rig "Just over"
    system 12 V
    rules rv
battery B1 "House" 100 Ah agm, delivers 900 A
panel P1 "Galley" 2 slots
busbar N1 "Negative" 100 A
wire B1+ to P1 2 AWG red 1 ft, fuse 60 A at B1+
wire N1 to B1- 2 AWG black 1 ft
circuit P1.1 "Pump" fuse {fuse} A
    wire 2 AWG red 2 ft
    load "Pump" {load} A
"""


def headline(load: str, fuse: str) -> str:
    study = study_from(RIG.format(load=load, fuse=fuse))
    return next(found_by({"fuse-overloaded"}, study)).headline


def row(load: str, fuse: str) -> str:
    study = study_from(RIG.format(load=load, fuse=fuse))
    lines = as_text(demand_report(study)).splitlines()
    return next(line for line in lines if line.startswith("  P1.1 "))


def test_a_hair_over_is_told_so_by_every_command() -> None:
    assert headline("15.04", "15") == "loads of 15.04 A behind a 15 A fuse"
    assert re.search(r"15\.04 A +15 A +101 %", row("15.04", "15"))


def test_a_hair_under_does_not_look_full() -> None:
    assert row("14.98", "15").endswith("99.9 %")


@pytest.mark.parametrize("load", ["15", "15.0"])
def test_what_is_full_is_full(load: str) -> None:
    assert row(load, "15").endswith("100 %")


@FEW
@given(st.integers(1501, 3000), st.sampled_from(["10", "15"]))
def test_load_and_limit_of_a_finding_differ_as_they_do(hundredths: int, fuse: str) -> None:
    said = headline(f"{hundredths / 100:.2f}", fuse)
    load, limit = (float(one) for one in re.findall(r"([0-9.]+) A", said)[:2])
    assert load > limit
    assert load >= hundredths / 100
    assert limit == float(fuse)
