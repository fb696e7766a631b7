"""Tables over pages: nothing lost or cut off, words that lead stay with what they lead."""

import pytest
from hypothesis import given, strategies as st

from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import Box
from rigfolio.draw.page import Mark, Text
from rigfolio.draw.table import Column, Row, Table, flow, prose

AREA: Box = (10.0, 10.0, 180.0, 100.0)
TWO = (Column("no", 1), Column("what", 3))


def numbered(count: int, start: int = 0) -> tuple[Row, ...]:
    return tuple(Row((f"n{number}", "words")) for number in range(start, start + count))


def words(page: tuple[Mark, ...]) -> list[str]:
    return [mark.text for mark in page if isinstance(mark, Text)]


@st.composite
def tables(draw: st.DrawFn) -> tuple[Table, ...]:
    made, at = [], 0
    for place in range(draw(st.integers(1, 3))):
        rows: list[Row] = []
        for _ in range(draw(st.integers(1, 6))):
            if draw(st.booleans()):
                rows.append(Row((f"lead{at}",), bold=True))
            count = draw(st.integers(1, 12))
            long = draw(st.sampled_from(("words", "many words " * 20)))
            rows += [Row((f"n{at + n}", long)) for n in range(count)]
            at += count
        made.append(Table(TWO, tuple(rows), f"table {place}", grid=draw(st.booleans())))
    return tuple(made)


@given(tables())
def test_every_row_is_set_once_in_order_and_within_its_page(
    held: tuple[Table, ...],
) -> None:
    pages = flow(held, AREA)
    numbers = [text for page in pages for text in words(page) if text[0] == "n" and text != "no"]
    assert numbers == [f"n{number}" for number in range(len(numbers))]
    assert len(numbers) == sum(len(row.cells) == 2 for table in held for row in table.rows)
    for page in pages:
        for mark in page:
            if isinstance(mark, Text):
                left, top, right, bottom = text_box(mark)
                assert left >= AREA[0] - 0.01
                assert top >= AREA[1] - 0.01
                assert right <= AREA[0] + AREA[2] + 0.01
                assert bottom <= AREA[1] + AREA[3] + 0.01


@given(tables())
def test_no_page_ends_with_words_that_lead(held: tuple[Table, ...]) -> None:
    for page in flow(held, AREA):
        last = words(page)[-1]
        assert not last.startswith(("lead", "table", "what"))


@given(tables())
def test_no_page_is_empty(held: tuple[Table, ...]) -> None:
    assert all(words(page) for page in flow(held, AREA))


@given(st.lists(st.integers(1, 5), min_size=3, max_size=60))
def test_the_last_row_of_a_table_never_stands_alone(lines: list[int]) -> None:
    rows = tuple(Row((f"n{at}", "many words " * 12 * many)) for at, many in enumerate(lines))
    *others, last = flow([Table(TWO, rows, "steps")], AREA)
    numbers = [text for text in words(last) if text[0] == "n" and text != "no"]
    assert not others or len(numbers) >= 2


def test_rows_below_a_common_word_stay_on_one_page() -> None:
    # By hand: a row is 2 mm of padding and 1.2 * 8 pt = 3.4 mm high, 5.4 mm in all. Heads take
    # some 10 mm and 14 rows 75 mm of the 100: a lead with three rows, 21 mm, has no room.
    rows = (*numbered(14), Row(("lead",), bold=True), *numbered(3, 14), Row(("other",)),
            *numbered(20, 17))  # fmt: skip
    first, second, *_ = flow([Table(TWO, rows, "t")], AREA)
    assert words(first)[-2:] == ["n13", "words"]
    assert [text for text in words(second) if text in ("lead", "n14", "n15", "n16")] == [
        "lead", "n14", "n15", "n16",
    ]  # fmt: skip


@pytest.mark.parametrize("grid", [False, True])
def test_a_page_for_a_few_rows_is_saved_but_not_where_one_writes_by_hand(grid: bool) -> None:
    # 18 rows of 5.4 mm and heads of 10 mm are 107 mm, a little more than a page of 100; with 80 %
    # of the air they are 100 mm, with 65 % 95.
    pages = flow([Table(TWO, numbered(18), "t", grid=grid)], AREA)
    assert len(pages) == (2 if grid else 1)


def test_what_needs_more_than_the_air_keeps_its_air() -> None:
    roomy = flow([Table(TWO, numbered(14), "t")], AREA)
    full = flow([Table(TWO, numbered(30), "t")], AREA)
    tops = [[mark.at[1] for mark in pages[0] if isinstance(mark, Text)] for pages in (roomy, full)]
    assert len(full) == 2
    assert tops[0] == tops[1][: len(tops[0])]


def test_paragraphs_have_neither_lines_nor_headings() -> None:
    ((*marks,),) = flow([prose("title", "one", "two")], AREA)
    assert all(isinstance(mark, Text) for mark in marks)
    assert words(tuple(marks)) == ["title", "one", "two"]
