"""A page with every kind of mark, and texts that a writer must not choke on."""

import pytest

from helpers.sample_page import sample_page
from rigfolio.draw.page import Page

HOSTILE = (
    "</text><script>alert(1)</script>",
    "](x) & \"quotes\" 'too' \\ (",
    "two\nlines\tand a tab",
    "nul \x00 bell \x07",
    "\u202eright to left \u05e9\u05dc\u05d5\u05dd",
    "emoji \U0001f600 \u26a0\ufe0f",
    "lone \ud800 surrogate",
    "]]> <!-- -->",
)


@pytest.fixture
def page() -> Page:
    return sample_page()


@pytest.fixture(params=HOSTILE, ids=range(len(HOSTILE)))
def hostile(request: pytest.FixtureRequest) -> str:
    return str(request.param)
