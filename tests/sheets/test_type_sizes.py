"""No type is smaller than it may be, in the title strip too, however long names are."""

from importlib import import_module

import pytest

from helpers.forgotten import cache
from helpers.page_checks import overlaps
from helpers.work_rigs import LONGEST, two_panels
from rigfolio.draw.page import texts
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.sheet import sheets_beside, sheets_bound

LABEL_PT, PAPER_PT = 5.5, 7.0
"""Asked for by those who read them: on labels and tags at arm's length, on paper in the hand."""
LABELS = frozenset({"slot_labels", "tapes", "wire_tags", "print_check"})
"""The print check shows every size of a label, to be compared."""
NAMES = [name for name in dict.fromkeys((*sheets_bound(), *sheets_beside())) if name != "schematic"]


@cache
def job_titled(title: str) -> Job:
    """Two panels under the longest names there are, judged once for all sheets."""
    text = two_panels(6, 4, LONGEST, 7).replace("Reed Bunting", title)
    text = text.replace("    system 12 V", "    system 12 V\n    revised 2026-11-26")
    result = check("reed.rig", text=text)
    assert result.study is not None, result.findings
    return job_of(result)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("title", LONGEST[:5], ids=range(5))
def test_every_text_is_large_enough(name: str, title: str) -> None:
    least = LABEL_PT if name in LABELS else PAPER_PT
    for page in import_module(f"rigfolio.sheets.{name}").pages(job_titled(title)):
        assert overlaps(page) == ()
        for mark in texts(page):
            assert mark.size_pt >= least - 1e-6, mark.text
