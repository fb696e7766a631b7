"""Pick list: what has to be bought, from fuses to labels, with spares and slack."""

from collections.abc import Iterator

from rigfolio.books.terminals import terminal_source
from rigfolio.draw.frame import Column, Row, Table, body, flow, numbered, prose
from rigfolio.draw.page import Page
from rigfolio.study.job import Job
from rigfolio.study.picks import Pick, picks

TITLE = "Pick list"
NAME = "pick-list"

_COLUMNS = (
    Column("", 4),
    Column("what", 34, bold=True),
    Column("fitted", 10, align="end"),
    Column("", 2),
    Column("buy", 11, bold=True, align="end"),
    Column("", 2),
    Column("for", 37),
    Column("remark", 22),
)
_BOX = "☐"
_MOST_PLACES = 14
_NOTE = "Compare with what is in the drawer."


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the list needs."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    return numbered(job.paper, TITLE, job.strip, flow(_tables(job), area), note=_NOTE)


def _tables(job: Job) -> Iterator[Table]:
    found = picks(job.study, job.wish.only)
    if job.wish.only:
        listed = ", ".join(sorted(job.wish.only))
        yield prose("", f"Only for {listed}.")
    if not found:
        yield prose("", "There is nothing to be bought.")
    for group in dict.fromkeys(one.group for one in found):
        rows = tuple(_row(one) for one in found if one.group == group)
        yield Table(_COLUMNS, rows, group)
    told = {"Fuses": "spares", "Terminals": "terminals", "Wire": "slack"}
    sources = [str(terminal_source(key)) for key in told.values()]
    if found:
        yield prose("", f"Bought besides what is fitted: {'; '.join(sources)}.", size_pt=7.0)


def _row(one: Pick) -> Row:
    return Row((_BOX, one.what, one.fitted, "", one.bought, "", _places(one), one.note))


def _places(one: Pick) -> str:
    more = len(one.places) - _MOST_PLACES
    words = ", ".join(one.places[:_MOST_PLACES])
    return f"{words} and {more} more" if more > 0 else words


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The list as rows for a spreadsheet, headings first."""
    heads = ("group", "what", "fitted", "buy", "for", "remark")
    rows = [
        (one.group, one.what, one.fitted, one.bought, " ".join(one.places), one.note)
        for one in picks(job.study, job.wish.only)
    ]
    return (heads, *rows)
