"""Test sheet: what the meter should show while a panel goes live, in short.

Ohms before there is power, the feed, one line for each circuit with its loads on, the heavy loads
each by itself, all together, and what must stay on. Each line says how the reading is written down,
what is expected, a blank for what was read and a box to tick. Stop at the first line that does not
fit, and find out why before the next one.
"""

from collections.abc import Iterator

from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.model import Circuit
from rigfolio.reports import FIRST, HANDS
from rigfolio.sheet import EachOf, Sheet, SheetPart
from rigfolio.swap import (
    ReadingLine,
    ReadingStage,
    ReadingStep,
    how_to_read,
    reading_stages,
    readings_remarks,
    readings_table,
    sheet_stages,
    told_of_circuit,
    wanted_since,
)
from rigfolio.wording import circuits_in_order

SHEET = Sheet(
    "Test sheet",
    "test-sheet",
    command="testsheet",
    form="short",
    bound=70,
    beside=True,
    shows_the_log=True,
)

_LINES = (
    Column("no", 8, bold=True),
    Column("circuit", 66),
    Column("write down as", 60),
    Column("expected", 25, bold=True),
    Column("read", 22),
    Column("fits", 6),
)
_HALF = (
    Column("no", 9, bold=True),
    Column("write down as", 39),
    Column("expected", 27, bold=True),
    Column("read", 14),
    Column("fits", 6),
)
_PAIRS = (*_HALF, *_HALF)
"""Two readings beside each other, where the line itself says where they are taken."""
_PLAIN = "other sources and bars, what charges still off"
"""Stands above the readings of the feed that belong to no panel."""
_BLANK = "_______"
_BOX = "☐"
_PAD_MM = 0.6
_THEN = (
    "`rigfolio log` keeps a line as it is printed, `rigfolio diagnose` says what one that does not "
    "fit points at. All other readings are among what is filed."
)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the readings need."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    note = "Date, name and meter: ______________________"
    return numbered(job.paper, SHEET.title, job.strip, flow(_tables(job), area), note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first circuit by circuit, for all together take longer."""
    circuits = circuits_in_order(job.rig)
    near = [_near(job, circuit) for circuit in circuits]
    yield SheetPart(EachOf(near, lambda n: told_of_circuit(job.study, circuits[n])))
    yield from map(SheetPart, _tables(job))


def _near(job: Job, circuit: Circuit) -> tuple[object, ...]:
    """What the readings of a circuit turn on first of all."""
    device, loads = job.study.device(circuit.device), job.rig.by_name.loads
    return (
        circuit.place,
        circuit.label,
        None if device is None else device.rating_a,
        *((wire.size, wire.length_m) for wire in job.study.wires_of(circuit.place)),
        *(loads[name].value for name in circuit.loads),
    )


def _tables(job: Job) -> Iterator[Table]:
    yield prose("", f"{HANDS} {FIRST}", f"{how_to_read(job.rig)} {_THEN}")
    found = reading_stages(
        job.study, sheet_stages(job.study), job.log, wanted_since(job.study, job.wish.since)
    )
    for words in readings_remarks(job.study, job.wish.since, found):
        yield prose("", words)
    for stage in found:
        is_paired = any(len(step.lines) > 1 for step in stage.steps) or stage.is_dead
        rows = _paired(stage) if is_paired else _single(stage)
        columns = _PAIRS if is_paired else _LINES
        yield Table(columns, (Row((stage.about,)), *rows), stage.title, pad_mm=_PAD_MM)


def _single(stage: ReadingStage) -> Iterator[Row]:
    """A row for each step, with what is done."""
    for step in stage.steps:
        for line in step.lines:
            yield Row((line.number, step.do, *_half(line)[1:]))
        if not step.lines:
            yield Row(("", step.do, "", "", "", ""), bold=True)


def _paired(stage: ReadingStage) -> Iterator[Row]:
    """Two readings a row; steps of one reading that need no word beside it share rows too."""
    waiting: list[ReadingLine] = []
    head = ""
    for step in stage.steps:
        words = _PLAIN if step.is_plain else _head(step)
        is_headed = step.is_plain or len(step.lines) != 1 or not stage.is_dead
        if is_headed and words != head:
            yield from _two_by_two(waiting)
            waiting, head = [], words
            yield from (Row((each,), bold=True) for each in pieces(words))
        waiting += step.lines
    yield from _two_by_two(waiting)


def _two_by_two(lines: list[ReadingLine]) -> Iterator[Row]:
    for at in range(0, len(lines), 2):
        cells = [cell for line in lines[at : at + 2] for cell in _half(line)]
        yield Row((*cells, *[""] * (len(_PAIRS) - len(cells))))


def _half(line: ReadingLine) -> tuple[str, ...]:
    """Number, entry, what is expected, a blank with the last reading below it, a box."""
    read = f"{_BLANK} {line.before}".strip()
    return line.number, line.entry, line.expected, read, _BOX


def _head(step: ReadingStep) -> str:
    """What to do; and what is written behind each line, where that is long."""
    return f"{step.do}. Behind each: `{step.behind}`" if step.behind else step.do


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The readings as rows for a spreadsheet."""
    return readings_table(
        job.study, sheet_stages(job.study), wanted_since(job.study, job.wish.since)
    )
