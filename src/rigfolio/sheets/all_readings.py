"""All readings: what the meter should show at every test point, stage by stage.

Every fuse as it goes in, every load by itself with its current and what its holder and its way back
lose, the feeds under load: to go on with where the test sheet does not fit, and to be kept.
"""

from collections.abc import Iterator
from itertools import chain
from textwrap import wrap

from rigfolio.books import figure
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.swap import (
    ReadingStage,
    every_stage,
    reading_stages,
    readings_remarks,
    readings_table,
    told_by_part,
    wanted_since,
)

SHEET = Sheet(
    "All readings",
    "all-readings",
    command="testsheet",
    form="full",
    binder="to-file",
    bound=45,
    beside=True,
    shows_the_log=True,
)

_COLUMNS = (
    Column("no", 10, bold=True),
    Column("where", 50),
    Column("write down as", 66),
    Column("expected", 25, bold=True),
    Column("read", 19),
    Column("before", 17),
)
_BLANK = "________"
_SIZE_PT, _PAD_MM = 7.0, 0.5
_LONGEST = 90
_HOW = (
    "Worked out from the text for a rested battery, half full to full, chargers off. Bounds leave "
    "room for loads that draw {load:.0f} % more or less than stated, and for the meter, "
    "{meter:g} % and {volt:.0f} mV."
)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the readings need."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    note = "Date, name and meter: ______________________"
    return numbered(job.paper, SHEET.title, job.strip, flow(_tables(job), area), note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first fuse by fuse and load by load, for all together take longer."""
    return map(SheetPart, chain(told_by_part(job.study), _tables(job)))


def _tables(job: Job) -> Iterator[Table]:
    yield prose(
        "",
        _HOW.format(
            load=figure("spread", "load_share") * 100.0,
            meter=figure("meter", "share") * 100.0,
            volt=figure("meter", "volt") * 1000.0,
        ),
    )
    found = reading_stages(
        job.study, every_stage(job.study), job.log, wanted_since(job.study, job.wish.since)
    )
    for words in readings_remarks(job.study, job.wish.since, found):
        yield prose("", words)
    for stage in found:
        rows = (Row((stage.about,)), *_rows(stage))
        yield Table(_COLUMNS, rows, stage.title, _SIZE_PT, _PAD_MM)


def _rows(stage: ReadingStage) -> Iterator[Row]:
    for step in stage.steps:
        is_lone = len(step.lines) == 1 and len(step.do) <= _LONGEST
        if not is_lone:
            behind = f". Behind each: `{step.behind}`" if step.behind else ""
            yield from (Row((words,), bold=True) for words in pieces(f"{step.do}{behind}"))
        for line in step.lines:
            where, *more = wrap(step.do if is_lone else line.where, 2 * _LONGEST) or [""]
            yield Row((line.number, where, line.entry, line.expected, _BLANK, line.before))
            yield from (Row(("", words, "", "", "", "")) for words in more)


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The readings as rows for a spreadsheet."""
    return readings_table(
        job.study, every_stage(job.study), wanted_since(job.study, job.wish.since)
    )
