"""Work plan: from a panel that is live and wrong to one that is live and right, step by step."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import zip_longest

from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.sheet import Sheet
from rigfolio.swap import CAUTIONS, Task, WorkPart, work, work_since

SHEET = Sheet("Work plan", "work-plan", command="workplan", bound=60, beside=True)

_COLUMNS = (Column("", 5, bold=True), Column("", 58), Column("", 33), Column("", 4))
_LISTED = (Column("", 6, bold=True), Column("", 41), Column("", 3))
_LISTED_PT, _CLOSE_PT, _SHORT = 7.0, 7.0, 44
"""Letters of tasks of which three stand beside each other; of longer ones two do."""
_BOX = "☐"
_HOW = (
    "In this order; tick each step when it is done. Stop where something is not as it says here: "
    "find out why before you go on."
)

_AGAIN = ("The cautions above hold here too.",)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the panels need, one panel behind the other."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    tables = [table for tables in _by_panel(job) for table in tables]
    bodies = flow(tables, area)
    closer = flow([_closer(table) for table in tables], area)
    bodies = closer if len(closer) < len(bodies) else bodies
    return numbered(
        job.paper, SHEET.title, job.strip, bodies, note="Done on, by: ______________________"
    )


def _closer(table: Table) -> Table:
    """A table in a little less room, where that saves a page."""
    return replace(table, size_pt=min(table.size_pt, _CLOSE_PT), pad_mm=min(table.pad_mm, 0.35))


def _by_panel(job: Job) -> Iterator[list[Table]]:
    if job.wish.since is not None:
        yield [
            prose(f"Work at {job.rig.name}: what changed", *CAUTIONS, _HOW),
            *_tables(work_since(job.study, job.wish.since)),
        ]
        return
    panels = [
        panel
        for panel in job.rig.panels
        if job.wants(panel.about.name)
        or any(job.wants(c.place) for c in job.rig.circuits if c.panel == panel.about.name)
    ]
    for number, panel in enumerate(panels):
        cautions = (*CAUTIONS, _HOW) if number == 0 else ()
        yield [
            prose(f"Work at {panel.about}", *cautions, *(_AGAIN if number else ())),
            *_tables(work(job.study, panel.about.name, hands_over=panel is panels[-1])),
        ]
    if not panels:
        yield [prose("", *CAUTIONS, "This rig states no panel: there is no plan to be made yet.")]


def _tables(parts: tuple[WorkPart, ...]) -> Iterator[Table]:
    for number, part in enumerate(parts, start=1):
        title = f"{number}. {part.title}"
        rows = [Row((words,)) for told in part.about for words in pieces(told)]
        if part.is_list:
            many = 3 if all(len(_told(task)) <= _SHORT for task in part.tasks) else 2
            rows += _listed(part, number, many)
            yield Table(_LISTED * many, tuple(rows), title, _LISTED_PT, 0.4)
        else:
            rows += _single(part, number)
            yield Table(_COLUMNS, tuple(rows), title, pad_mm=0.6)


def _single(part: WorkPart, number: int) -> Iterator[Row]:
    for place, task in enumerate(part.tasks, start=1):
        yield Row((f"{number}.{place}", task.do, task.see, _BOX))


def _listed(part: WorkPart, number: int, many: int) -> Iterator[Row]:
    """Several tasks a row, counted down the columns."""
    cells = [
        (f"{number}.{place}", _told(task), _BOX) for place, task in enumerate(part.tasks, start=1)
    ]
    rows = -(-len(cells) // many)
    columns = [cells[at : at + rows] for at in range(0, len(cells), rows)]
    columns += [[]] * (many - len(columns))
    for row in zip_longest(*columns, fillvalue=("", "", "")):
        yield Row(tuple(cell for part in row for cell in part))


def _told(task: Task) -> str:
    """What is to be done, and behind it what is to be seen."""
    return "; ".join(word for word in (task.do, task.see) if word)
