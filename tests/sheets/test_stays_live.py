"""What stays live: one page that says the same as the study of the rig."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, marsh_wren, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.sheets import stays_live


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_each_example_fits_one_page(name):
    job = job_from(EXAMPLES / name)
    pages = stays_live.pages(job)
    assert len(pages) == 1
    assert overlaps(pages[0]) == ()
    assert off_paper(pages[0]) == []
    assert pages == stays_live.pages(job)
    seen = words(pages)
    assert "What is live in which state" in seen
    assert "local code and licensed practice come first" in seen
    assert "…" not in seen


def test_the_words_of_the_switch_and_of_the_states():
    seen = words(stays_live.pages(job_from(EXAMPLES / "marsh-wren-17.rig")))
    for phrase in (
        "ON House battery B1 feeds Galley panel P1",
        "OFF Galley panel P1 dead, unless Converter C1 is on. These stay live: Gas detector, "
        "Breakaway brakes; the wires of House battery B1",
        "P1 Galley panel dead LIVE: B1, U1, V1 LIVE: B1, C1, U1",
        "J1.2.load Seven-way plug LIVE: B1, U1 LIVE: B1, U1, V1 LIVE: B1, C1, U1",
        "☐ S1 Battery disconnect: open it ☐ measured",
        "Disconnects alone are not enough: C1 Converter feeds it too",
    ):
        assert phrase in seen


def test_what_must_stay_on_and_has_no_source():
    text = (
        'rig "Off"\n    rules rv\nbattery B1 flooded, 100 Ah\ndisconnect S1 100 A\n'
        "wire B1+ to S1.line 6 AWG red 1 ft\nbusbar N1 100 A\nwire N1 to B1- 6 AWG black 1 ft\n"
        'circuit S1.load "Gas detector" fuse 3 A, always on\n    wire 16 AWG red 3 ft\n'
        '    load "Detector" 0.1 A\n'
    )
    seen = words(stays_live.pages(job_of(text)))
    assert "NO SOURCE on: B1" in seen
    assert "Supplied, not in the text: stored (disconnects open, selectors off)" in seen


def test_a_rig_with_nothing_but_a_battery():
    assert "B1+ LIVE: B1" in words(stays_live.pages(job_of(BARE)))


def test_a_survey_with_gaps_still_prints():
    pages = stays_live.pages(marsh_wren())
    assert len(pages) == 1
    assert overlaps(pages[0]) == ()


@FEW
@given(slots=st.integers(1, 40), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in stays_live.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []


def test_how_a_state_is_set_is_told_whole_however_many_there_are() -> None:
    switches = "".join(f"disconnect S{n} 100 A\n" for n in range(2, 14))
    wires = "wire B1+ to S2.line 6 AWG 1 ft\n" + "".join(
        f"wire S{n}.load to S{n + 1}.line 6 AWG 1 ft\n" for n in range(2, 13)
    )
    every = ", ".join(f"S{n} closed" for n in range(2, 14))
    states = "".join(f'state "at anchor {n}" {every}\n' for n in range(7))
    text = (
        'rig "Many states"\n    system 12 V\n    rules boat\nbattery B1 100 Ah\nbusbar N1\n'
        "panel P1 2 slots of 20 A\nwire B1- to N1 6 AWG 1 ft\nwire S13.load to P1 6 AWG 1 ft\n"
    )
    said = words(stays_live.pages(job_of(f"{text}{switches}{wires}{states}")))
    assert "…" not in said
    for number in range(7):
        assert f"at anchor {number}: {every}" in said
