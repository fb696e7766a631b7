"""Wire tags: one for both ends of every piece of wire, cut to go round it.

Each row is one wire: the left tag goes on its first end, the right one on the other. On a thick
wire the tag is a wrap: the blank part goes on first and comes to lie under the words, which are
repeated round the wire so that they can be read from any side. A thin wire has no room for that
and gets a flag: the wire lies on the middle, and the two faces are stuck back to back. Put a tag
50 to 100 mm from the terminal (common practice), because a tag beside the crimp is lost when the
end is redone, and lay clear tape over it: paper alone does not last. Leads that a fixture
came with have no tags.
"""

from collections.abc import Iterator, Sequence
from functools import partial

from rigfolio.draw import (
    FULL_SIZE,
    LINE_HEIGHT,
    MM_PER_PT,
    Box,
    Group,
    Mark,
    Page,
    Style,
    block,
    body,
    fit,
    measure,
    numbered,
)
from rigfolio.job import Job, TagForm
from rigfolio.labels import FLOOR_PT, LENGTH_MM, TagCut, TaggedWire, cut_of, drawn_tag, tagged_wires
from rigfolio.record import record
from rigfolio.refusal import RefusalError
from rigfolio.reports import SIGNED
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.wording import states_no

SHEET = Sheet("Wire tags", "wire-tags", command="tags", binder="to-cut", bound=20, beside=True)

_GAP_MM = 4.0
_LEAD_MM = 12.0
_RULER_MM = 15.0
_ROW_GAP_MM = 1.5
_HEAD_PT, _ABOUT_PT, _FLOOR_PT = 8.0, 7.0, 7.0
_MOST_NAMED = 3


@record
class _TagPair:
    """The two tags of one wire, how they are cut, and what stands beside them."""

    tagged: TaggedWire
    cut: TagCut
    gutter_mm: float

    @property
    def head(self) -> tuple[str, ...]:
        """What the wire is called, in the lines that it takes."""
        return fit(self.tagged.head, self.gutter_mm, size_pt=_HEAD_PT, floor_pt=_FLOOR_PT, lines=9,
                   bold=True).lines  # fmt: skip

    @property
    def about(self) -> tuple[str, ...]:
        """What the tag is cut for."""
        return fit(self.cut.about, self.gutter_mm, size_pt=_ABOUT_PT, floor_pt=_FLOOR_PT,
                   lines=3).lines  # fmt: skip

    @property
    def high_mm(self) -> float:
        """The height of the tag, or of what stands beside it if that is more."""
        words = len(self.head) * _pitch_mm(_HEAD_PT) + len(self.about) * _pitch_mm(_ABOUT_PT)
        return max(self.cut.high_mm, words + 0.6)


def pages(job: Job) -> tuple[Page, ...]:
    """Rows of tags, by panel and slot, then supply wires and shared returns.

    Raises
    ------
    RefusalError
        A wire has no room for the form of tag that was asked for.
    """
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    bottom = top + high - _RULER_MM
    bodies: list[list[Mark]] = [[]]
    down = top + _LEAD_MM
    for row in _rows(job, wide):
        if down + row.high_mm > bottom and bodies[-1]:
            bodies.append([])
            down = top + _LEAD_MM
        bodies[-1] += _drawn(row, left, down)
        down += row.high_mm + _ROW_GAP_MM
    area = (left, top, wide, high)
    full = [(*_around(job, area, is_empty=not marks), *marks) for marks in bodies]
    note = FULL_SIZE if bodies[0] else ""
    return numbered(job.paper, SHEET.title, job.strip, full, note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, wire by wire."""
    for tagged in tagged_wires(job):
        yield SheetPart((tagged.head, tagged.tags, tagged.wire.size), partial(_alone, job, tagged))


def _alone(job: Job, tagged: TaggedWire) -> tuple[Mark, ...]:
    """The tags of a wire as they look anywhere."""
    wide = body(job.paper.width_mm, job.paper.height_mm)[2]
    row = _row(tagged, wide, job.wish.tag_form)
    return () if row is None else tuple(_drawn(row, 0.0, 0.0))


def _rows(job: Job, wide: float) -> Iterator[_TagPair]:
    wish = job.wish.tag_form
    unheld: list[str] = []
    for tagged in tagged_wires(job):
        row = _row(tagged, wide, wish)
        if row is None:
            unheld.append(tagged.tags[0].name)
        else:
            yield row
    if unheld:
        raise _refusal(unheld, wish)


def _row(tagged: TaggedWire, wide: float, wish: TagForm | None) -> _TagPair | None:
    """The tags of a wire as they are cut; None where they have no room for their words."""
    cut = cut_of(tagged.wire, tagged.tags, wish)
    if cut is None:
        return None
    long_mm = cut.wide_mm if cut.form == "sleeve" else LENGTH_MM
    return _TagPair(tagged, cut, wide - 2 * long_mm - _GAP_MM - 2)


def _refusal(names: Sequence[str], form: TagForm | None) -> RefusalError:
    """Why a form does not serve, and which one does."""
    listed = ", ".join(f"`{name}`" for name in names[:_MOST_NAMED])
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return RefusalError(
        "command-not-understood",
        f"no {form or 'tag'} for {listed}{more}: so thin a wire has no room for its words in type "
        f"of {FLOOR_PT:g} pt, and smaller type cannot be read",
        "leave `--form` out, and each wire gets the form that holds its words; or shorter names: "
        "`rigfolio name FILE --write` gives those that have none in the text one like `W7`",
    )


def _pitch_mm(size_pt: float) -> float:
    return LINE_HEIGHT * MM_PER_PT * size_pt


def _around(job: Job, area: Box, *, is_empty: bool) -> Iterator[Mark]:
    """What stands above the tags, and the ruler below them."""
    left, top, wide, _ = area
    text = (
        "Left tag: the end named HERE on it; right tag: the other end; 50 to 100 mm from the "
        "terminal, clear tape over it. Flag: lay the wire on the middle, stick the faces back to "
        f"back. Wrap: words along the wire, blank part first. {SIGNED}"
    )
    if is_empty:
        text = states_no("wire", so="there is nothing to tag")
        if job.wish.only:
            text = "Nothing that was asked for has a tag."
    style = Style(8, _FLOOR_PT, 3, align="start", is_top=True)
    yield from block(text, (left, top, wide, _LEAD_MM - 2), style)
    if not is_empty:
        yield from measure(area)


def _drawn(row: _TagPair, left: float, top: float) -> Iterator[Mark]:
    down = top
    for lines, size, bold in ((row.head, _HEAD_PT, True), (row.about, _ABOUT_PT, False)):
        for line in lines:
            box = (left, down, row.gutter_mm, _pitch_mm(size))
            yield from block(line, box, Style(size, _FLOOR_PT, bold=bold, align="start"))
            down += _pitch_mm(size)
    cut = row.cut
    long_mm = cut.wide_mm if cut.form == "sleeve" else LENGTH_MM
    for place, tag in enumerate(row.tagged.tags):
        across = left + row.gutter_mm + 2 + place * (long_mm + _GAP_MM)
        marks = drawn_tag(tag, cut, across, top)
        yield Group(f"tag-{tag.name}-{'ab'[place]}", f"{tag.name} at {tag.here[0]}", marks)
