"""The test sheet: every reading with its bounds, nothing cut, the last readings beside them."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES, TESTS
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import checked, job_from
from rigfolio.judgement.result import job_of as job_of_result
from rigfolio.operating.readings.expected import stages
from rigfolio.operating.readings.short_test import short_stages
from rigfolio.operating.readings.test_points import bounds_words, numbered_points
from rigfolio.reading.logs.meter import read_log
from rigfolio.record import replace
from rigfolio.sheets import all_readings, test_sheet, work_plan

WREN = EXAMPLES / "marsh-wren-17.rig"


@pytest.mark.parametrize(
    ("sheet", "given"), [(test_sheet, short_stages), (all_readings, stages)], ids=["short", "full"]
)
@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_each_reading_stands_on_the_sheet_and_in_the_table(name, sheet, given):
    job = job_from(EXAMPLES / name)
    pages = sheet.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen
    table = sheet.table(job)
    points = list(numbered_points(given(job.study)))
    assert len(points) == len(table) - 1 > 10
    for number, _, _, point in points:
        assert f"{number} " in seen
        assert bounds_words(point) in seen
    assert "local code and licensed practice come first" in seen


@pytest.mark.parametrize("name", ["marsh-wren-17.rig", "heron-van.rig"])
def test_twelve_slots_take_two_pages(name):
    assert len(test_sheet.pages(job_from(EXAMPLES / name))) == 2


@pytest.mark.parametrize("sheet", [test_sheet, all_readings], ids=["short", "full"])
def test_what_is_printed_is_read_back(sheet):
    """Each line of the table, with a figure in its blank, is a line of the log."""
    job = job_from(WREN)
    rows = sheet.table(job)[1:]
    column = sheet.table(job)[0].index("write down as")
    lines = [row[column].replace("___", "1.5") for row in rows]
    log, found = read_log("\n".join(lines), "log", job.rig)
    assert not found
    assert len(log.readings) == len(rows)
    printed = words(sheet.pages(job))
    assert sum("___" in row[column] and row[column].split(" = ")[0] in printed for row in rows)


def test_the_last_readings_stand_beside_the_blanks():
    job = job_from(WREN)
    text = "2026-03-14 Pump = 11.4 V\n2026-03-15 Pump = 11.9 V\n2026-03-15 P1.2 = 6.5 A\n"
    log, found = read_log(text, "log", job.rig)
    assert not found
    for sheet, kept in ((test_sheet, ("11.9 V",)), (all_readings, ("11.9 V", "6.5 A"))):
        seen = words(sheet.pages(replace(job, log=log)))
        assert [reading for reading in kept if f"{reading}," not in seen] == []
        assert "2026-03-15" in seen
        assert "2026-03-14" not in seen.replace("revision 2026-03-14", "")


def test_a_rig_with_nothing_but_a_battery_has_its_posts_read():
    seen = words(test_sheet.pages(job_of(BARE)))
    assert "B1+ to B1- = ___ V" in seen
    assert "nothing to be read yet" not in seen
    assert "nothing to be read yet" in words(test_sheet.pages(job_of('rig "Bare"\n')))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for sheet in (test_sheet, all_readings):
        for page in sheet.pages(job):
            assert overlaps(page) == ()
            assert off_paper(page) == []


@pytest.mark.parametrize("file", ["statements/shunt.rig", "rules/slot-not-in-panel.rig"])
def test_a_panel_that_no_wire_reaches_is_no_reason_to_fail(file):
    result = checked(TESTS / file)
    assert result.study is not None, result.findings
    assert test_sheet.pages(job_of_result(result))
    assert work_plan.pages(job_of_result(result))
