"""Rigs to print labels, tags and directories of, written in the language."""

from dataclasses import dataclass
from io import BytesIO

import pypdfium2
from hypothesis import settings, strategies as st

from helpers.forgotten import cache
from rigfolio.draw.extents import text_box
from rigfolio.draw.page import Group, Text, texts
from rigfolio.findings import Citation, Finding, Fix, Label, Severity
from rigfolio.job import Job
from rigfolio.lang.lines import blocks
from rigfolio.lang.parser import parse
from rigfolio.model.assembly import build
from rigfolio.model.draft import Draft
from rigfolio.reading.text import read_blocks
from rigfolio.record import replace
from rigfolio.render.pdf import write_pdf
from rigfolio.study import Study

FILE = "wren.rig"
MM = 25.4 / 72.0


@dataclass(frozen=True)
class Seen:
    """A printed page: its text, its rectangles, the lengths of its level lines [mm]."""

    text: str
    rects: tuple
    lines: tuple


BARE = """
rig "Bare"
    rules rv
battery B1
"""
"""A rig with nothing to label."""

MARSH_WREN = """
rig "Marsh Wren 17"
    system   12 V
    rules    rv
    ambient  40 degC
    revised  2026-03-14

battery     B1  "House battery"       flooded, 105 Ah, internal 10 mohm
fuse        F1  "Battery fuse"        50 A, interrupts 10 kA
disconnect  S1  "Battery disconnect"  100 A
charger     C1  "Converter"           45 A
panel       P1  "Galley panel"        12 slots of 20 A, 75 A in all, pitch 14 mm
busbar      N1  "Negative bar"        100 A
chassis     G1  "Frame"

wire  B1+ to F1        6 AWG red    10 in, tag W1
wire  F1  to S1.line   6 AWG red    3 ft, tag W2
wire  S1.load to P1    6 AWG black  7 ft, tag W3
wire  C1+ to P1        6 AWG black  4 ft, fuse 50 A at P1, tag W4
wire  N1  to B1-       6 AWG white  9 ft, tag W5
wire  C1- to N1        6 AWG white  4 ft, tag W6
wire  B1- to G1        6 AWG bare   2 ft, tag W7

circuit P1.1 "Ceiling lights"  fuse 7.5 A
    wire   14 AWG red/black 18 ft
    load   "Galley lamp"  8 W,  4 h/day
    load   "Bunk lamp"    5 W,  2 h/day
circuit P1.2 "Water pump"      fuse 10 A
    wire   14 AWG yellow 11 ft
    load   "Pump"  7 A, intermittent, starts at 3 times
circuit P1.3 "Refrigerator control"  fuse 3 A
    wire   16 AWG red/black 6 ft
    load   "Control board"  1.2 A
circuit P1.4 "Roof fan"  fuse 20 A
    wire   16 AWG blue/white 14 ft
    load   "Fan"  3.1 A
circuit P1.5 "USB sockets, bunk end"  fuse ?
    wire   18 AWG tan 9 ft
    load   "Sockets"  2.4 A
circuit P1.7 "Propane furnace blower"  fuse 15 A, scorched
    wire   12 AWG violet/yellow 16 ft
    load   "Blower"  8.2 A
    return 12 AWG white 16 ft
circuit P1.8 "Breakaway brake charger"  fuse 5 A, always on
    wire   ? blue ?
    load   "Trickle charger"  1 A
circuit P1.9 "Awning lights"  fuse 5 A
    wire   16 AWG white/red 21 ft
    load   "Strip"  1.4 A
circuit S1.line "Gas detector" fuse 3 A, always on
    wire   16 AWG ? 9 ft, tag "S1.line/1"
    load   "LP/CO detector"  0.15 A, 24 h/day
slot P1.10 blank
slot P1.12 spare "for a second lamp circuit"

ac "Main" 30 A
ac "Converter" 15 A

state stored   S1 open, C1 off
state shore    S1 closed, C1 on
"""


def job_of(text, findings=()):
    """What a sheet is given for a text; the findings are the test's own."""
    lines, problems = parse(text, FILE)
    found, loose = blocks(lines)
    draft = Draft()
    read_blocks(found, draft)
    assert (*problems, *loose, *draft.found) == ()
    rig = build(draft, "3f9a61c204d7")
    study = Study(rig, rig.book)
    return Job(rig, tuple(findings), study)


@cache
def marsh_wren():
    """A small towable with every kind of slot, a fuse too large, and things not surveyed."""
    job = job_of(MARSH_WREN)
    spans = {circuit.place: circuit.span for circuit in job.rig.circuits}
    danger = Finding(
        "fuse-over-wire", Severity.DANGER, "20 A fuse, 16 AWG may carry 8 A",
        Label(spans["P1.4"], "opens above 20 A"),
        source=Citation("NFPA 70 Table 552.10(E)(1)", "memory"), fix=Fix("`fuse 7.5 A`"), book="rv",
    )  # fmt: skip
    unknown = Finding(
        "wire-not-judged", Severity.UNKNOWN, "cannot judge: size of `P1.8/1` is unknown",
        Label(spans["P1.8"]), book="rv",
    )  # fmt: skip
    return replace(job, findings=(danger, unknown))


