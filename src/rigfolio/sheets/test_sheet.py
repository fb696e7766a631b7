"""Test sheet: what the meter should show at every test point while a panel goes live.

One line for each reading, with what is expected, a blank for what was read and a box to tick. Stop
at the first line that does not fit, and find out why before the next one.
"""

from collections.abc import Iterator
from math import inf

from rigfolio.books import figure
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.model import Reading
from rigfolio.operating import MeterPoint, Stage, bounds_words, numbered_points, stages
from rigfolio.reports import HANDS
from rigfolio.sheet import Sheet
from rigfolio.units import show

SHEET = Sheet(
    "Test sheet",
    "test-sheet",
    command="testsheet",
    bound=70,
    beside=True,
    shows_the_log=True,
)

_COLUMNS = (
    Column("no", 7, bold=True),
    Column("probes, red to black", 43),
    Column("expected", 21, bold=True),
    Column("read", 16),
    Column("fits", 7),
    Column("before", 14),
)
_BLANK = "……………"
_BOX = "☐"
_LONE = 200
"""Letters that go into one cell together with the probes; what is longer has a row of its own."""
_CAUTION = (
    f"{HANDS} Try the meter on something live before and after you prove a panel dead. Stop at the "
    "first reading that does not fit."
)
_HOW = (
    "Expected figures are worked out from the text for a rested battery, half full to full: "
    "chargers, sun, engine and tow vehicle stay off until all is read. Their bounds leave room for "
    "loads that draw {load:.0f} % more or less than stated, and for the meter, {meter:g} % and "
    "{volt:.0f} mV. Currents are read with a clamp for direct current, or with the meter in the "
    "place of the fuse as far as its own fuse allows; millivolts with the load on, probes on bare "
    "metal. `rigfolio log` keeps what you read, `rigfolio diagnose` says what a reading that does "
    "not fit points at."
)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the readings need."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(job), area)
    return numbered(
        job.paper,
        SHEET.title,
        job.strip,
        bodies,
        note="Date, name and meter: ______________________",
    )


def _tables(job: Job) -> Iterator[Table]:
    yield prose("", _CAUTION)
    yield prose(
        "",
        _HOW.format(
            load=figure("spread", "load_share") * 100.0,
            meter=figure("meter", "share") * 100.0,
            volt=figure("meter", "volt") * 1000.0,
        ),
    )
    found = stages(job.study)
    if not found:
        yield prose("", "This rig states no panel and no circuit: there is nothing to be read yet.")
    for number, stage in enumerate(found, start=1):
        rows = (Row((stage.about,)), *_rows(job, stage, number))
        yield Table(_COLUMNS, rows, f"{number}. {stage.title}")


def _rows(job: Job, stage: Stage, number: int) -> Iterator[Row]:
    place = 0
    for step in stage.steps:
        must_not = f"; must not start: {step.must_not}" if step.must_not else ""
        lone = len(step.points) == 1 and len(step.do + must_not) <= _LONE
        if not lone:
            yield from (Row((words,), bold=True) for words in pieces(f"{step.do}{must_not}"))
        for point in step.points:
            place += 1
            words = f"{step.do}: {point.words}{must_not}" if lone else point.words
            yield Row(
                (f"{number}.{place}", words, bounds_words(point), _BLANK, _BOX, _last(job, point))
            )


def _last(job: Job, point: MeterPoint) -> str:
    """The last reading of the log that was taken there, with its day."""
    readings = [one for one in job.log.readings if _is_there(one, point)]
    if not readings:
        return ""
    last = readings[-1]
    shown = "open" if last.value == inf else show(last.value, point.unit)
    return f"{shown}, {last.date}".strip(", ")


def _is_there(reading: Reading, point: MeterPoint) -> bool:
    units = {"voltage": "V", "current": "A", "resistance": "ohm"}
    if units.get(reading.measure) != point.unit:
        return False
    if point.unit == "A":
        return reading.part == point.a
    return reading.a == point.a and reading.b in (point.b, "")


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The readings as rows for a spreadsheet, headings first; numbers in the unit beside them."""
    heads = (
        "no", "stage", "do", "probes", "unit", "least", "most", "read", "write down as",
        "must not start",
    )  # fmt: skip
    rows = [
        (
            number, stage.title, step.do, point.words, point.unit, f"{point.low:.4g}",
            "" if point.high == inf else f"{point.high:.4g}", "", point.entry.strip(),
            step.must_not,
        )
        for number, stage, step, point in numbered_points(stages(job.study))
    ]  # fmt: skip
    return (heads, *rows)
