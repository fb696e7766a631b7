"""Work plan: from a panel that is live and wrong to one that is live and right, step by step."""

from collections.abc import Iterator

from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.labels import parted, picture_marks
from rigfolio.sheet import Sheet
from rigfolio.swap import CAUTIONS, WorkPart, work

SHEET = Sheet(
    "Work plan", "work-plan", command="workplan", bound=60, beside=True, shows_pictures=True
)

_COLUMNS = (Column("", 5, bold=True), Column("", 58), Column("", 33), Column("", 4))
_BOX = "☐"
_HOW = (
    "In this order; tick each step when it is done. Stop where something is not as it says here: "
    "find out why before you go on."
)


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the panels need; each panel begins a page."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = [page for tables in _by_panel(job) for page in flow(tables, area)]
    bodies += [
        picture_marks(job.rig, taken, area)
        for whole in job.pictures
        for taken in parted(whole, area[3])
    ]
    return numbered(
        job.paper, SHEET.title, job.strip, bodies, note="Done on, by: ______________________"
    )


def _by_panel(job: Job) -> Iterator[list[Table]]:
    panels = [
        panel
        for panel in job.rig.panels
        if job.wish.since is not None
        or job.wants(panel.about.name)
        or any(job.wants(c.place) for c in job.rig.circuits if c.panel == panel.about.name)
    ]
    for panel in panels:
        yield [
            prose(f"Work at {panel.about}", *CAUTIONS, _HOW),
            *_tables(work(job.study, panel.about.name, job.wish.since)),
        ]
    if not panels:
        yield [prose("", *CAUTIONS, "This rig states no panel: there is no plan to be made yet.")]


def _tables(parts: tuple[WorkPart, ...]) -> Iterator[Table]:
    for number, part in enumerate(parts, start=1):
        title = f"{number}. {part.title}"
        rows = [Row((words,)) for told in part.about for words in pieces(told)]
        rows += [
            Row((f"{number}.{place}", task.do, task.see, _BOX))
            for place, task in enumerate(part.tasks, start=1)
        ]
        yield Table(_COLUMNS, tuple(rows), title, pad_mm=0.8)
