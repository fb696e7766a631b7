"""Survey sheet: what is known of each slot and wire, and a blank for what nobody has looked at.

It is filled in at the panel, slot by slot, in the order of its columns, and typed into the table
that is printed beside it.
"""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.draw import Cell, Column, Page, Paper, Row, Table, body, flow, numbered, prose
from rigfolio.findings import Unknown
from rigfolio.job import Job
from rigfolio.kinds import CONDITIONS
from rigfolio.labels import parted, picture_marks
from rigfolio.model import Panel, Rig
from rigfolio.reports import HANDS
from rigfolio.sheet import Sheet
from rigfolio.surveys import COLUMNS, Column as SurveyColumn
from rigfolio.swap import SurveyRow, all_rows, other_rows, panel_rows
from rigfolio.units import show
from rigfolio.wording import amps, on_paper, short_end

SHEET = Sheet("Survey sheet", "survey", command="survey", beside=True, shows_pictures=True)

_KEYS: tuple[SurveyColumn, ...] = COLUMNS[1:]
_WIDTHS: Mapping[SurveyColumn, float] = {
    "place": 13, "name": 24, "colour": 15, "gauge": 11, "length": 10, "found": 9, "marked": 9,
    "belongs": 9, "wires": 7, "went dead": 24, "draws": 11, "tail": 9, "leaves loom at": 10,
    "plate": 26, "condition": 14, "note": 16,
}  # fmt: skip
_BOLD: tuple[SurveyColumn, ...] = ("place", "belongs")
_OF_SLOTS = tuple(key for key in COLUMNS if key != "plate")
_ELSEWHERE = tuple(key for key in COLUMNS if key not in ("marked", "wires"))
_NOT_OF: Mapping[str, frozenset[str]] = {
    "panel": frozenset({"colour", "gauge", "length", "found", "marked", "belongs", "wires",
                        "went dead", "draws", "tail", "leaves loom at"}),
    "part": frozenset({"colour", "gauge", "length", "found", "marked", "belongs", "wires",
                       "went dead", "draws", "tail", "leaves loom at"}),
    "fuse": frozenset({"colour", "gauge", "length", "wires", "went dead", "draws", "tail",
                       "leaves loom at", "plate", "marked"}),
    "wire": frozenset({"found", "marked", "belongs", "wires", "went dead", "draws", "plate"}),
    "circuit": frozenset({"plate"}),
    "load": frozenset({"colour", "gauge", "length", "found", "marked", "belongs", "wires",
                       "went dead", "tail", "leaves loom at", "plate"}),
}  # fmt: skip
"""What is not asked of a part or of a wire."""
_NOT_ASKED = "–"
_ROW_PAD_MM = 1.7
_HOW = (
    "Look, do not move anything yet. Photograph the panel first. A fuse is pulled only with its "
    "loads switched off; put each one back before the next. Read the rating on the fuse itself, "
    "and write it under found even where it agrees with the mark beside the slot; belongs is what "
    "should be there. Length: one way, along the wire. Wires: how many land on the terminal. Tail: "
    "how much of the wire hangs out of the loom. Leaves loom at: how far along the panel from the "
    f"middle of slot 1. Condition: {', '.join(CONDITIONS)}. Draws: amperes or watts of "
    "each load. Several loads are parted by semicolons, and so is what they draw. Plate: what is "
    "printed on a battery, a panel, a source.",
    "An empty field is a blank to be filled in, a dash asks for nothing. What is printed is what "
    "the text knows: strike it out where it is not so. Type the blanks into survey.csv as you "
    "wrote them (14 ga, 18', ~9 ft, red w/ black), then "
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
        found = tuple(panel_rows(job.rig, panel))
        slots = COLUMNS if any(row.asked for row in found) else _OF_SLOTS
        rows = (Row((_panel(job.rig, panel),)), *(_row(row, slots) for row in found))
        yield Table(_columns(slots, "slot"), rows, str(panel.about), pad_mm=_ROW_PAD_MM, grid=True)
    others = tuple(other_rows(job.rig))
    if others:
        kinds = {row.kind for row in others}
        # Only a circuit has loads that go dead; a load by itself draws as well.
        dead = {"went dead"} if "circuit" not in kinds else set()
        drawn = {"draws"} if kinds.isdisjoint({"circuit", "load"}) else set()
        keys = tuple(key for key in _ELSEWHERE if key not in dead | drawn)
        rows = tuple(_row(row, keys) for row in others)
        yield Table(_columns(keys, "place"), rows, "Elsewhere", pad_mm=_ROW_PAD_MM, grid=True)
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
        *((("interrupts", "………"),) if isinstance(panel.interrupts_a, Unknown) else ()),
        ("negative bar", short_end(rig, panel.negative) if panel.negative else "………"),
    )
    return "; ".join(f"{name}: {value}" for name, value in facts)


def _blank(value: float | Unknown | None) -> str:
    return "………" if value is None or isinstance(value, Unknown) else amps(value)


def _columns(keys: Sequence[SurveyColumn], first: str) -> tuple[Column, ...]:
    """Columns under the headings by which the table is read back."""
    heads = (first, *keys[1:])
    return tuple(
        Column(head, _WIDTHS[key], bold=key in _BOLD) for head, key in zip(heads, keys, strict=True)
    )


def _row(row: SurveyRow, keys: Sequence[SurveyColumn]) -> Row:
    dashed = _NOT_OF.get(row.kind, frozenset())
    cells: list[Cell] = [row.place]
    for key in keys[1:]:
        is_asked = key == "plate" and row.asked
        blanks = [f"{words} ………" for words in row.asked] if is_asked else []
        known = _NOT_ASKED if key in dashed and not is_asked else row.cells.get(key, "")
        cells.append(", ".join(filter(None, (known, *blanks))))
    return Row(tuple(cells))


def _asked(job: Job) -> tuple[str, ...]:
    """What else cannot be judged, each with what to look for."""
    told = []
    for finding in job.findings:
        if finding.rule == "not-surveyed":
            fix = f": {finding.way_out}" if finding.way_out else ""
            asked = f"{finding.headline.removeprefix('cannot judge: ')}{fix}"
            told.append(f"☐ {on_paper(asked)}")
    return tuple(dict.fromkeys(told))


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The survey as rows for a spreadsheet, headings first: what is known, and blanks."""
    rows = [(row.place, *(row.cells.get(key, "") for key in _KEYS)) for row in all_rows(job.rig)]
    return (COLUMNS, *rows)
