"""Findings: what was found and what was taken for granted, in full.

Every danger and fault before anything else, each with what to do; then what cannot be judged,
advice, and what was assumed. It never says that a rig is safe: the most that it says is that there
are no findings under a rule book.
"""

from collections.abc import Iterable, Iterator

from rigfolio import wording
from rigfolio.draw import (
    FLOOR_PT,
    Box,
    Column,
    Kind,
    Mark,
    Page,
    Pen,
    Row,
    Style,
    Table,
    Text,
    block,
    body,
    flat,
    flow_close,
    numbered,
    prose,
    rect,
)
from rigfolio.findings import Finding, Label, Severity
from rigfolio.job import Job
from rigfolio.judgement import places_of
from rigfolio.reports import DEFERS, HANDS, PAPER_DIFFERS, SLIPPED
from rigfolio.sheet import Sheet
from rigfolio.units import show

SHEET = Sheet("Findings", "findings", binder="to-file", bound=10, beside=True)

_HEAD_MM = 25.0
_LINE_MM, _LINES = 4.2, 6.8
_VERDICT_MM = 11.0
_RULE = Pen(0.5)
_COLUMNS = (
    Column("severity", 20, bold=True),
    Column("where", 50),
    Column("what was found", 48),
    Column("what to do", 42),
    Column("rule and source", 48),
)
_GRAVE = (Severity.ERROR, Severity.DANGER, Severity.FAULT)
_UNTRIED = "not tried for this print: `rigfolio check --fix` tries it"
_CAUTIONS = (
    f"{DEFERS} This folio shows what the text says and what its rule book makes of it; what the "
    "text leaves out was not judged.",
    f"{SLIPPED} {HANDS} Open the disconnect, then measure, before any wire is touched.",
    f"Every drawing and label is only as good as the survey behind it. {PAPER_DIFFERS}",
)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the findings need."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    head_mm = _HEAD_MM + _LINE_MM * _LINES + _VERDICT_MM + 4
    bodies = list(flow_close(tuple(_tables(job)), area, taken_mm=head_mm))
    here = _grave_here(bodies[0])
    more = len(_graves(job)) - here
    bodies[0] = (*_head(job, area, _verdict(job, here if more else None)), *bodies[0])
    return numbered(job.paper, SHEET.title, job.strip, bodies)


def _grave_here(marks: Iterable[Mark]) -> int:
    """How many dangers and faults stand on a page: each is called so in a cell of its own."""
    graves = {severity.value.upper() for severity in _GRAVE}
    return sum(isinstance(mark, Text) and mark.text in graves for mark in flat(marks))


def _head(job: Job, area: Box, says: str) -> Iterator[Mark]:
    left, top, wide, _ = area
    rig = job.rig
    name = Style(26, 10, 2, bold=True, align="start", kind=Kind.HEADING)
    yield from block(rig.name, (left, top, wide, 14), name)
    under = "Low-voltage DC wiring: what was found, and what was taken for granted"
    yield from block(under, (left, top + 14, wide, 6), Style(11, 7, align="start"))
    fields = (
        f"system {show(rig.system_v, 'V')}",
        job.strip[1],
        f"rule book {rig.book}: {job.study.book.title}",
        f"code of the text {rig.digest or 'none'}, which changes with every letter of it",
        _parts(job),
        rig.note,
    )
    down = top + _HEAD_MM
    for number, field in enumerate(fields):
        box = (left, down + number * _LINE_MM, wide, _LINE_MM)
        yield from block(field, box, Style(9, FLOOR_PT, align="start"))
    verdict = (left, down + _LINES * _LINE_MM, wide, _VERDICT_MM)
    yield rect(*verdict, pen=_RULE)
    box = (left + 2, verdict[1] + 1, wide - 4, _VERDICT_MM - 2)
    yield from block(says, box, Style(11, 7, 2, bold=True))


