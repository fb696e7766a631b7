"""Wire list: what each conductor is cut to, what is crimped to its ends, where they land.

It is what a harness shop asks for. The columns are those of a connection table, one row for each
conductor, both ends written out, with what the person with the crimper needs besides: the terminal
and the sleeve of each end, the length to cut, and boxes for what is made and what a second person
has seen.
"""

from collections.abc import Iterator

from rigfolio.books import terminal_source
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, prose
from rigfolio.job import Job
from rigfolio.natural_order import natural
from rigfolio.reports import SIGNED
from rigfolio.sheet import Sheet
from rigfolio.swap import Connection, connections
from rigfolio.wording import states_no

SHEET = Sheet("Wire list", "wire-list", command="wirelist", beside=True)

_SIZE_PT = 7.0
_BOX = "☐"
_COLUMNS = (
    Column("wire", 22, bold=True),
    Column("end 1", 27),
    Column("crimp", 12),
    Column("end 2", 27),
    Column("crimp", 12),
    Column("size", 16, bold=True),
    Column("colour", 20),
    Column("cut to", 15, bold=True, align="end"),
    Column("", 3),
    Column("sleeve", 13),
    Column("guarded by", 22),
    Column("remarks", 16),
    Column("made", 10),
    Column("seen", 9),
)
_HEADS = (
    "wire", "circuit", "end 1", "crimped on end 1", "end 2", "crimped on end 2", "size",
    "insulation", "colour", "cut to", "sleeve", "guarded by", "remarks",
)  # fmt: skip
_NOTE = "Measure the way before you cut: the lengths are those of the text."


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the wires need, a group of rows for each circuit."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    return numbered(job.paper, SHEET.title, job.strip, flow(_tables(job), area), note=_NOTE)


def _tables(job: Job) -> Iterator[Table]:
    rows = tuple(connections(job))
    if job.wish.only:
        listed = ", ".join(sorted(job.wish.only, key=natural))
        yield prose("", f"Only for {listed}.")
    if not rows:
        yield prose("", states_no("wire", so="there is nothing to cut"))
        return
    yield Table(_COLUMNS, tuple(_rows(rows)), "", _SIZE_PT)
    yield prose(
        "",
        f"Cut to: the length of the text with slack for both ends ({terminal_source('slack')}). "
        "To suit: the text does not say what the part takes; see `ends` of a wire, `stud` of a "
        "part. Assumed: the text states no return. Leads that a fixture came with are left out. "
        f"{SIGNED}",
        size_pt=_SIZE_PT,
    )


def _rows(found: tuple[Connection, ...]) -> Iterator[Row]:
    """The rows, with the name of its circuit above those of each."""
    before = ""
    for one in found:
        if one.circuit != before:
            yield Row((one.circuit or "Supplies and shared returns",), bold=True, ruled=True)
        before = one.circuit
        yield Row(
            (
                one.wire, one.ends[0], one.crimped[0], one.ends[1], one.crimped[1],
                f"{one.size} {one.insulation}".rstrip(), one.colour, one.cut, "", one.sleeve,
                one.guard, one.remarks, _BOX, _BOX,
            )
        )  # fmt: skip


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The list as rows for a spreadsheet, headings first."""
    rows = [
        (
            one.wire, one.circuit, one.terminals[0], one.crimped[0], one.terminals[1],
            one.crimped[1], one.size, one.insulation, one.colour, one.cut, one.sleeve, one.guard,
            one.remarks,
        )
        for one in connections(job)
    ]  # fmt: skip
    return (_HEADS, *rows)
