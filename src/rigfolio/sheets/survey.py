"""Survey sheet: what is known of each slot and wire, and a blank for what nobody has looked at.

It is filled in at the panel, slot by slot, in the order of its columns, and typed into the table
that is printed beside it.
"""

from collections.abc import Iterator

from rigfolio.draw.frame import Cell, Column, Row, Table, body, flow, numbered, prose
from rigfolio.draw.page import Page, Paper
from rigfolio.findings import Unknown
from rigfolio.model.graph import Panel
from rigfolio.study.job import Job
from rigfolio.study.pictures import picture_marks
from rigfolio.study.survey import SurveyRow, all_rows, other_rows, panel_rows
from rigfolio.study.wording import amps
from rigfolio.units import show

TITLE = "Survey sheet"
NAME = "survey"

COLUMNS = (
    "place", "name", "colour", "size", "length", "fuse found", "fuse marked", "fuse", "wires",
    "went dead", "tail", "breakout", "condition", "note",
)  # fmt: skip
"""The headings of the table, as they are read back."""
_PRINTED = (
    Column("slot", 9, bold=True),
    Column("name", 25),
    Column("colour, stripe", 17),
    Column("gauge", 12),
    Column("found", 10),
    Column("marked", 10),
    Column("belongs", 10, bold=True),
    Column("wires", 7),
    Column("went dead when pulled", 29),
    Column("tail", 10),
    Column("leaves loom at", 11),
    Column("heat, damp, loose; remark", 26),
)
_KEYS = (
    "name", "colour", "size", "fuse found", "fuse marked", "fuse", "wires", "went dead", "tail",
    "breakout",
)  # fmt: skip
_ROW_PAD_MM = 1.9
_HOW = (
    "Look, do not move anything yet. Photograph the panel first. A fuse is pulled only with its "
    "loads switched off; put each one back before the next. Read the rating on the fuse itself, "
    "and write it under found even where it agrees with the mark beside the slot. Wires: how many "
    "land on the terminal. Tail: how much of the wire hangs out of the loom. Leaves loom at: how "
    "far along the panel from the middle of slot 1. Heat: scorched or melted; damp: corroded. "
    "Several loads are parted by semicolons.",
    "An empty field is a blank to be filled in; what is printed is what the text knows: strike it "
    "out where it is not so. Type the blanks into survey.csv, then "
    "`rigfolio survey FILE --from survey.csv --write`.",
)
_CAUTION = (
    "Wires are live until every source is off and a meter has said so: the battery, the converter, "
    "solar, a tow vehicle. Take off rings and watch. Not a safety certificate: local code and "
    "licensed practice come first."
)


def pages(job: Job) -> tuple[Page, ...]:
    """Sideways pages, as many as the panels need."""
    paper = job.paper
    wide = Paper(paper.name, max(paper.width_mm, paper.height_mm),
                 min(paper.width_mm, paper.height_mm))  # fmt: skip
    area = body(wide.width_mm, wide.height_mm)
    bodies = [*flow(_tables(job), area), *(picture_marks(job.rig, p, area) for p in job.pictures)]
    return numbered(wide, TITLE, job.strip, bodies, note="Surveyed on, by:")


def _tables(job: Job) -> Iterator[Table]:
    yield prose("", _CAUTION, *_HOW)
    for panel in job.rig.panels:
        rows = tuple(_row(row) for row in panel_rows(job.rig, panel))
        yield prose(str(panel.about), _panel(panel))
        yield Table(_PRINTED, rows, "", pad_mm=_ROW_PAD_MM, grid=True)
    others = tuple(other_rows(job.rig))
    if others:
        rows = tuple(_row(row) for row in others)
        yield Table(_PRINTED, rows, "Elsewhere", pad_mm=_ROW_PAD_MM, grid=True)
    asked = _asked(job)
    if asked:
        yield prose("Still to be found out", *asked)


def _panel(panel: Panel) -> str:
    """What is known of a panel itself, with a blank for the rest."""
    facts = (
        ("slots", str(panel.slots)),
        ("each made for", _blank(panel.slot_a)),
        ("all together", _blank(panel.total_a)),
        ("pitch", "………" if panel.pitch_m is None else show(panel.pitch_m, "mm")),
        ("stud", panel.about.stud or "………"),
        ("negative bar", panel.negative or "………"),
    )
    return "; ".join(f"{name}: {value}" for name, value in facts)


def _blank(value: float | Unknown | None) -> str:
    return "………" if value is None or isinstance(value, Unknown) else amps(value)


def _row(row: SurveyRow) -> Row:
    cells: list[Cell] = [row.place]
    cells += [row.cells.get(key, "") for key in _KEYS]
    marks = [row.cells.get("condition", ""), row.cells.get("note", "")]
    cells.append("; ".join(mark for mark in marks if mark))
    return Row(tuple(cells))


def _asked(job: Job) -> tuple[str, ...]:
    """What else cannot be judged, each with what to look for."""
    told = []
    for finding in job.findings:
        if finding.rule == "not-surveyed":
            fix = f": {finding.fix.text}" if finding.fix else ""
            told.append(f"☐ {finding.headline.removeprefix('cannot judge: ')}{fix}")
    return tuple(dict.fromkeys(told))


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The survey as rows for a spreadsheet, headings first: what is known, and blanks."""
    rows = [
        (row.place, *(row.cells.get(key, "") for key in COLUMNS[1:])) for row in all_rows(job.rig)
    ]
    return (COLUMNS, *rows)
