"""The work plan on paper: cautions at the top, a box for every step, nothing cut."""

import re

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.draw import flow
from rigfolio.job import Wish
from rigfolio.record import replace
from rigfolio.sheets import work_plan
from rigfolio.swap import Task, WorkPart
from rigfolio.swap.plan import work


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_every_step_has_its_box(name):
    job = job_from(EXAMPLES / name)
    pages = work_plan.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen
    tasks = [
        task
        for panel in job.rig.panels
        for part in work(job.study, panel.about.name, hands_over=panel is job.rig.panels[-1])
        for task in part.tasks
    ]
    assert seen.count("☐") == len(tasks) > 20
    assert seen.index("Low voltage is not low danger") < seen.index("1.1")


def test_one_panel_of_two():
    job = job_from(EXAMPLES / "kittiwake-30.rig")
    names = [panel.about.name for panel in job.rig.panels]
    seen = words(work_plan.pages(replace(job, wish=Wish(only=frozenset({names[1]})))))
    assert f"Work at {names[1]}" in seen
    assert f"Work at {names[0]}" not in seen


def test_a_rig_without_a_panel_says_so():
    assert "there is no plan to be made yet" in words(work_plan.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in work_plan.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_what_most_wires_take_is_told_once_and_the_rest_at_each(name):
    job = job_from(EXAMPLES / name)
    parts = [part for panel in job.rig.panels for part in work(job.study, panel.about.name)]
    shared = 0
    for part in (part for part in parts if part.is_list):
        table = work_plan._columned(part, 3, 2)
        told = [cell for row in table.rows if len(row.cells) > 1 for cell in row.cells[1::3]]
        above = " ".join(str(row.cells[0]) for row in table.rows if len(row.cells) == 1)
        for task in part.tasks:
            at_each = "; ".join(filter(None, (task.do, task.see)))
            is_above = task.do in told and f"Where nothing else is named: {task.see}." in above
            assert at_each in told or is_above
            shared += at_each not in told
    assert shared > 4


def test_every_label_and_tag_of_the_work_is_named():
    """`and 24 more` sent people to look for a list that stood nowhere."""
    job = panel_of(40, ["Lamp"] * 40, paper="a4")
    seen = words(work_plan.pages(job))
    assert "P1.1 to P1.40" in seen
    assert not re.search(r"and \d+ more", seen)


def test_a_long_list_of_names_is_cut_nowhere():
    names = [f"Cabin {place} reading lamp" for place in range(1, 61)]
    parts = (WorkPart("Before", (), (Task("take old labels off", ", ".join(names)),)),)
    tables = tuple(work_plan._tables(parts, 190.0))
    told = " ".join(str(row.cells[2]) for table in tables for row in table.rows)
    assert told == ", ".join(names)
    marks = [mark for page in flow(tables, (10.0, 10.0, 190.0, 240.0)) for mark in page]
    assert "…" not in " ".join(mark.text for mark in marks if hasattr(mark, "text"))
