"""What every sheet shares: margin, title strip and page numbers."""

from collections.abc import Iterable, Iterator, Sequence

from rigfolio.draw.lettering import Box, Style, block, fit, width_mm
from rigfolio.draw.page import Line, Mark, Page, Paper, Pen, rect
from rigfolio.draw.roles import Kind
from rigfolio.record import replace
from rigfolio.reports import DEFERS

MARGIN_MM = 10.0
"""Clear of the 4 to 6 mm that office printers leave unprinted (common practice)."""
STRIP_MM = 16.0
FLOOR_PT = 7.0
"""Smallest type of a sheet that is read on paper, not on a label."""

_GAP_MM = 2.0
_HAIR = Pen(0.1, "#808080")
_RULE = Pen(0.3)
_TITLE = Style(12, FLOOR_PT, 2, bold=True, align="start", kind=Kind.TITLE)
_STRIP = Style(8, FLOOR_PT, 2, kind=Kind.STRIP)


def body(width_mm: float, height_mm: float) -> Box:
    """Left, top, width and height of the area above the title strip [mm]."""
    high_mm = height_mm - 2 * MARGIN_MM - STRIP_MM - _GAP_MM
    return MARGIN_MM, MARGIN_MM, width_mm - 2 * MARGIN_MM, high_mm


def framed(
    width_mm: float,
    height_mm: float,
    title: str,
    strip: Sequence[str],
    marks: Iterable[Mark],
    *,
    note: str = "",
    page: str = "1 of 1",
    name: str = "",
) -> Page:
    """A page of a sheet with its title strip at the foot.

    Parameters
    ----------
    width_mm, height_mm : float
        The paper [mm].
    title : str
        The sheet.
    strip : sequence of str
        Fields that every page bears: rig, revision, rule book, digest.
    marks : iterable of Mark
        What stands in the `body`.
    note : str
        How the sheet is used, in a few words.
    page : str
        Number of this page and of all, `1 of 2`.
    name : str
        Bookmark; the title where it is empty.
    """
    left, top = MARGIN_MM, height_mm - MARGIN_MM - STRIP_MM
    wide = width_mm - 2 * MARGIN_MM
    head_mm, foot_mm = 0.68 * STRIP_MM, 0.32 * STRIP_MM
    title_mm, page_mm = 0.32 * wide, 0.13 * wide
    fields_mm = wide - title_mm - page_mm
    drawn: list[Mark] = [*marks, rect(left, top, wide, STRIP_MM, pen=_RULE)]
    drawn.append(Line(((left, top + head_mm), (left + wide, top + head_mm)), _HAIR))
    for across in (left + title_mm, left + wide - page_mm):
        drawn.append(Line(((across, top), (across, top + head_mm)), _HAIR))
    title_box = (left + 1.5, top + 0.6, title_mm - 3, head_mm - 1.2)
    drawn += block(title, title_box, _TITLE)
    drawn += _fields(strip, (left + title_mm, top, fields_mm, head_mm))
    page_box = (left + wide - page_mm + 1, top + 0.6, page_mm - 2, head_mm - 1.2)
    drawn += block(f"page {page}", page_box, replace(_STRIP, size_pt=9, kind=Kind.FURNITURE))
    foot = (left + 1.5, top + head_mm + 0.3, 0.52 * wide - 3, foot_mm - 0.6)
    drawn += block(DEFERS, foot, replace(_STRIP, lines=1, bold=True, align="start"))
    if note:
        beside = (left + 0.52 * wide, top + head_mm + 0.3, 0.48 * wide - 1.5, foot_mm - 0.6)
        drawn += block(note, beside, replace(_STRIP, align="end"))
    return Page(width_mm, height_mm, tuple(drawn), name or title)


def _fields(strip: Sequence[str], box: Box) -> list[Mark]:
    """The fields of the strip, the first one large, the others below it side by side."""
    left, top, wide, high = box
    marks: list[Mark] = []
    if strip:
        first = (left + 1.5, top + 0.5, wide - 3, 0.52 * high - 0.5)
        bold = Style(10, FLOOR_PT, bold=True, align="start", kind=Kind.STRIP)
        marks += block(strip[0], first, bold)
    across = left + 1.5
    for field, room in _shared(strip[1:], wide - 3):
        cell = (across, top + 0.52 * high, room - 1, 0.48 * high - 0.6)
        marks += block(field, cell, Style(8, FLOOR_PT, align="start", kind=Kind.STRIP))
        across += room
    return marks


def _shared(fields: Sequence[str], wide_mm: float) -> Iterator[tuple[str, float]]:
    """Fields side by side with the room of each [mm]: alike, as long as each holds what it says.

    A long one takes of what the others leave over. Where all of it is not enough it loses words
    from before its last one, which is the date of a revision.
    """
    each_mm = wide_mm / max(1, len(fields))
    needs = [width_mm(field, FLOOR_PT) + 1.5 for field in fields]
    if all(need <= each_mm for need in needs):
        yield from ((field, each_mm) for field in fields)
        return
    longest = max(range(len(fields)), key=needs.__getitem__)
    left_mm = wide_mm - sum(need for place, need in enumerate(needs) if place != longest)
    over_mm = max(0.0, left_mm - needs[longest]) / len(fields)
    for place, field in enumerate(fields):
        if place != longest:
            yield field, needs[place] + over_mm
        else:
            room_mm = min(left_mm, needs[place] + over_mm)
            yield _before_last(field, room_mm - 1.5), room_mm


def _before_last(field: str, room_mm: float) -> str:
    """A field that is too long without as many letters before its last word as have to go."""
    first, _, last = field.rpartition(" ")
    if not any(letter.isdigit() for letter in last):
        return field
    shown = field
    while first and width_mm(shown, FLOOR_PT) > room_mm:
        first = first[:-1]
        shown = f"{first.rstrip()}… {last}"
    return shown


def numbered(
    paper: Paper, title: str, strip: Sequence[str], bodies: Sequence[Sequence[Mark]],
    *, note: str = "",
) -> tuple[Page, ...]:  # fmt: skip
    """Bodies as framed pages, numbered."""
    size = (paper.width_mm, paper.height_mm)
    return tuple(
        framed(*size, title, strip, marks, note=note, page=f"{number} of {len(bodies)}",
               name=title if number == 1 else f"{title} {number}")
        for number, marks in enumerate(bodies, start=1)
    )  # fmt: skip


def first_uncut(
    wordings: Sequence[str], width_mm: float, floor_pt: float, *, lines: int = 1, bold: bool = False
) -> str:
    """The first of several wordings that fits whole, else the last one."""
    for wording in wordings:
        set_text = fit(
            wording, width_mm, size_pt=floor_pt, floor_pt=floor_pt, lines=lines, bold=bold
        )
        if not set_text.is_cut and set_text.size_pt >= floor_pt:
            return wording
    return wordings[-1]
