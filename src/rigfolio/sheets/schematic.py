"""The circuit diagram of a rig: sources and feeders, then each panel with its circuits in rows."""

from rigfolio.draw import Group, Page, body, framed, shift
from rigfolio.job import Job
from rigfolio.schematic import Drawing
from rigfolio.sheet import Sheet

SHEET = Sheet("Schematic", "schematic", command="draw", bound=10, beside=True, is_drawing=True)
NOTE = "Lengths one way. Colours never tell polarity: read + and −."
_WIDEST_MM = 1000.0


def pages(job: Job) -> tuple[Page, ...]:
    """The diagram on framed pages of the rig's paper, upright or on its side.

    The diagram is never made smaller, so that its words can be read at the panel. What does not
    fit one page goes on upon others: first sources and feeders, then the panels. Only a page that
    cannot be divided is larger than the paper; its note says so.
    """
    from rigfolio.schematic import sheets_of

    sheets = sheets_of(job, lambda made: _size(job, made) is not None)
    return tuple(
        _page(job, sheet.drawing, sheet.title, (number, len(sheets)))
        for number, sheet in enumerate(sheets, start=1)
    )


def drawing(job: Job) -> Page:
    """The bare diagram in one piece at its natural size."""
    from rigfolio.schematic import drawing_of

    made = drawing_of(job)
    return Page(made.width_mm, made.height_mm, made.marks, SHEET.title)


def _page(job: Job, made: Drawing, shows: str, place: tuple[int, int]) -> Page:
    size = _size(job, made)
    wide, high = size or _least(job, made)
    more = "" if size else f"Print at full size on paper of {wide:.0f} x {high:.0f} mm. "
    left, top, room_mm, depth_mm = body(wide, high)
    dx = left + max(0.0, (room_mm - made.width_mm) / 2)
    dy = top + max(0.0, (depth_mm - made.height_mm) / 2)
    number, count = place
    about = f"Schematic of {job.rig.name}" + (f": {shows}" if shows else "")
    ident = "schematic" if number == 1 else f"schematic-{number}"
    group = Group(ident, about, shift(made.marks, dx, dy))
    title = f"{SHEET.title}: {shows}" if shows else SHEET.title
    return framed(wide, high, title, job.strip, (group,), note=f"{more}{NOTE}",
                  page=f"{number} of {count}",
                  name=SHEET.title if number == 1 else f"{SHEET.title} {number}")  # fmt: skip


def _size(job: Job, made: Drawing) -> tuple[float, float] | None:
    """Width and height of the paper as it lies under a drawing; None where it is too small."""
    paper = job.paper
    for wide, high in (
        (paper.height_mm, paper.width_mm), (paper.width_mm, paper.height_mm)
    ):  # fmt: skip
        _, _, room_mm, depth_mm = body(wide, high)
        if made.width_mm <= room_mm and made.height_mm <= depth_mm:
            return wide, high
    return None


def _least(job: Job, made: Drawing) -> tuple[float, float]:
    """Width and height of the smallest page that holds a drawing."""
    _, _, room_mm, depth_mm = body(_WIDEST_MM, _WIDEST_MM)
    wide = max(job.paper.height_mm, made.width_mm + _WIDEST_MM - room_mm)
    return wide, max(job.paper.width_mm, made.height_mm + _WIDEST_MM - depth_mm)
