"""What was opened is closed through a lamp: the plan and the test sheet say it in one way."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import checked
from rigfolio.isolation import lamp_words
from rigfolio.swap import sheet_stages, work


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_plan_and_test_sheet_close_through_a_lamp_and_never_through_a_small_fuse(
    file: Path,
) -> None:
    study = checked(file).study
    if study is None or not study.rig.panels:
        return
    feed = next(one for one in sheet_stages(study) if one.title == "The feed alone")
    parts = [part for panel in study.rig.panels for part in work(study, panel.about.name)]
    told = [words for part in parts for words in part.about]
    told += [f"{task.do}; {task.see}" for part in parts for task in part.tasks]
    assert lamp_words() in feed.about
    assert any(lamp_words() in words for words in told)
    for words in (feed.about, *told):
        assert "small fuse" not in words.replace(lamp_words(), "")
