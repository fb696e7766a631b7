"""Demand and energy: what every part must carry, what a day takes, how long the battery lasts.

One page as a rule: a table of demand by level, and the charge of a day with the largest users
first, each with a bar beside it.
"""

from collections.abc import Iterator

from rigfolio.answers import demand_report, levels_shown
from rigfolio.draw import (
    Column,
    Page,
    Row,
    Setting,
    Table,
    body,
    columns_of,
    flow,
    numbered,
    pieces,
    prose,
    rows_of,
)
from rigfolio.job import Job
from rigfolio.reports import REASONED, Report
from rigfolio.sheet import Sheet, SheetPart

SHEET = Sheet("Demand and energy", "demand-and-energy", binder="to-file", bound=40, beside=True)

_AIR = ("", Column("", 2))
_LEVELS: Setting = (
    ("part", Column("part", 34, bold=True)),
    ("connected_a", Column("connected", 12, align="end")),
    _AIR,
    ("continuous_a", Column("for hours", 12, align="end")),
    _AIR,
    ("simultaneous_a", Column("at one time", 13, align="end")),
    _AIR,
    ("made_for", Column("made for", 11, align="end")),
    _AIR,
    ("of_that", Column("of that", 30)),
)
_STARTS: Setting = (
    ("label", Column("load", 34)),
    ("circuit", Column("circuit", 12, bold=True)),
    ("running_a", Column("runs at", 11, align="end")),
    _AIR,
    ("start_a", Column("starts at", 12, align="end")),
    _AIR,
    ("lasts", Column("for", 18)),
    ("through", Column("through", 20)),
    ("held_against", Column("held against", 60)),
)
_USES: Setting = (
    ("label", Column("load", 40)),
    ("circuit", Column("circuit", 14, bold=True)),
    ("draws", Column("draws", 11, align="end")),
    _AIR,
    ("hours", Column("for", 11, align="end")),
    _AIR,
    ("day", Column("a day", 11, align="end")),
    _AIR,
)
_SHARE = Column("share of the largest", 29)
_SIZES_PT = (8.0, 7.0)
_BAR = 16
_WORDS = (
    ("watts_in_short", "Watts as amperes, each load on alone"),
    ("lasts_in_short", "Lasts with nothing charging"),
    ("balances", "A day's balance"),
    ("charging", "Charging"),
)
"""What is said below the tables, by its name in the report, and what stands above it."""


def pages(job: Job) -> tuple[Page, ...]:
    """One page where the rig allows it."""
    report = demand_report(job.study)
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(report, _SIZES_PT[0]), area)
    if len(bodies) > 1:
        bodies = flow(_tables(report, _SIZES_PT[1]), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=REASONED)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first what parts must carry, for the energy takes longer."""
    for table in levels_shown(job.study):
        yield SheetPart((table.title if table.rows else "", tuple(rows_of([table], _LEVELS))))
    yield from map(SheetPart, _tables(demand_report(job.study), _SIZES_PT[0]))


def _tables(report: Report, size: float) -> Iterator[Table]:
    pad = 0.6 if size < _SIZES_PT[0] else 0.9
    rows = tuple(_levels(report))
    if rows:
        yield Table(columns_of(_LEVELS), rows, "What every part must carry", size, pad)
        yield prose("", *report.words("kinds"), *report.words("found"), size_pt=size)
    for starts in report.tables("starts"):
        yield Table(columns_of(_STARTS), rows_of([starts], _STARTS), starts.title, size, pad)
        yield prose("", *report.words("starts_note"), size_pt=size)
    day = _day(report)
    if day:
        yield Table((*columns_of(_USES), _SHARE), day, "What a day takes", size, pad)
        yield prose("", *report.words("whole"), size_pt=size)
    unsaid = tuple(words for told in report.words("unsaid") for words in pieces(told))
    if unsaid:
        yield prose("Not counted, because it is not said", *unsaid, size_pt=size)
    for name, title in _WORDS:
        words = report.words(name)
        if words:
            yield prose(title, *words, size_pt=size)
    how = report.words("how")
    if how:
        yield prose("How it is worked out", *how, size_pt=7.0)
    nothing = report.words("nothing")
    if nothing:
        yield prose("", *nothing)


def _levels(report: Report) -> Iterator[Row]:
    for table in report.tables("levels"):
        if table.rows:
            yield Row((table.title,), bold=True)
            yield from rows_of([table], _LEVELS)


def _day(report: Report) -> tuple[Row, ...]:
    """The users of a day, each with its share of the largest as a bar."""
    (table,) = report.tables("a_day")
    charges = [charge for charge in table.cells("day_c") if isinstance(charge, float)]
    return tuple(
        Row((*row.cells, "■" * max(1, round(_BAR * charge / charges[0]))))
        for row, charge in zip(rows_of([table], _USES), charges, strict=True)
    )
