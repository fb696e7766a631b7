"""The circuit diagram of a rig: sources at the left, panels, circuits in rows, negative bars."""

from rigfolio.draw.frame import body, framed
from rigfolio.draw.page import PAPERS, Group, Page, scaled
from rigfolio.study.job import Job

TITLE = "Schematic"
NOTE = "Lengths one way. Colours never tell polarity: read + and −."
SMALLEST_SCALE = 0.7

_LARGER = {"letter": "tabloid", "a4": "a3"}


def pages(job: Job) -> tuple[Page, ...]:
    """The diagram on one framed page.

    The paper that the rig asks for is taken, then the next larger one of its family, as long as
    the diagram is drawn at no less than `SMALLEST_SCALE`; else the page is as large as the diagram
    needs at its natural size.
    """
    bare = drawing(job)
    wide, high, scale = _paper(job, bare)
    left, top, room_mm, depth_mm = body(wide, high)
    dx = left + max(0.0, (room_mm - bare.width_mm * scale) / 2)
    dy = top + max(0.0, (depth_mm - bare.height_mm * scale) / 2)
    marks = scaled(bare.marks, scale, dx, dy)
    group = Group("schematic", f"Schematic of {job.rig.name}", marks)
    note = NOTE if scale == 1.0 else f"{NOTE} Drawn at {scale:.0%}."
    return (framed(wide, high, TITLE, job.strip, (group,), note=note),)


def drawing(job: Job) -> Page:
    """The bare diagram at its natural size."""
    from rigfolio.study.scheme_plan import drawing_of

    made = drawing_of(job)
    return Page(made.width_mm, made.height_mm, made.marks, TITLE)


def _paper(job: Job, bare: Page) -> tuple[float, float, float]:
    """Width and height of the page, and the scale of the diagram on it."""
    names = [job.rig.paper, *([_LARGER[job.rig.paper]] if job.rig.paper in _LARGER else [])]
    for name in names:
        paper = PAPERS[name]
        wide, high = paper.height_mm, paper.width_mm
        _, _, room_mm, depth_mm = body(wide, high)
        scale = min(1.0, room_mm / bare.width_mm, depth_mm / bare.height_mm)
        if scale >= SMALLEST_SCALE:
            return wide, high, scale
    _, _, room_mm, depth_mm = body(1000.0, 1000.0)
    wide = max(PAPERS[names[-1]].height_mm, bare.width_mm + 1000.0 - room_mm)
    high = max(PAPERS[names[-1]].width_mm, bare.height_mm + 1000.0 - depth_mm)
    return wide, high, 1.0
