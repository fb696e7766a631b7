"""The circuit diagram of a rig: sources at the left, panels, circuits in rows, negative bars."""

from rigfolio.draw.frame import body, framed
from rigfolio.draw.page import PAPERS, Group, Page, shift
from rigfolio.study.job import Job

TITLE = "Schematic"
NOTE = "Lengths one way. Colours never tell polarity: read + and −."
_USUAL = 2
"""Sizes of a family that an office printer takes; what is larger goes on a roll, cut to length."""
_FAMILIES = (("letter", "tabloid", "ansi-c", "ansi-d"), ("a4", "a3", "a2", "a1"))


def pages(job: Job) -> tuple[Page, ...]:
    """The diagram on one framed page.

    The diagram is never made smaller, so that its words can be read at the panel: the paper that
    the rig asks for is taken if it holds the diagram, then the next larger one of its family; else
    the page is as large as the diagram, and its note names the paper to print it on.
    """
    bare = drawing(job)
    wide, high, more = _paper(job, bare)
    left, top, room_mm, depth_mm = body(wide, high)
    dx = left + max(0.0, (room_mm - bare.width_mm) / 2)
    dy = top + max(0.0, (depth_mm - bare.height_mm) / 2)
    group = Group("schematic", f"Schematic of {job.rig.name}", shift(bare.marks, dx, dy))
    return (framed(wide, high, TITLE, job.strip, (group,), note=f"{more}{NOTE}"),)


def drawing(job: Job) -> Page:
    """The bare diagram at its natural size."""
    from rigfolio.study.scheme_plan import drawing_of

    made = drawing_of(job)
    return Page(made.width_mm, made.height_mm, made.marks, TITLE)


def _paper(job: Job, bare: Page) -> tuple[float, float, str]:
    """Width and height of the page, and what to say of a page of no usual size."""
    family = next(names for names in _FAMILIES if job.rig.paper in names)
    names = family[family.index(job.rig.paper) :]
    for name in names[:_USUAL]:
        wide, high = PAPERS[name].height_mm, PAPERS[name].width_mm
        _, _, room_mm, depth_mm = body(wide, high)
        if bare.width_mm <= room_mm and bare.height_mm <= depth_mm:
            return wide, high, ""
    _, _, room_mm, depth_mm = body(1000.0, 1000.0)
    least = PAPERS[names[:_USUAL][-1]]
    wide = max(least.height_mm, bare.width_mm + 1000.0 - room_mm)
    high = max(least.width_mm, bare.height_mm + 1000.0 - depth_mm)
    holds = (
        name for name in names if wide <= PAPERS[name].height_mm and high <= PAPERS[name].width_mm
    )
    sheet = next(holds, f"{wide:.0f} x {high:.0f} mm")
    return wide, high, f"Print at full size, paper {sheet} or larger. "
