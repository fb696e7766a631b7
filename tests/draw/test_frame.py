"""The strip at the foot of every page: it never loses the date of a revision."""

import pytest
from hypothesis import given, strategies as st

from rigfolio.draw.frame import framed
from rigfolio.draw.page import texts
from rigfolio.job import strip_words


def strip(revision: str, width_mm: float = 215.9) -> list[str]:
    fields = strip_words("Hut", revision, "2026-11-30", "vehicle", "2c58a04b410c")
    page = framed(width_mm, 279.4, "Slot labels", fields, ())
    return [text.text.replace("\N{NO-BREAK SPACE}", " ") for text in texts(page)]


@pytest.mark.parametrize(
    "revision", ["", "B", "as found", "new panel", "third visit, by the owner"]
)
def test_a_revision_that_fits_in_the_room_of_all_is_printed_whole(revision: str) -> None:
    seen = strip(revision)
    assert " ".join(filter(None, ("revision", revision, "2026-11-30"))) in seen
    assert {"rule book vehicle", "text 2c58a04b410c"} <= {*seen}


@given(st.text("abc xyz-", max_size=90), st.sampled_from((210.0, 215.9, 297.0)))
def test_the_date_stands_whatever_the_revision_is_called(revision: str, width_mm: float) -> None:
    seen = strip(revision.strip(), width_mm)
    assert sum(text.endswith("2026-11-30") for text in seen) == 1
    assert "text 2c58a04b410c" in seen
