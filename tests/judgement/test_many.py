"""Many rigs in one call: the same answers in the same order as one by one."""

import subprocess
import sys

import pytest

from helpers.home import EXAMPLES
from rigfolio.judgement import many as app
from rigfolio.judgement.report import as_json, as_text

EXAMPLES = sorted(str(file) for file in EXAMPLES.rglob("*.rig"))


@pytest.mark.parametrize("processors", [1, 2, 5])
def test_the_same_as_one_by_one(monkeypatch, processors):
    monkeypatch.setattr(app.os, "cpu_count", lambda: processors)
    files = [*EXAMPLES, "missing.rig", *EXAMPLES[:20]]
    assert len(files) > 32
    one_by_one = [app.check_tried(file) for file in files]
    together = app.check_many(files)
    assert as_json(together) == as_json(one_by_one)
    assert as_text(together) == as_text(one_by_one)
    assert [result.exit_code for result in together] == [result.exit_code for result in one_by_one]


def test_under_another_book():
    together = app.check_many(EXAMPLES, "boat")
    assert {result.book for result in together if result.study} == {"boat"}


def test_no_such_book():
    with pytest.raises(KeyError, match="ship"):
        app.check_many(EXAMPLES, "ship")


def test_few_files_start_no_process():
    code = (
        "import sys; from rigfolio.judgement import check_many;"
        f"check_many({EXAMPLES[:3]!r}); print('multiprocessing' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
