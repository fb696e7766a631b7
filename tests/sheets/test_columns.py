"""Every sheet holds a panel of as many columns as the language allows, on each paper."""

from functools import cache
from importlib import import_module

import pytest

from helpers.label_rigs import job_of, off_paper, words
from helpers.page_checks import overlaps
from rigfolio.draw.page import Page
from rigfolio.job import Job
from rigfolio.sheet import sheets_beside, sheets_bound
from rigfolio.statements.panel import MOST_COLUMNS

NAMES = [name for name in dict.fromkeys((*sheets_bound(), *sheets_beside())) if name != "schematic"]
SHOWS_ALL = {"at_the_panel", "panel_face"}
TEXT = """rig "Broad"
    rules rv
    paper {paper}
battery B1 flooded, 100 Ah
fuse F1 100 A
panel P1 "Panel behind the pantry" {slots} slots of 30 A, {columns} columns{across}
busbar N1 100 A
wire B1+ to F1 2 AWG 1 ft
wire F1 to P1 2 AWG 3 ft
wire N1 to B1- 2 AWG 3 ft
"""
USES = (
    'circuit P1.{n} "Reading lamps at the bunks" fuse 25 A\n    wire 16 AWG\n    load "L" 2 A\n',
    'circuit P1.{n} "Gas alarm" fuse 3 A always on\n    wire 16 AWG 6 ft\n    load "Alarm" 0.2 A\n',
    'circuit P1.{n} "Refrigerator compressor" fuse 15 A\n    wire 12 AWG 6 ft\n    load "F" 6 A\n',
    'slot P1.{n} spare "radio to come"\n',
    'circuit P1.{n} "Macerator" fuse ?\n    wire ?\n    load "Macerator" ?\n',
    "",
)


@cache
def job(columns: int, rows: int, paper: str, across: str) -> Job:
    slots = columns * rows
    text = TEXT.format(paper=paper, slots=slots, columns=columns, across=across)
    return job_of(text + "".join(USES[n % len(USES)].format(n=n) for n in range(1, slots + 1)))


@pytest.mark.parametrize("columns", range(1, MOST_COLUMNS + 1))
@pytest.mark.parametrize("name", NAMES)
def test_a_panel_of_many_columns(name: str, columns: int) -> None:
    paper = ("letter", "a4")[columns // 2 % 2]
    across = ", numbered across" if columns % 3 else ""
    of_sheet = import_module(f"rigfolio.sheets.{name}")
    pages: tuple[Page, ...] = of_sheet.pages(job(columns, 1 + 11 % (columns + 1), paper, across))
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    if name in SHOWS_ALL:
        seen = words(pages)
        assert "…" not in seen
        assert "Refrigerator compressor" in seen.replace("\n", " ")
