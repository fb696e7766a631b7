"""All that the page is told of a rig, asked at the homes of the answers."""

from rigfolio.answers import isolate_report, live_report
from rigfolio.job import Job, Taken
from rigfolio.judgement import Result
from rigfolio.labels import mark_words
from rigfolio.page.cards import Cards
from rigfolio.page.content import PanelPhotograph, PhotographMark, RigFacts, RigPage
from rigfolio.page.drawing import diagram_of
from rigfolio.page.faces import faces_of
from rigfolio.page.findings import findings_of
from rigfolio.page.places import Texts
from rigfolio.page.readings import readings_of
from rigfolio.reports import DEAD, DEFERS, HANDS, MEASURE, PAGE_DIFFERS, SLIPPED, Report
from rigfolio.wording import verdict_words, wires_in_order

_SMALL_PX, _QUALITY = 1000, 70
"""A photograph on the page: to tell slots and wires apart, and not to be printed."""


def rig_page(result: Result, job: Job) -> RigPage:
    """What the page is told.

    Parameters
    ----------
    result : Result
        The rig as it was read and judged.
    job : Job
        What its sheets are given: log and photographs too.
    """
    texts = Texts(result.texts, result.file)
    findings = findings_of(result, texts)
    test = readings_of(job)
    cards = Cards(job, texts)
    return RigPage(
        rig_facts(job, result.file),
        verdict_words(job.rig.book, job.findings),
        cautions(),
        findings,
        faces_of(job, texts, findings),
        cards.circuits(test),
        cards.wires(),
        cards.parts(),
        live_report(job.study),
        dead_reports(job),
        test,
        diagram_of(job),
        photographs_of(job),
        markable(job),
    )


def cautions() -> tuple[str, ...]:
    """What is said before all else."""
    return f"{SLIPPED} {HANDS}", MEASURE, f"{DEAD} {PAGE_DIFFERS}", DEFERS


def dead_reports(job: Job) -> tuple[Report, ...]:
    """How each panel is made dead."""
    return tuple(isolate_report(job.study, p.about.name, "panel") for p in job.rig.panels)


def photographs_of(job: Job) -> tuple[PanelPhotograph, ...]:
    """The photographs of a rig that were read, small."""
    return tuple(_photograph(job, taken) for taken in job.pictures)


def rig_facts(job: Job, file: str) -> RigFacts:
    """What is said of the rig as a whole."""
    rig = job.rig
    return RigFacts(
        rig.name, file, rig.system_v, rig.revision, rig.revised, rig.book, job.study.book.title,
        rig.digest,
    )  # fmt: skip


def markable(job: Job) -> tuple[str, ...]:
    """What a mark on a photograph may be set for: the slots of panels, then wires."""
    slots = (
        f"{panel.about.name}.{number}"
        for panel in job.rig.panels
        for number in range(1, panel.slots + 1)
    )
    return (*slots, *(wire.name for wire in wires_in_order(job.rig) if not wire.assumed))


def _photograph(job: Job, taken: Taken) -> PanelPhotograph:
    marks = (
        PhotographMark(one.place, mark_words(job.rig, one), one.x, one.y)
        for one in taken.photo.marks
    )
    jpeg = taken.image.small_jpeg(_SMALL_PX, _QUALITY)
    return PanelPhotograph(taken.photo.file, *taken.image.size, tuple(marks), jpeg)
