"""Tables close up where less air or smaller type saves a page, and are left alone elsewhere."""

import pytest

from rigfolio.draw import Column, Row, Table, Text, flat, flow, flow_close

AREA = (10.0, 10.0, 180.0, 250.0)


def _table(rows: int) -> Table:
    made = tuple(Row((f"row {number}", "words " * 40)) for number in range(rows))
    return Table((Column("", 20), Column("", 80)), made, "Rows", 9.0)


@pytest.mark.parametrize("rows", range(5, 45, 3))
def test_it_never_takes_more_pages_and_loses_no_row(rows: int) -> None:
    wide, close = flow([_table(rows)], AREA), flow_close([_table(rows)], AREA)
    assert len(close) <= len(wide)
    words = {mark.text for page in close for mark in flat(page) if isinstance(mark, Text)}
    assert {f"row {number}" for number in range(rows)} <= words
    if len(close) == len(wide):
        assert close == wide


def test_a_page_that_is_nearly_empty_is_saved() -> None:
    saved = [
        rows for rows in range(5, 60)
        if len(flow_close([_table(rows)], AREA)) < len(flow([_table(rows)], AREA))
    ]  # fmt: skip
    assert saved
