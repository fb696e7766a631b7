"""Labels on tape: how wide the printed band is, and how long a label has to be."""

from collections.abc import Iterable

from rigfolio.books import tape
from rigfolio.draw import Box, Group, Line, Mark, Page, Pen, shift
from rigfolio.job import Job
from rigfolio.labels.content import SlotLabel
from rigfolio.labels.face import drawn, is_whole
from rigfolio.record import record, replace

MM_PER_INCH = 25.4
TICK = Pen(0.2)
TICK_MM = 1.2
"""How far the line at which a label is cut off reaches in from the edge of the print."""

_BESIDE_MM = 1.0
_STEP_MM = 5.0
_MOST_MM = 400.0
_LEAST_MM = 10.0


@record
class Band:
    """A tape [mm] and the band that is printed along its middle, by its very dots."""

    wide_mm: float
    dots: int
    dpi: int

    @property
    def print_mm(self) -> float:
        """Height of the printed band."""
        return self.dots * MM_PER_INCH / self.dpi

    @property
    def edge_mm(self) -> float:
        """What stays blank along each edge."""
        return (self.wide_mm - self.print_mm) / 2

    def page(self, tape: "TapeLength") -> Page:
        """A length of tape as a page of its own."""
        long_mm = max(tape.long_mm, _LEAST_MM)
        return Page(long_mm, self.wide_mm, self.set(tape.pieces, 0.0, 0.0), tape.name)

    def set(self, pieces: Iterable["TapePiece"], left_mm: float, top_mm: float) -> tuple[Mark, ...]:
        """Pieces of tape one behind the other, from a corner of the tape on."""
        marks: list[Mark] = []
        for piece in pieces:
            marks += shift(piece.marks, left_mm, top_mm + self.edge_mm)
            left_mm += piece.long_mm
        return tuple(marks)


@record
class TapePiece:
    """What of a tape is never divided: a label with its ticks, or air [mm].

    Its marks are counted from its left end and from the upper edge of the print.
    """

    long_mm: float
    marks: tuple[Mark, ...] = ()
    place: str = ""


@record
class TapeLength:
    """A length of tape: what it is, and its pieces from left to right."""

    name: str
    pieces: tuple[TapePiece, ...]

    @property
    def long_mm(self) -> float:
        """Length of all of it."""
        return sum(piece.long_mm for piece in self.pieces)


def band_of(job: Job) -> Band:
    """The tape that was asked for."""
    stock = tape()
    wide_mm = job.wish.tape_mm or stock.width_mm[2]
    dots = job.wish.tape_dots or stock.dots(wide_mm, job.wish.tape_dpi)
    return Band(wide_mm, dots, job.wish.tape_dpi)


def printed(page: Page, band: Band) -> Page:
    """The printed band of a length of tape, as a page of its own."""
    return Page(page.width_mm, band.print_mm, shift(page.marks, 0.0, -band.edge_mm), page.name)


def without_colour(label: SlotLabel) -> SlotLabel:
    """A label for a tape, which prints in one colour: a bar would say nothing."""
    return replace(label, shade=None)


def length_mm(label: SlotLabel, band: Band) -> float:
    """The shortest length from the usual one on, in steps of 5 mm, that holds all of a label."""
    long_mm = tape().label_mm
    while long_mm < _MOST_MM and not is_whole(label, _room(long_mm, band)):
        long_mm += _STEP_MM
    return long_mm


def laid(label: SlotLabel, long_mm: float, band: Band) -> TapePiece:
    """A label along the tape, with the ticks at which it begins and ends."""
    title = f"{label.place} {label.name}"
    group = Group(label.ident, title, drawn(label, _room(long_mm, band), framed=False))
    return TapePiece(long_mm, (group, *ticks(0.0, band), *ticks(long_mm, band)), label.place)


def ticks(across: float, band: Band) -> tuple[Line, ...]:
    """Where the tape is cut."""
    ends = ((0.0, TICK_MM), (band.print_mm - TICK_MM, band.print_mm))
    return tuple(Line(((across, start), (across, end)), TICK) for start, end in ends)


def _room(long_mm: float, band: Band) -> Box:
    return _BESIDE_MM, 0.0, long_mm - 2 * _BESIDE_MM, band.print_mm
