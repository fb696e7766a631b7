"""Calculation sheet: what decides each circuit and feed, and all it takes to repeat it by hand.

One line for each circuit and feed; then what wires may carry with every correction written out,
what each wire loses, what each load draws, the copper, and the formulas with their constants.
"""

from collections.abc import Iterator, Mapping

from rigfolio.draw import (
    Column,
    Page,
    Row,
    Setting,
    Table,
    body,
    columns_of,
    flow,
    numbered,
    pieces,
    prose,
    rows_of,
)
from rigfolio.figures import calculation_report, loads_table, sections_table
from rigfolio.job import Job
from rigfolio.reports import Report
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.wording import states_no

SHEET = Sheet("Calculation sheet", "calculation", binder="to-file", bound=30, beside=True)

_SIZE_PT = 7.0
_SECTIONS: Setting = (
    ("place", Column("place", 17, bold=True)),
    ("label", Column("circuit or feed", 24)),
    ("demand", Column("demand", 15)),
    ("wires", Column("wires: size, one-way length", 30)),
    ("carries", Column("may carry", 18)),
    ("guard", Column("fuse", 19, bold=True)),
    ("largest", Column("largest", 14)),
    ("drop", Column("drop", 13)),
    ("share", Column("of volts", 21)),
    ("short", Column("short", 13)),
    ("clears", Column("clears", 18)),
    ("verdict", Column("verdict", 19)),
)
_DECIDED: Setting = (*_SECTIONS, ("decided", Column("", 1)))
"""The same with what stands below a line: the figures that decide its verdict."""
_SHORTS: Setting = (
    ("place", Column("place", 16, bold=True)),
    ("source", Column("from", 20)),
    ("volts", Column("volts", 11)),
    ("inside", Column("inside", 15)),
    ("way", Column("way, out and back", 49)),
    ("copper", Column("copper", 17)),
    ("least", Column("least", 14)),
    ("opens", Column("opens", 20)),
    ("clears", Column("clears in", 19)),
    ("most", Column("most", 18)),
)
_BEARS: Setting = (
    ("mark", Column("", 4, bold=True)),
    ("carries", Column("may carry", 14)),
    ("how", Column("worked out", 66)),
    ("largest", Column("largest device", 17)),
    ("source", Column("source", 66)),
)
_WIRES: Setting = (
    ("wire", Column("wire", 24, bold=True)),
    ("source", Column("from", 11)),
    ("size", Column("size", 19)),
    ("length", Column("length", 14)),
    ("current", Column("current", 16)),
    ("ambient", Column("ambient", 15)),
    ("rated", Column("rated", 14)),
    ("at_limit", Column("at limit", 14)),
    ("carries", Column("may carry", 16)),
    ("copper_at", Column("copper at", 16)),
    ("resistance", Column("resistance", 19)),
    ("drop", Column("drop", 17)),
)
_LOADS: Setting = (
    ("load", Column("load", 32)),
    ("circuit", Column("circuit", 15, bold=True)),
    ("draws", Column("draws", 15)),
    ("volts", Column("at", 12)),
    ("current", Column("current", 15)),
    ("runs", Column("runs", 18)),
    ("way", Column("its source; its way, out and back", 64)),
    ("drop", Column("drop", 14)),
    ("share", Column("of volts", 13)),
)
_DROPS: Setting = (
    ("load", Column("load", 40)),
    ("circuit", Column("circuit", 15, bold=True)),
    ("alone", Column("alone", 16)),
    ("alone_share", Column("of volts", 14)),
    ("hours", Column("for hours", 16)),
    ("hours_share", Column("of volts", 14)),
    ("all", Column("all at once", 18)),
    ("all_share", Column("of volts", 14)),
    ("judged", Column("as judged", 16)),
    ("judged_share", Column("of volts", 14)),
    ("allowed", Column("allowed", 14)),
)
_STARTS: Setting = (
    ("label", Column("load", 40)),
    ("circuit", Column("circuit", 15, bold=True)),
    ("running_a", Column("runs at", 15)),
    ("start_a", Column("starts at", 15)),
    ("lasts", Column("for", 22)),
    ("through", Column("through", 24)),
    ("held_against", Column("held against", 80)),
)
_SUN: Setting = (
    ("modules", Column("modules", 24, bold=True)),
    ("made_of", Column("made of", 52)),
    ("open", Column("25 °C", 13)),
    ("cold", Column("coldest", 14)),
    ("how", Column("by", 34)),
    ("controller", Column("to", 10)),
    ("input", Column("input bears", 15)),
    ("current", Column("current", 14)),
    ("drop", Column("drop", 13)),
    ("share", Column("of volts", 13)),
)
_COPPER: Setting = (
    ("size", Column("size", 24, bold=True)),
    ("metre", Column("at 20 °C, a metre", 30)),
    ("foot", Column("at 20 °C, a foot", 30)),
    ("cable", Column("cable", 110)),
)
_SETTINGS: Mapping[str, Setting] = {
    "carries": _BEARS, "wires": _WIRES, "loads": _LOADS, "drops": _DROPS, "starts": _STARTS,
    "sun": _SUN,
    "shorts": _SHORTS, "copper": _COPPER,
}  # fmt: skip
_NOTE = "How it is worked out stands at the end, to be repeated by hand."
_MOST_LETTERS = 60
"""Letters of a verdict that stand in its column; a longer one has lines of its own below."""


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the rig needs."""
    report = calculation_report(job.study, job.findings)
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(report), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=_NOTE)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first the loads and circuits alone, for the rest takes longer."""
    yield SheetPart(rows_of([loads_table(job.study)], _LOADS))
    yield SheetPart(rows_of([sections_table(job.study, job.findings)], _DECIDED))
    yield SheetPart(tuple(_tables(calculation_report(job.study, job.findings))))


def _tables(report: Report) -> Iterator[Table]:
    (sections,) = report.tables("sections")
    rows = tuple(row for whole in rows_of([sections], _DECIDED) for row in _section(whole))
    if rows:
        yield Table(columns_of(_SECTIONS), rows, sections.title, _SIZE_PT)
    else:
        yield prose("", states_no("circuit", "wire"))
    for key, setting in _SETTINGS.items():
        for table in filter(lambda one: one.rows, report.tables(key)):
            yield Table(columns_of(setting), rows_of([table], setting), table.title, _SIZE_PT)
    left_out = (words for told in report.words("not_counted") for words in pieces(told))
    how = (*report.words("found"), *report.words("how"), *left_out, *report.words("losses"))
    yield prose("How it is worked out", *how, size_pt=_SIZE_PT)


def _section(row: Row) -> Iterator[Row]:
    """The line of a circuit or feed; below it a long verdict, and the figures that decide it."""
    place, *cells, verdict, decided = row.cells
    is_long = isinstance(verdict, str) and len(verdict) > _MOST_LETTERS
    yield Row((place, *cells, "see below" if is_long else verdict))
    below = (verdict if is_long else "", decided)
    yield from (Row((w,)) for said in below if said for w in pieces(f"{place}: {said}"))