_SIZES = ("16 AWG", "14 AWG", "12 AWG", "10 AWG", "18 AWG", "?", "2.5 mm2")
_COLOURS = ("red/black", "yellow", "?", "yellow/green", "blue", "black/red")
_FUSES = ("5 A", "7.5 A", "?", "40 A")


def panel_of(slots, names, *, pitch="14 mm", columns=1, paper="letter", window=""):
    """A panel whose first slots carry circuits of the names given, all else in turn."""
    lines = [
        'rig "Reed Bunting"',
        "    rules rv",
        f"    paper {paper}",
        'battery B1 "House battery"',
        f'panel P1 "Galley panel" {slots} slots of 30 A, {columns} columns'
        + (f", pitch {pitch}" if pitch else "")
        + (f", window {window}" if window else ""),
        'busbar N1 "Negative bar" 100 A',
        "wire B1+ to P1 2/0 AWG red 3 ft",
        "wire N1 to B1- 2/0 AWG black 3 ft",
    ]
    for number, name in enumerate(names[:slots], start=1):
        always = ", always on" if number % 5 == 0 else ""
        size, colour = _SIZES[number % 7], _COLOURS[number % 6]
        lines += [
            f'circuit P1.{number} "{name}" fuse {_FUSES[number % 4]}{always}',
            f"    wire {size} {colour} 12 ft",
            f'    load "{name}" 1 A',
        ]
    return job_of("\n".join(lines) + "\n")


def printed(pages):
    """The pages of a PDF as an independent reader sees them."""
    return _read(write_pdf(pages, title="test"))


@cache
def _read(content):
    """What is on paper; each content is read once, for reading takes longer than laying out."""
    import pdfplumber

    with pdfplumber.open(BytesIO(content)) as document:
        return tuple(
            Seen(
                " ".join(page.extract_text(x_tolerance=1.5).split()),
                tuple(
                    (one["x0"] * MM, one["top"] * MM, one["width"] * MM, one["height"] * MM)
                    for one in page.rects
                ),
                tuple(one["width"] * MM for one in page.lines if one["height"] < 0.1),
            )
            for page in document.pages
        )


def words(pages):
    """All the text of a document, for looking up a phrase."""
    return _words(write_pdf(pages, title="test"))


@cache
def _words(content):
    """The text alone, by a reader that is much faster where nobody asks for rectangles."""
    document = pypdfium2.PdfDocument(BytesIO(content))
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def rows_read(pages):
    """The same line by line, straight across the columns of tables."""
    return " ".join(page.text for page in printed(pages))


def sized(page, width_mm, height_mm, slack_mm=0.1):
    """The rectangles of one printed page that have a size."""
    return [
        rect
        for rect in page.rects
        if abs(rect[2] - width_mm) <= slack_mm and abs(rect[3] - height_mm) <= slack_mm
    ]


def groups(pages, start):
    """The groups of marks whose name begins in a given way."""
    return [
        mark for page in pages for mark in page.marks
        if isinstance(mark, Group) and mark.ident.startswith(start)
    ]  # fmt: skip


def strays(group, box, slack_mm=0.05):
    """Texts of a group that reach outside a box (x, y, width, height)."""
    x, y, wide, high = box
    out = []
    for mark in group.marks:
        if isinstance(mark, Text):
            left, top, right, bottom = text_box(mark)
            inside = x - slack_mm <= left and right <= x + wide + slack_mm
            if not (inside and y - slack_mm <= top and bottom <= y + high + slack_mm):
                out.append(mark.text)
    return out


def off_paper(page, edge_mm=9.5):
    """Texts that come nearer to the edge of the paper than a printer may print."""
    return [
        mark.text for mark in texts(page)
        if not _within(text_box(mark), edge_mm, page.width_mm - edge_mm, page.height_mm - edge_mm)
    ]  # fmt: skip


def _within(box, least_mm, right_mm, bottom_mm):
    left, top, right, bottom = box
    return least_mm <= min(left, top) and right <= right_mm and bottom <= bottom_mm


NAMES = (
    st.text("abcdeWMilt ÅéñßčŁ ΑΩπώ ЖЩйы 0123 -/,.()", min_size=1, max_size=80)
    .map(lambda name: " ".join(name.split()))
    .filter(lambda name: any(letter.isalpha() for letter in name))
)
FEW = settings(max_examples=6, deadline=None, derandomize=True)
"""Hypothesis examples for whole sheets, which take long."""
