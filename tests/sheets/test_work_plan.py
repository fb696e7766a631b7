"""The work plan on paper: cautions at the top, a box for every step, nothing cut."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.job import Wish
from rigfolio.record import replace
from rigfolio.sheets import work_plan
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
