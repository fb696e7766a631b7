"""Cover: the first page of the folio.

Which rig, which revision of its text and which rule book; every danger and fault in full before
anything else; then what cannot be judged, what was assumed, and the cautions. It never says that
a rig is safe: the most that it says is that there are no findings under a rule book.
"""

from collections.abc import Iterator

from rigfolio import wording
from rigfolio.draw import (
    FLOOR_PT,
    Box,
    Column,
    Group,
    Kind,
    Mark,
    Page,
    Pen,
    Row,
    Style,
    Table,
    block,
    body,
    flow,
    numbered,
    prose,
    rect,
)
from rigfolio.findings import Finding, Label, Severity
from rigfolio.job import Job
from rigfolio.reports import DEFERS, HANDS, SLIPPED
from rigfolio.sheet import Sheet
from rigfolio.units import show

SHEET = Sheet("Cover", "cover")

_HEAD_MM = 25.0
_LINE_MM = 4.2
_VERDICT_MM = 11.0
_RULE = Pen(0.5)
_COLUMNS = (
    Column("severity", 20, bold=True),
    Column("what was found", 48),
    Column("where", 50),
    Column("way out", 42),
    Column("rule and source", 48),
)
_GRAVE = (Severity.ERROR, Severity.DANGER, Severity.FAULT)
_CAUTIONS = (
    f"{DEFERS} This folio shows what the text says and what its rule book makes of it; what the "
    "text leaves out was not judged.",
    f"{SLIPPED} {HANDS} Open the disconnect, then measure, before any wire is touched.",
    "Every drawing and label is only as good as the survey behind it. When something at the panel "
    "differs from the paper, the paper is wrong until it has been surveyed again.",
)


def pages(job: Job, contents: tuple[tuple[str, int], ...] = ()) -> tuple[Page, ...]:
    """The cover and as many pages more as the findings need.

    Parameters
    ----------
    job : Job
        The rig and what was found.
    contents : tuple of (str, int)
        Title of each sheet of the folio and the page that it begins on.
    """
    area = body(job.paper.width_mm, job.paper.height_mm)
    head_mm = _HEAD_MM + _LINE_MM * _lines(contents) + _VERDICT_MM + 4
    bodies = list(flow(_tables(job), area, taken_mm=head_mm, tightens=False))
    here = _grave_here(job, area, head_mm) if len(bodies) > 1 else None
    bodies[0] = (*_head(job, area, contents, _verdict(job, here)), *bodies[0])
    return numbered(job.paper, SHEET.title, job.strip, bodies)


def _grave_here(job: Job, area: Box, head_mm: float) -> int | None:
    """How many dangers and faults the first page holds; None where it holds them all."""
    rows = tuple(_row(job, each) for each in _graves(job))
    least, most = 0, len(rows)
    while least < most:
        middle = (least + most + 1) // 2
        table = Table(_COLUMNS, rows[:middle], _grave_title(rows))
        if len(flow([table], area, taken_mm=head_mm, tightens=False)) == 1:
            least = middle
        else:
            most = middle - 1
    return least if least < len(rows) else None


def _head(job: Job, area: Box, contents: tuple[tuple[str, int], ...], says: str) -> Iterator[Mark]:
    left, top, wide, _ = area
    rig = job.rig
    name = Style(26, 10, 2, bold=True, align="start", kind=Kind.HEADING)
    yield from block(rig.name, (left, top, wide, 14), name)
    under = "Low-voltage DC wiring: findings, drawings, labels and tags"
    yield from block(under, (left, top + 14, wide, 6), Style(11, 7, align="start"))
    fields = (
        f"system {show(rig.system_v, 'V')}",
        job.strip[1],
        f"rule book {rig.book}: {job.study.book.title}",
        f"digest of the text {rig.digest or 'none'}",
        _parts(job),
        rig.note,
    )
    down, half = top + _HEAD_MM, 0.42 * wide
    for number, field in enumerate(fields):
        box = (left, down + number * _LINE_MM, half - 4, _LINE_MM)
        yield from block(field, box, Style(9, FLOOR_PT, align="start"))
    yield from _contents(contents, (left + half, down, wide - half, _LINE_MM))
    verdict = (left, down + _lines(contents) * _LINE_MM, wide, _VERDICT_MM)
    yield rect(*verdict, pen=_RULE)
    box = (left + 2, verdict[1] + 1, wide - 4, _VERDICT_MM - 2)
    yield from block(says, box, Style(11, 7, 2, bold=True))


def _lines(contents: tuple[tuple[str, int], ...]) -> float:
    """Height of the fields and the contents, in lines, with some air below."""
    return max(6, (len(contents) + 1) // 2 + 1) + 0.8


def _parts(job: Job) -> str:
    rig = job.rig
    counts = ((rig.panels, "panel"), (rig.circuits, "circuit"), (rig.conductors, "wire"))
    return ", ".join(
        f"{len(things)} {word}{'' if len(things) == 1 else 's'}" for things, word in counts
    )


def _contents(contents: tuple[tuple[str, int], ...], box: Box) -> Iterator[Mark]:
    """Sheets and pages in two columns, each line a group that the binder makes a link."""
    left, top, wide, high = box
    if not contents:
        return
    as_heading = Style(9, 7, bold=True, align="start", kind=Kind.HEADING)
    yield from block("Contents", (left, top, wide, high), as_heading)
    rows = (len(contents) + 1) // 2
    for place, (title, page) in enumerate(contents):
        across = left + (place // rows) * wide / 2
        down = top + (place % rows + 1) * high
        room = wide / 2 - 13
        said = block(title, (across, down, room, high), Style(8, FLOOR_PT, align="start"))
        number = block(str(page), (across + room, down, 9, high), Style(8, FLOOR_PT, align="end"))
        yield Group(f"contents-{page}", title, (*said, *number))


def _verdict(job: Job, here: int | None) -> str:
    """What was found; `here` counts the dangers and faults on this page if others follow."""
    book = job.rig.book
    counts = wording.found_words(job.findings)
    grave = any(each.severity in _GRAVE for each in job.findings)
    if grave:
        first = "Dangers and faults come first"
        if here is not None:
            more = len(_graves(job)) - here
            first = f"{first}: {here} on this page, {more} more on the pages that follow"
        return f"Found under rule book {book}: {counts}. {first}."
    unknown = sum(each.severity is Severity.UNKNOWN for each in job.findings)
    if unknown:
        rest = "no danger or fault found in the rest"
        return f"{_things(unknown)} cannot be judged under rule book {book}; {rest}"
    if counts:
        return f"Found under rule book {book}: {counts}"
    return f"no findings under rule book {book}"


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
    """Errors, dangers and faults, in this order."""
    found = [each for each in job.findings if each.severity in _GRAVE]
    return sorted(found, key=lambda each: _GRAVE.index(each.severity))


def _grave_title(rows: tuple[Row, ...]) -> str:
    return f"Dangers and faults: {len(rows)}"


def _assumptions(job: Job) -> Iterator[str]:
    """What was assumed; the circuits of which the same is assumed in one line."""
    alike: dict[str, list[str]] = {}
    for assumption in job.rig.assumptions:
        name, _, rest = assumption.text.partition(" ")
        alike.setdefault(rest, []).append(name)
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
            finding.headline,
            "; ".join(dict.fromkeys(place for place in places if place)),
            finding.fix.text if finding.fix else "none offered",
            source,
        ),
        ruled=True,
    )


def _place(job: Job, label: Label) -> str:
    # Never the path of the file: the same text gives the same page on any machine.
    part = wording.part_at(job.rig, label.span) or "the text as a whole"
    return f"{part}: {label.text}" if label.text else part
