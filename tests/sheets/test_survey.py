"""The survey sheet: every slot and wire has its row, nothing is cut, whatever the names are."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.sheets import survey


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_slot_and_wire_has_its_row(name):
    job = job_from(EXAMPLES / name)
    pages = survey.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen.replace("………", "")
    places = [row[0] for row in survey.table(job)[1:]]
    assert len(places) == len(set(places)) > 10
    for place in places:
        assert all(word in seen for word in place.split())
    assert "local code and licensed practice come first" in seen


def test_what_is_not_surveyed_is_asked_for():
    text = (
        'rig "Gaps"\n    rules rv\nbattery B1 flooded, ? Ah\npanel P1 2 slots of ? A\n'
        "busbar N1 100 A\nwire B1+ to P1 ? AWG red 3 ft, fuse ? A at B1+\n"
        "wire N1 to B1- 6 AWG black 3 ft\n"
        'circuit P1.1 "Lamp" fuse 5 A\n    wire ? AWG red 3 ft\n    load "Lamp" ? A\n'
    )
    seen = words(survey.pages(job_of_result(check("gaps.rig", text=text))))
    assert "Still to be found out" in seen
    assert "each made for: ………" in seen
    assert "☐" in seen


def test_a_rig_with_nothing_but_a_battery_prints():
    assert "Surveyed on, by:" in words(survey.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in survey.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []
