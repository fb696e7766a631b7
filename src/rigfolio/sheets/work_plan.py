"""Work plan: from a panel that is live and wrong to one that is live and right, step by step."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, repeat, zip_longest

from rigfolio.draw import (
    Column,
    Page,
    Row,
    Table,
    body,
    flow_close,
    flow_on,
    numbered,
    pieces,
    prose,
)
from rigfolio.job import Job
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.swap import CAUTIONS, Task, WorkPart, work, work_elsewhere, work_in_hand, work_since
from rigfolio.wording import states_no

SHEET = Sheet("Work plan", "work-plan", command="workplan", bound=60, beside=True)

_COLUMNS = (Column("", 5, bold=True), Column("", 58), Column("", 33), Column("", 4))
_LISTED = (Column("", 6, bold=True), Column("", 41), Column("", 3))
_LISTED_PT = 7.0
_MANY = (2, 3)
"""How many short tasks stand beside each other."""
_FEW = 2
"""Tasks that are no list yet, and stand below each other in the type of the rest."""
_CLEARLY = 0.93
"""Share of the height that must not be exceeded to be worth more, narrower columns."""
_ENDLESS_MM = 1e5
_MOST_DO, _MOST_SEE = 500, 280
"""Letters that twelve lines of a cell hold, however wide they are."""
_BOX = "☐"
_HOW = (
    "In this order; tick each step when it is done. Stop where something is not as it says here: "
    "find out why before you go on."
)

_AGAIN = ("The cautions above hold here too.",)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the panels need, one panel behind the other."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    tables = [table for tables in _by_panel(job, area[2]) for table in tables]
    bodies = flow_close(tables, area)
    return numbered(
        job.paper, SHEET.title, job.strip, bodies, note="Done on, by: ______________________"
    )


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first what is marked and moved, for how power goes off takes longer."""
    study, names = job.study, [panel.about.name for panel in job.rig.panels]
    yield SheetPart(_told_of(work_elsewhere(study, job.wish.only, job.findings)))
    for panel in job.rig.panels:
        in_hand = work_in_hand(study, panel.about.name)
        yield SheetPart((str(panel.about), _told_of(part for part in in_hand if part.tasks)))
    for name in names:
        is_first = name == names[0]
        is_last = name == names[-1]
        parts = work(study, name, hands_over=is_last, is_first=is_first, tried=job.findings)
        yield SheetPart(_told_of(parts))


def _told_of(parts: Iterable[WorkPart]) -> tuple[object, ...]:
    """What is printed of parts of the work."""
    return tuple(
        (part.title, part.about, part.is_list, tuple((task.do, task.see) for task in part.tasks))
        for part in parts
    )


def _by_panel(job: Job, wide_mm: float) -> Iterator[list[Table]]:
    if job.wish.since is not None:
        yield [
            prose(f"Work at {job.rig.name}: what changed", *CAUTIONS, _HOW),
            *_tables(work_since(job.study, job.wish.since, job.findings), wide_mm),
        ]
        return
    panels = [
        panel
        for panel in job.rig.panels
        if job.wants(panel.about.name)
        or any(job.wants(c.place) for c in job.rig.circuits if c.panel == panel.about.name)
    ]
    outside = work_elsewhere(job.study, job.wish.only, job.findings)
    if outside:
        title = "Work outside panels" if panels else f"Work at {job.rig.name}"
        yield [prose(title, *CAUTIONS, _HOW), *_tables(outside, wide_mm)]
    for number, panel in enumerate(panels, start=1 if outside else 0):
        cautions = (*CAUTIONS, _HOW) if number == 0 else ()
        yield [
            prose(f"Work at {panel.about}", *cautions, *(_AGAIN if number else ())),
            *_tables(
                work(
                    job.study,
                    panel.about.name,
                    hands_over=panel is panels[-1],
                    is_first=not number,
                    tried=job.findings,
                ),
                wide_mm,
            ),
        ]
    if not panels and not outside:
        yield [prose("", *CAUTIONS, states_no("panel", so="there is no plan to be made yet"))]


def _tables(parts: tuple[WorkPart, ...], wide_mm: float) -> Iterator[Table]:
    for number, part in enumerate(parts, start=1):
        if part.is_list and len(part.tasks) > _FEW:
            yield _lower(*(_columned(part, number, many) for many in _MANY), wide_mm=wide_mm)
        else:
            rows = (*_about(part.about), *_single(part, number))
            yield Table(_COLUMNS, rows, _title(part, number), pad_mm=0.6)


def _lower(wide: Table, narrow: Table, *, wide_mm: float) -> Table:
    """A list in fewer columns, or in more where that makes it clearly lower."""
    area = (0.0, 0.0, wide_mm, _ENDLESS_MM)
    highs = [flow_on([table], area)[1] for table in (wide, narrow)]
    return narrow if highs[1] < _CLEARLY * highs[0] else wide


def _title(part: WorkPart, number: int) -> str:
    return f"{number}. {part.title}"


def _about(told: Iterable[str]) -> Iterator[Row]:
    for each in told:
        yield from (Row((words,)) for words in pieces(each))


def _single(part: WorkPart, number: int) -> Iterator[Row]:
    for place, task in enumerate(part.tasks, start=1):
        numbers = chain((f"{number}.{place}",), repeat(""))
        told = zip_longest(
            pieces(task.do, _MOST_DO), pieces(task.see, _MOST_SEE), (_BOX,), fillvalue=""
        )
        yield from (Row((head, *cells)) for head, cells in zip(numbers, told, strict=False))


def _columned(part: WorkPart, number: int, many: int) -> Table:
    """Several tasks a row, counted down the columns; what most of them see is told once above."""
    usual = _usual(part.tasks)
    about = (*part.about, *([f"Where nothing else is named: {usual}."] if usual else ()))
    cells = [
        (f"{number}.{place}", _told(task, usual), _BOX)
        for place, task in enumerate(part.tasks, start=1)
    ]
    high = -(-len(cells) // many)
    columns = [cells[at : at + high] for at in range(0, len(cells), high)]
    columns += [[]] * (many - len(columns))
    rows = (
        Row(tuple(cell for told in row for cell in told))
        for row in zip_longest(*columns, fillvalue=("", "", ""))
    )
    return Table(_LISTED * many, (*_about(about), *rows), _title(part, number), _LISTED_PT, 0.4)


def _usual(tasks: Sequence[Task]) -> str:
    """What is to be seen at most of some tasks; nothing where one of them says nothing."""
    seen = Counter(task.see for task in tasks)
    usual, times = seen.most_common(1)[0]
    return usual if times > 1 and not seen[""] else ""


def _told(task: Task, usual: str) -> str:
    """What is to be done, and behind it what is to be seen unless that is told above."""
    return "; ".join(word for word in (task.do, task.see) if word and word != usual)
