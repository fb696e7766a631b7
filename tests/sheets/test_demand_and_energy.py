"""The sheet of demand and energy: every circuit is on it, nothing is cut."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.sheets import demand_and_energy as sheet


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_circuit_is_on_it(name):
    job = job_from(EXAMPLES / name)
    pages = sheet.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen
    for circuit in job.rig.circuits:
        assert circuit.place in seen
    assert "What a day takes" in seen


def test_the_largest_user_has_the_longest_bar():
    text = (
        'rig "Two"\n    rules rv\n    system 12 V\nbattery B1 flooded, 100 Ah\n'
        "panel P1 2 slots of 20 A\nbusbar N1 100 A\nwire B1+ to P1 6 AWG red 3 ft\n"
        "wire N1 to B1- 6 AWG black 3 ft\n"
        'circuit P1.1 "Lamp" fuse 5 A\n    wire 16 AWG red 3 ft\n    load "Lamp" 1 A, 2 h/day\n'
        'circuit P1.2 "Fan" fuse 5 A\n    wire 16 AWG red 3 ft\n    load "Fan" 2 A, 4 h/day\n'
    )
    seen = words(sheet.pages(job_of(text)))
    bars = [word for word in seen.split() if set(word) == {"■"}]
    assert [len(bar) for bar in bars] == [16, 4]


def test_a_rig_with_nothing_but_a_battery_prints():
    assert "Demand and energy" in words(sheet.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in sheet.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []
