"""A length is printed in the unit that it is written in, whatever the sizes of the rig are."""

from importlib import import_module

import pytest
from hypothesis import given, strategies as st

from helpers.studies import study_from
from rigfolio.compare import compare
from rigfolio.draw.page import texts
from rigfolio.judgement.result import check, job_of
from rigfolio.sheet import sheets_bound
from rigfolio.wording import length_words, wire_length

RIG = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 "House" 105 Ah, internal 10 mohm
fuse    F1 30 A, on B1+, interrupts 10 kA
panel   P1 "Galley" 6 slots of 20 A, pitch 14 mm
busbar  N1
wire F1 to P1  {feed}
wire B1- to N1 6 AWG black 4 ft
circuit P1.4 "Fan" fuse 7.5 A
    wire  {fan}
    load  "Fan" 2 A
"""


def words(name, job):
    """All that a sheet says."""
    pages = import_module(f"rigfolio.sheets.{name}").pages(job)
    return " ".join(mark.text for page in pages for mark in texts(page))


@pytest.mark.parametrize("name", ["schematic", "calculation", "wire_list", "survey", "pick_list"])
def test_metres_between_gauges_stay_metres(name):
    text = RIG.format(feed="6 AWG red 4 ft", fan="16 AWG red/black 4.3 m")
    said = words(name, job_of(check("plover.rig", text=text)))
    # A wire is cut and bought longer than it is stated, never told in the other unit.
    assert any(length in said for length in ("4.3 m", "4.9 m", "4.8 m", "5.2 m"))
    assert "14 ft" not in said


@pytest.mark.parametrize("size", ["16 AWG", "1.5 mm2"])
@pytest.mark.parametrize("length", ["14 ft", "2 ft 6 in", "9 in", "4.3 m", "430 cm", "0.75 m"])
def test_a_length_is_told_as_it_is_written(size, length):
    study = study_from(RIG.format(feed="6 AWG red 4 ft", fan=f"{size} red/black {length}"))
    wire = study.rig.by_name.conductors["P1.4/1"]
    told = {"430 cm": "4.3 m"}.get(length, length)
    assert wire_length(wire) == told
    # The return that is taken for it is as long, and told alike.
    assert wire_length(study.rig.by_name.conductors["P1.4/1R"]) == told


@given(length_m=st.floats(0.1, 30.0), imperial=st.booleans())
def test_a_length_of_any_unit_is_read_back_as_it_is_printed(length_m, imperial):
    told = length_words(length_m, imperial=imperial)
    study = study_from(RIG.format(feed="6 AWG red 4 ft", fan=f"14 AWG red {told}"))
    assert wire_length(study.rig.by_name.conductors["P1.4/1"]) == told


def test_the_same_length_in_another_unit_is_no_change():
    old = study_from(RIG.format(feed="6 AWG red 4 ft", fan="16 AWG red 10 ft"))
    new = study_from(RIG.format(feed="6 AWG red 1.2192 m", fan="16 AWG red 3.048 m"))
    assert compare(old.rig, new.rig).changes == ()


def test_every_bound_sheet_takes_mixed_units():
    text = RIG.format(feed="6 AWG red 1.2 m", fan="16 AWG red/black 4.3 m")
    job = job_of(check("plover.rig", text=text))
    for name in sheets_bound():
        if name not in ("photo", "photo_grid"):
            assert words(name, job)
