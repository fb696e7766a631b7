"""The wire list: every conductor once, both its ends, the length to cut; on paper, as a table."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.job import Wish
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.protection import guard_words
from rigfolio.record import replace
from rigfolio.sheets import wire_list

COLUMNS = wire_list.table(job_of('rig "Bare"\n    system 12 V\n    rules rv\n'))[0]


def _rows(job):
    return [dict(zip(COLUMNS, row, strict=True)) for row in wire_list.table(job)[1:]]


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_conductor_that_is_cut_stands_once_with_what_guards_it(name):
    job = job_from(EXAMPLES / name)
    rows = {row["wire"]: row for row in _rows(job)}
    cut = {wire.name: wire for wire in job.rig.conductors if not wire.lead}
    assert rows.keys() == cut.keys()
    assert len(rows) == len(_rows(job))
    for wire_name, row in rows.items():
        assert row["guarded by"] == guard_words(job.study, cut[wire_name])
    pages = wire_list.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen
    assert [wire_name for wire_name in rows if wire_name not in seen] == []


def test_a_row_by_hand():
    text = (
        'rig "Row"\n    rules rv\n    system 12 V\nbattery B1 flooded, 100 Ah, stud M8\n'
        "fuse F1 30 A\npanel P1 2 slots of 20 A\n"
        "wire B1+ to F1 10 AWG red 2 ft, insulation GXL\n"
        "wire F1 to P1 10 AWG red ?\n"
    )
    first, second = _rows(job_of_result(check("row.rig", text=text)))
    # Slack: 300 mm for each end, or a tenth of the run if that is more (common practice): 2 ft are
    # 609.6 mm, with 600 mm 1209.6 mm, which is 3 ft 11.6 in; the last inch begun counts.
    assert first["cut to"] == "4 ft"
    assert (first["end 1"], first["crimped on end 1"]) == ("B1+", "ring M8")
    assert (first["end 2"], first["crimped on end 2"]) == ("F1.line", "to suit")
    assert first["insulation"] == "GXL"
    assert (second["end 1"], second["cut to"]) == ("F1.load", "?")


def test_a_wish_for_some_circuits_is_heeded():
    job = job_from(EXAMPLES / "marsh-wren-17.rig")
    some = replace(job, wish=Wish(only=frozenset({"P1.2"})))
    assert {row["circuit"] for row in _rows(some)} == {"P1.2 Water pump"}
    assert "Only for P1.2" in words(wire_list.pages(some))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_names_of_any_length_and_script_fit(slots, names):
    for page in wire_list.pages(panel_of(slots, names * 8, paper="a4")):
        assert overlaps(page) == ()
        assert off_paper(page) == []
