"""Sheets of two versions compared by what they are made from, held against their pages."""

from itertools import count
from pathlib import Path

import pytest

from fuzz.trial import understood
from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.one_edit import edited
from helpers.studies import job_from
from rigfolio.folio.changed import bare, changed_sheets
from rigfolio.folio.documents import Documents, title_of
from rigfolio.job import Job
from rigfolio.judgement import check, job_of
from rigfolio.sheet import EachOf, SheetPart, look_alike, sheets_bound

FIGURES = sorted(EXAMPLES.glob("*.rig"))


def with_one_edit(name: str, text: str, seed: int) -> Job:
    """What sheets are given of a text with one edit that leaves it understood."""
    tried = (check(name, text=edited(text, seed + 1_000 * turn)) for turn in count())
    return job_of(next(one for one in tried if one.study is not None))


@cache
def laid_out(file: Path) -> Documents:
    """The sheets of an example, laid out once for all that it is compared with."""
    return Documents(bare(job_from(file)))


def other_pages(one: Documents, now: Job) -> tuple[str, ...]:
    """The titles of the sheets of which any page is another one, all laid out."""
    two = Documents(bare(now))
    names = [name for name in sheets_bound() if one.has(name) and two.has(name)]
    return tuple(title_of(name) for name in names if one.pages(name) != two.pages(name))


@pytest.mark.parametrize("seed", range(12))
def test_a_grown_rig_with_one_edit_is_told_as_its_pages_are(seed):
    text = understood(seed)
    was, now = job_of(check("x.rig", text=text)), with_one_edit("x.rig", text, seed)
    assert changed_sheets(was, now) == other_pages(Documents(bare(was)), now)


@pytest.mark.parametrize("seed", range(6))
def test_an_example_with_one_edit_is_told_as_its_pages_are(seed):
    file = FIGURES[seed % len(FIGURES)]
    now = with_one_edit(str(file), file.read_text(encoding="utf-8"), 100 + seed)
    assert changed_sheets(job_from(file), now) == other_pages(laid_out(file), now)


def test_where_nothing_but_a_comment_is_new_no_sheet_is():
    text = FIGURES[0].read_text(encoding="utf-8")
    was, now = (job_of(check(str(FIGURES[0]), text=each)) for each in (text, f"# seen\n\n{text}"))
    assert changed_sheets(was, now) == ()


def test_parts_are_asked_for_no_further_than_to_the_first_that_differs():
    def parts(second: str):
        yield SheetPart("first")
        yield SheetPart(second)
        pytest.fail("what differs was known")

    assert not look_alike(parts("one"), parts("two"))


@pytest.mark.parametrize(("drawn", "is_alike"), [("as it was", True), ("other", False)])
def test_a_part_that_is_made_of_something_else_is_drawn(drawn, is_alike):
    was, now = SheetPart("one", lambda: "as it was"), SheetPart("two", lambda: drawn)
    assert look_alike(iter((was,)), iter((now,))) is is_alike


def test_a_part_more_is_a_difference():
    assert not look_alike(iter((SheetPart("one"),)), iter((SheetPart("one"), SheetPart(None))))


@pytest.mark.parametrize("changed", [0, 2, 4])
def test_of_many_things_those_that_are_not_near_each_other_are_looked_at_first(changed):
    looked: list[int] = []

    def version(at: int | None) -> EachOf:
        def made(number: int) -> str:
            looked.append(number)
            return f"{number} other" if number == at else str(number)

        return EachOf([n == at for n in range(5)], made)

    assert version(None) != version(changed)
    assert set(looked) == {changed}


def test_things_that_are_near_each_other_are_held_against_each_other_all_the_same():
    def version(words: str, count: int = 3) -> EachOf:
        return EachOf(["near"] * count, lambda number: words if number == count - 1 else "")

    assert version("as it was") == version("as it was")
    assert version("as it was") != version("other")
    assert version("as it was") != version("as it was", count=2)
