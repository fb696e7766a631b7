"""Survey sheet: what is known of each slot and wire, and a blank for what nobody has looked at.

It is filled in at the panel, slot by slot, in the order of its columns, and typed into the table
that is printed beside it.
"""

from collections.abc import Iterator

from rigfolio.draw import Cell, Column, Page, Paper, Row, Table, body, flow, numbered, prose
from rigfolio.findings import Unknown
from rigfolio.job import Job
from rigfolio.labels import parted, picture_marks
from rigfolio.model import Panel, Rig
from rigfolio.reports import HANDS
from rigfolio.sheet import Sheet
from rigfolio.swap import SurveyRow, all_rows, other_rows, panel_rows
from rigfolio.units import show
from rigfolio.wording import amps, short_end

SHEET = Sheet("Survey sheet", "survey", command="survey", beside=True, shows_pictures=True)

COLUMNS = (
    "place", "name", "colour", "size", "length", "fuse found", "fuse marked", "fuse", "wires",
    "went dead", "tail", "breakout", "condition", "note",
)  # fmt: skip
"""The headings of the table, as they are read back."""
_PRINTED = (
    Column("slot", 9, bold=True),
    Column("name", 24),
    Column("colour, stripe", 16),
    Column("gauge", 11),
    Column("length", 10),
    Column("found", 9),
    Column("marked", 9),
    Column("belongs", 9, bold=True),
    Column("wires", 7),
    Column("went dead when pulled", 27),
    Column("tail", 9),
    Column("leaves loom at", 10),
    Column("heat, damp, loose; remark", 26),
)
_ELSEWHERE = (Column("part, wire", 9, bold=True), *_PRINTED[1:])
_KEYS = (
    "name", "colour", "size", "length", "fuse found", "fuse marked", "fuse", "wires", "went dead",
    "tail", "breakout",
)  # fmt: skip
_NOT_OF = {
    "part": frozenset({"colour", "size", "length", "wires", "tail", "breakout"}),
    "wire": frozenset({"fuse found", "fuse marked", "fuse", "wires", "went dead"}),
}
"""What is not asked of a part or of a wire."""
_NOT_ASKED = "–"
_ROW_PAD_MM = 1.7
_HOW = (
    "Look, do not move anything yet. Photograph the panel first. A fuse is pulled only with its "
    "loads switched off; put each one back before the next. Read the rating on the fuse itself, "
    "and write it under found even where it agrees with the mark beside the slot; belongs is what "
    "should be there. Length: one way, along the wire. Wires: how many land on the terminal. Tail: "
    "how much of the wire hangs out of the loom. Leaves loom at: how far along the panel from the "
    "middle of slot 1. Heat: scorched or melted; damp: corroded. Several loads are parted by "
    "semicolons.",
    "An empty field is a blank to be filled in, a dash asks for nothing. What is printed is what "
    "the text knows: strike it out where it is not so. Type the blanks into survey.csv, then "
    "`rigfolio survey FILE --from survey.csv --write`.",
)
_CAUTION = (
    "Wires are live until every source is off and a meter has said so: the battery, the converter, "
    f"solar, a tow vehicle. {HANDS}"
)


def pages(job: Job) -> tuple[Page, ...]:
    """Sideways pages, as many as the panels need."""
    paper = job.paper
    wide = Paper(paper.name, max(paper.width_mm, paper.height_mm),
                 min(paper.width_mm, paper.height_mm))  # fmt: skip
    area = body(wide.width_mm, wide.height_mm)
    bodies = list(flow(_tables(job), area))
    bodies += [
        picture_marks(job.rig, taken, area)
        for whole in job.pictures
        for taken in parted(whole, area[3])
    ]
    return numbered(
        wide, SHEET.title, job.strip, bodies, note="Surveyed on, by: ______________________"
    )


def _tables(job: Job) -> Iterator[Table]:
    yield prose("", _CAUTION, *_HOW)
    for panel in job.rig.panels:
        rows = (Row((_panel(job.rig, panel),)), *(_row(row) for row in panel_rows(job.rig, panel)))
        yield Table(_PRINTED, rows, str(panel.about), pad_mm=_ROW_PAD_MM, grid=True)
    others = tuple(other_rows(job.rig))
    if others:
        rows = tuple(_row(row) for row in others)
        yield Table(_ELSEWHERE, rows, "Elsewhere", pad_mm=_ROW_PAD_MM, grid=True)
    asked = _asked(job)
    if asked:
        yield prose("Still to be found out", *asked)


def _panel(rig: Rig, panel: Panel) -> str:
    """What is known of a panel itself, with a blank for the rest."""
    facts = (
        ("slots", str(panel.slots)),
        ("each made for", _blank(panel.slot_a)),
        ("all together", _blank(panel.total_a)),
        ("pitch", "………" if panel.pitch_m is None else show(panel.pitch_m, "mm")),
        ("stud", panel.about.stud or "………"),
        ("negative bar", short_end(rig, panel.negative) if panel.negative else "………"),
    )
    return "; ".join(f"{name}: {value}" for name, value in facts)


def _blank(value: float | Unknown | None) -> str:
    return "………" if value is None or isinstance(value, Unknown) else amps(value)


def _row(row: SurveyRow) -> Row:
    cells: list[Cell] = [row.place]
    dashed = _NOT_OF.get(row.kind, frozenset())
    cells += [_NOT_ASKED if key in dashed else row.cells.get(key, "") for key in _KEYS]
    marks = [row.cells.get("condition", ""), row.cells.get("note", "")]
    cells.append("; ".join(mark for mark in marks if mark))
    return Row(tuple(cells))


def _asked(job: Job) -> tuple[str, ...]:
    """What else cannot be judged, each with what to look for."""
    told = []
    for finding in job.findings:
        if finding.rule == "not-surveyed":
            fix = f": {finding.way_out}" if finding.way_out else ""
            told.append(f"☐ {finding.headline.removeprefix('cannot judge: ')}{fix}")
    return tuple(dict.fromkeys(told))


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The survey as rows for a spreadsheet, headings first: what is known, and blanks."""
    rows = [
        (row.place, *(row.cells.get(key, "") for key in COLUMNS[1:])) for row in all_rows(job.rig)
    ]
    return (COLUMNS, *rows)