def _parts(job: Job) -> str:
    rig = job.rig
    counts = ((rig.panels, "panel"), (rig.circuits, "circuit"), (rig.conductors, "wire"))
    return ", ".join(
        f"{len(things)} {word}{'' if len(things) == 1 else 's'}" for things, word in counts
    )


def _verdict(job: Job, here: int | None) -> str:
    """What was found; `here` counts the dangers and faults on this page if others follow."""
    book = job.rig.book
    grave = any(each.severity in _GRAVE for each in job.findings)
    if grave:
        first = "Dangers and faults come first"
        if here is not None:
            more = len(_graves(job)) - here
            first = f"{first}: {here} on this page, {more} more on the pages that follow"
        return f"{wording.verdict_words(book, job.findings)} {first}."
    unknown = sum(each.severity is Severity.UNKNOWN for each in job.findings)
    if unknown:
        rest = "no danger or fault found in the rest"
        return f"{_things(unknown)} cannot be judged under rule book {book}; {rest}"
    return wording.verdict_words(book, job.findings).removesuffix(".")


def _tables(job: Job) -> Iterator[Table]:
    found = job.findings
    grave = tuple(_row(job, each) for each in _graves(job))
    unknown = [each for each in found if each.severity is Severity.UNKNOWN]
    advice = [each for each in found if each.severity is Severity.ADVICE]
    if grave:
        yield Table(_COLUMNS, grave, _grave_title(grave))
    if unknown:
        title = f"{_things(len(unknown))} cannot be judged"
        yield Table(_COLUMNS, tuple(_row(job, each) for each in unknown), title)
    if advice:
        yield Table(_COLUMNS, tuple(_row(job, each) for each in advice), f"Advice: {len(advice)}")
    yield prose("Cautions", *_CAUTIONS)
    if job.rig.assumptions:
        title = f"Taken for granted: {len(job.rig.assumptions)}"
        yield prose(title, *_assumptions(job))


def _graves(job: Job) -> list[Finding]:
    """Errors, dangers and faults."""
    return [each for each in job.findings if each.severity in _GRAVE]


def _grave_title(rows: tuple[Row, ...]) -> str:
    return f"Dangers and faults: {len(rows)}"


def _assumptions(job: Job) -> Iterator[str]:
    """What was assumed; the circuits of which the same is assumed in one line."""
    places = sorted((circuit.place for circuit in job.rig.circuits), key=len, reverse=True)
    alike: dict[str, list[str]] = {}
    for assumption in job.rig.assumptions:
        words = assumption.text
        place = next((one for one in places if words.startswith(f"{one} ")), "")
        name = place or words.partition(" ")[0]
        alike.setdefault(words.removeprefix(name).strip(), []).append(name)
    for rest, names in alike.items():
        if len(names) == 1:
            yield f"{names[0]} {rest}"
        else:
            yield f"{', '.join(name.rstrip(':') for name in names)}: each {rest}"


def _things(number: int) -> str:
    return "1 thing" if number == 1 else f"{number} things"


def _row(job: Job, finding: Finding) -> Row:
    labels = (finding.at, *(label for label in finding.others if label.text))
    places = [_place(job, label) for label in labels]
    source = f"{finding.rule}; {finding.source}" if finding.source else finding.rule
    return Row(
        (
            finding.severity.value.upper(),
            "; ".join(dict.fromkeys(place for place in places if place)),
            wording.on_paper(finding.headline),
            wording.on_paper(_way_out(finding)),
            source,
        ),
        ruled=True,
    )


def _way_out(finding: Finding) -> str:
    """What serves; before it why the finding is left, where the text accepts it."""
    way = finding.way_out or (_UNTRIED if finding.is_untried else "none offered")
    return f"ACCEPTED: {finding.accepted}. {way}" if finding.accepted else way


def _place(job: Job, label: Label) -> str:
    # Never the path of the file: the same text gives the same page on any machine.
    part = places_of(job.study).at(label.span) or "the text as a whole"
    return f"{part}: {wording.on_paper(label.text)}" if label.text else part
