"""The folio is what is carried to the panel: few pages, none of them nearly empty."""

import pytest

from helpers.home import EXAMPLES
from helpers.studies import job_from
from rigfolio.draw import body
from rigfolio.draw.page import Page, texts
from rigfolio.folio.documents import Documents
from rigfolio.sheet import sheets_bound

MOST = {"kittiwake-30": 14, "marsh-wren-17": 10, "heron-van": 10, "lapwing-cabin": 10}
"""Pages of a folio: a boat of 28 slots on two panels, rigs of up to twelve slots."""
LEAST = 1 / 3
"""Share of a page that is used where a sheet takes more than one."""


def used(page: Page) -> float:
    """How far down the words of a page reach, as a share of the height above the title strip."""
    _, top, _, high = body(page.width_mm, page.height_mm)
    return max(mark.at[1] - top for mark in texts(page) if mark.at[1] <= top + high) / high


@pytest.mark.parametrize("name", sorted(MOST))
def test_a_folio_has_few_pages_and_none_is_nearly_empty(name: str) -> None:
    job = job_from(EXAMPLES / f"{name}.rig")
    documents = Documents(job)
    sheets = [documents.pages(sheet) for sheet in sheets_bound("folio") if documents.has(sheet)]
    assert len(sheets) >= 6
    assert sum(map(len, sheets)) <= MOST[name]
    for pages in sheets:
        if len(pages) > 1:
            assert min(map(used, pages)) >= LEAST, pages[0].name


def test_how_much_of_a_page_is_used_is_measured() -> None:
    job = job_from(EXAMPLES / "lapwing-cabin.rig")
    (*_, last) = Documents(job).pages("test_sheet")
    assert LEAST < used(last) < 0.6
