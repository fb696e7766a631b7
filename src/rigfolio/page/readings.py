"""The test sheet of the page: the points of the short test, with what may be typed at each."""

from collections import Counter
from collections.abc import Iterator
from hashlib import sha256
from math import inf

from rigfolio.job import Job
from rigfolio.lang import BLANK_UNITS, OPEN, spellings
from rigfolio.operating import (
    MeterPoint,
    bounds_words,
    is_small,
    judged_bounds,
)
from rigfolio.page.content import (
    BlankShown,
    PointShown,
    ReadingsShown,
    StageShown,
    StepShown,
    UnitSpelling,
)
from rigfolio.reports import FIRST, HANDS
from rigfolio.swap import (
    ReadingLine,
    ReadingStage,
    how_to_read,
    off_remarks,
    reading_stages,
    readings_rest_on,
    sheet_stages,
)


def readings_of(job: Job) -> ReadingsShown:
    """The points of the short test sheet, numbered as it numbers them."""
    stages = sheet_stages(job.study)
    seen: Counter[str] = Counter()
    made = []
    lines_of = reading_stages(job.study, stages, job.log)
    for told, stage in zip(lines_of, stages, strict=True):
        steps = []
        for lines, step in zip(told.steps, stage.steps, strict=True):
            points = tuple(
                _point(told, line, point, seen)
                for line, point in zip(lines.lines, step.points, strict=True)
            )
            steps.append(StepShown(lines.do, lines.behind, step.circuit, points))
        made.append(StageShown(told.title, told.about, tuple(steps)))
    how = (
        f"{HANDS} {FIRST}",
        how_to_read(job.rig),
        *readings_rest_on(job.study),
        *off_remarks(lines_of),
    )
    return ReadingsShown(how, tuple(map(_blank, BLANK_UNITS)), tuple(made))


def _point(
    stage: ReadingStage, line: ReadingLine, point: MeterPoint, seen: Counter[str]
) -> PointShown:
    low, high = judged_bounds(point)
    written = f"{stage.title.partition('. ')[2]}: {point.written()}"
    seen[written] += 1
    return PointShown(
        _key(f"{written} ({seen[written]})"),
        line.number,
        line.where,
        point.unit,
        low,
        None if high == inf else high,
        bounds_words(point),
        point.entry,
        point.taken,
        line.before,
        is_small(point),
    )


def _key(words: str) -> str:
    """Twelve letters that stand for a point as long as the text says the same of it."""
    return sha256(words.encode(errors="replace")).hexdigest()[:12]


def _blank(unit: str) -> BlankShown:
    return BlankShown(unit, tuple(_spellings(unit)), OPEN if unit == "ohm" else ())


def _spellings(unit: str) -> Iterator[UnitSpelling]:
    for written, one in spellings(unit).items():
        yield UnitSpelling(written, one.symbol, one.factor, one.is_word)
