"""The readings of a test as lines to be filled in, with how each is written down."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import takewhile
from math import inf

from rigfolio.books import figure
from rigfolio.job import Again
from rigfolio.model import Circuit, Log, Reading, Rig
from rigfolio.operating import (
    MOMENT,
    MeterPoint,
    Stage,
    StageStep,
    bounds_words,
    circuit_step,
    is_small,
    judged_bounds,
    numbered_points,
    set_going_words,
    stages_of,
    untold_ohms,
)
from rigfolio.record import record
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study
from rigfolio.swap.held import NOT_READ, barred, held_back
from rigfolio.swap.retest import Wanted, every_step, readings_remark
from rigfolio.swap.stops import borne_words
from rigfolio.units import show
from rigfolio.wording import found_instead, goes_words, in_a_row

OFF_MARK = "!"
"""Stands before a reading that was not as expected."""
_LONGEST = 48
"""Letters of what is on that each line says by itself; what is longer stands above them once."""


@record
class ReadingLine:
    """One reading: its number, where the probes go, how it is written down, what is expected.

    `before` is the last reading that was kept from there, with its day.
    """

    number: str
    where: str
    entry: str
    expected: str
    before: str


@record
class ReadingStep:
    """Something to be done, and what is read then; `behind` is written behind each of its lines.

    The lines of one that `is_plain` say all that there is to do.
    """

    do: str
    lines: tuple[ReadingLine, ...]
    behind: str = ""
    is_plain: bool = False


@record
class ReadingStage:
    """A stage of a test: its title with its number, what to mind, its steps.

    In one that `is_dead` the place that a line is read at says all that there is to be said.
    """

    title: str
    about: str
    steps: tuple[ReadingStep, ...]
    is_dead: bool = False


def reading_stages(
    study: Study, found: Sequence[Stage], log: Log, wanted: Wanted = every_step
) -> tuple[ReadingStage, ...]:
    """The stages of a test as lines, with the last readings of a log beside them.

    Lines keep their numbers where only some steps are `wanted`.
    """
    made = []
    asked = _asked(found)
    for number, stage in enumerate(found, start=1):
        place, steps = 0, []
        for step in stage.steps:
            must_not = f"; must not start: {step.must_not}" if step.must_not else ""
            behind = _shared([point.taken for point in step.points])
            lines = []
            for point in step.points:
                place += 1
                lines.append(_line(f"{number}.{place}", point, behind, _last(log, point, asked)))
            if wanted(step):
                do = f"{_do(study, step)}{must_not}"
                steps.append(ReadingStep(do, tuple(lines), behind, step.is_plain))
        if not steps:
            continue
        units = [point.unit for step in stage.steps for point in step.points]
        is_dead = bool(units) and set(units) == {"ohm"}
        made.append(ReadingStage(f"{number}. {stage.title}", stage.about, tuple(steps), is_dead))
    return tuple(made)


def readings_remarks(
    study: Study, again: Again | None, found: Sequence[ReadingStage]
) -> Iterator[str]:
    """What stands above the readings of a sheet: which they are, and what they rest on."""
    remark = readings_remark(again, has_any=bool(found))
    yield from filter(None, (remark, *readings_rest_on(study), *off_remarks(found)))


def off_remarks(found: Iterable[ReadingStage]) -> Iterator[str]:
    """What the mark before a last reading means, where there is one."""
    lines = (line for stage in found for step in stage.steps for line in step.lines)
    if any(line.before.startswith(OFF_MARK) for line in lines):
        yield (
            f"{OFF_MARK} before a last reading: it was not as expected. Find out why before the "
            "panel goes live."
        )


def readings_rest_on(study: Study) -> tuple[str, ...]:
    """What is to be known of all readings that are expected."""
    return tuple(filter(None, (found_instead(study.rig), _untold_remark(study))))


def _untold_remark(study: Study) -> str:
    """Why volts under load have no least, and what would tell it; empty where all have one."""
    untold = untold_ohms(study.rig.sources).items()
    names = in_a_row([f"`{name}`" for name, usual in untold if usual is None])
    if not names:
        return ""
    return (
        f"No least but 1 V is given for volts under load where nobody knows what {names} may "
        "have inside: write its capacity, or its `internal`: what its posts lose under a load "
        "over the amperes."
    )


def told_of_circuit(study: Study, circuit: Circuit) -> tuple[str, ...]:
    """What the test sheet says of a circuit.

    By these two versions are compared before all readings are.
    """
    step = circuit_step(study, circuit, barred(study))
    if step is None:
        return ()
    step = held_back(study, step)
    return (_do(study, step), *_told(step))


def told_by_part(study: Study) -> Iterator[tuple[str, ...]]:
    """What all readings say of each fuse, then of each load by itself, in the same way."""
    whole = stages_of(study, barred(study))
    for step in whole.fuse_steps():
        yield (_do(study, step), *_told(step))
    for step in whole.load_steps():
        yield tuple(_told(step))


def _told(step: StageStep) -> Iterator[str]:
    for point in step.points:
        yield from (point.entry, point.taken, bounds_words(point))


def _do(study: Study, step: StageStep) -> str:
    """What is done for a step; a fuse that is too large is put in for none."""
    going = set_going_words(study, [point.on for point in step.points])
    going = going.removesuffix(MOMENT) if MOMENT in step.do else going
    do = f"{step.do}{f'; {going}' if going else ''}{borne_words(study, step)}"
    is_read = True
    for device in step.fits:
        if is_barred(study, device):
            do, is_read = do.replace(goes_words(device), barred_words(study, device), 1), False
    return do if is_read else f"{do}; {NOT_READ}"


def _shared(taken: Sequence[str]) -> str:
    """What is on in all readings of a step, where that is long; empty where each says it itself."""
    letters = takewhile(lambda each: len(set(each)) == 1, zip(*taken, strict=False))
    first = "".join(each[0] for each in letters)
    is_whole = all(one.removeprefix(first)[:1] in ("", ",") for one in taken)
    return first if is_whole and len(taken) > 1 and len(first) > _LONGEST else ""


def _line(number: str, point: MeterPoint, behind: str, before: str) -> ReadingLine:
    entry = f"{point.entry}___ {point.unit}{point.taken.removeprefix(behind)}"
    return ReadingLine(number, point.words, entry, bounds_words(point), before)


_Place = tuple[str, str, str]
_State = tuple[frozenset[str], frozenset[tuple[str, str]], frozenset[str]]


def _asked(found: Sequence[Stage]) -> Mapping[_Place, set[_State]]:
    """In which states each place is to be read."""
    asked: dict[_Place, set[_State]] = {}
    for _, _, _, point in numbered_points(found):
        asked.setdefault(_place(point), set()).add((point.on, point.set_to, point.starting))
    return asked


def _place(point: MeterPoint) -> _Place:
    return point.unit, point.a, point.b


def _last(log: Log, point: MeterPoint, asked: Mapping[_Place, set[_State]]) -> str:
    """The last reading of the log that was taken there in the same state, with its day.

    One that does not say what was on is meant only where one state alone is asked for.
    """
    is_plain = len(asked[_place(point)]) == 1
    readings = [one for one in log.readings if _is_there(one, point, is_plain=is_plain)]
    if not readings:
        return ""
    last = readings[-1]
    shown = "open" if last.value == inf else show(last.value, point.unit)
    return f"{OFF_MARK if is_off(point, last.value) else ''}{shown}, {last.date}".strip(", ")


def is_off(point: MeterPoint, value: float) -> bool:
    """Whether a reading is not as expected there."""
    low, high = judged_bounds(point)
    return not low <= value <= high


def point_of(reading: Reading, found: Sequence[Stage]) -> MeterPoint | None:
    """The point of a test that a reading was taken at, in the state that it asks for."""
    asked = _asked(found)
    points = (point for _, _, _, point in numbered_points(found))
    return next(
        (
            point
            for point in points
            if _is_there(reading, point, is_plain=len(asked[_place(point)]) == 1)
        ),
        None,
    )


def _is_there(reading: Reading, point: MeterPoint, *, is_plain: bool) -> bool:
    units = {"voltage": "V", "current": "A", "resistance": "ohm"}
    if units.get(reading.measure) != point.unit:
        return False
    # Against a minus that is not named go volts of a source, never what a part takes.
    if point.unit == "V" and not reading.b and is_small(point):
        return False
    at = (reading.part,) if point.unit == "A" else (reading.a, reading.b)
    if at not in ((point.a,), (point.a, point.b), (point.a, "")):
        return False
    if point.unit == "ohm" or (is_plain and reading.on is None and not reading.state):
        return True
    is_same = reading.on is not None and frozenset(reading.on) == point.on
    is_same = is_same and frozenset(reading.starting) == point.starting
    return is_same and not reading.state and frozenset(reading.set_to) == point.set_to


def readings_table(
    study: Study, found: Sequence[Stage], wanted: Wanted = every_step
) -> tuple[tuple[str, ...], ...]:
    """The readings as rows for a spreadsheet, headings first; numbers in the unit beside them."""
    return (_HEADS, *_rows(study, found, wanted))


_HEADS = (
    "no", "stage", "do", "probes", "unit", "least", "most", "read", "write down as",
    "must not start",
)  # fmt: skip


def _rows(study: Study, found: Sequence[Stage], wanted: Wanted) -> Iterator[tuple[str, ...]]:
    for number, stage, step, point in numbered_points(found):
        if not wanted(step):
            continue
        most = "" if point.high == inf else f"{point.high:.4g}"
        yield (
            number, stage.title, _do(study, step), point.words, point.unit, f"{point.low:.4g}",
            most, "", point.written(), step.must_not,
        )  # fmt: skip


def how_to_read(rig: Rig) -> str:
    """What has to stand off, and where clamp and probes go, for readings to be as expected."""
    share = show(figure("spread", "load_share"), "%")
    turning = [source.about.name for source in rig.sources if source.traits.runs_away]
    braked = f"{in_a_row(turning)} must not turn: braked until all is read. " if turning else ""
    return (
        "Expected for a rested battery, half full to full: chargers, sun, engine and tow vehicle "
        f"stay off until all is read; loads may draw {share} more or less than stated. "
        f"{braked}"
        "Currents by a clamp for direct current, drops with the load on, probes on bare metal."
    )
