import pytest

from rigfolio.books.loader import book_names, load_book
from rigfolio.books.uses import CARRIES, USES, figures_of
from rigfolio.manual.topics import explain
from rigfolio.rule import rule_names

BOOKS = [load_book(name) for name in book_names()]


def test_every_limit_has_its_use_and_every_use_its_limit():
    held = {key for book in BOOKS for key in book.limits}
    assert {use.key for use in USES} == held


def test_every_rule_that_is_named_is_one():
    named = {name for use in USES for name in use.rules} | set(CARRIES)
    assert named
    assert named <= set(rule_names())


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
def test_the_page_of_a_book_holds_all_its_figures(book):
    page = explain(book.name)
    lines = [line.split() for line in page.splitlines()]
    for column in book.columns:
        assert ["A", *(f"{row.ampere:g}" for row in column.rows)] in lines
    for figure in figures_of(book):
        assert figure.what in page
        assert figure.value in page
    assert f"({book.source.status})" in page


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
def test_what_is_recalled_stands_first(book):
    page = explain(book.name)
    head = page.split("from memory, to be compared")[1].split("\n\n")[0]
    flat = " ".join(head.split())
    recalled = [column for column in book.columns if column.source.status == "memory"]
    assert recalled
    for column in recalled:
        for row in column.rows:
            assert f"{row.ampere:g} A" in flat
    for figure in figures_of(book):
        assert (f"{figure.what}: {figure.value}" in flat) == (figure.source.status == "memory")


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("fuse-too-far", ("7 in", "40 in", "72 in", "18 in", "33 CFR 183.455(b) (seen)")),
        ("fuse-over-wire", ("150 %", "100 %", "NFPA 70 Table 552.10(E)(1) (memory)")),
        ("voltage-drop", ("3 %", "10 %", "0.5 V, 1 V for minutes")),
        ("chassis-bond-thin", ("8 AWG", "NFPA 70-2008 552.10(C)(4) (seen)")),
    ],
)
def test_a_rule_prints_the_limits_that_it_turns_on(name, told):
    page = explain(name)
    assert [text for text in told if text not in page] == []
    assert "limits in rv:" in page


def test_a_rule_without_limits_prints_none():
    assert "limits in" not in explain("name-used-twice")
