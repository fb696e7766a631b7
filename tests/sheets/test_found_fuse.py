"""A fuse that was found where another one belongs: each sheet that is read before tells both.

What is stuck on, or says what to put in, tells what belongs there alone.
"""

import re
from pathlib import Path

import pytest

from helpers.forgotten import cache
from helpers.home import CORPUS, RIGS
from helpers.label_rigs import words
from rigfolio.answers import isolate_report
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.labels import changed_labels
from rigfolio.page import rig_page
from rigfolio.reports.terminal import as_text
from rigfolio.sheets import (
    at_the_panel,
    colour_legend,
    directory_code,
    panel_directory,
    panel_face,
    schematic,
    slot_labels,
)

READ = (at_the_panel, colour_legend, directory_code, panel_directory, panel_face, schematic)
FOUND_A = "27 A"
"""Nothing else in any rig is rated so."""
_SLOT = re.compile(r"^(circuit +[A-Z]+\d+\.\d+ .*?(?:fuse|breaker) +[\d.]+ A)", re.MULTILINE)
_OUTSIDE = re.compile(r"^((?:fuse|breaker) +[A-Z]+\d+ .*?[\d.]+ A)", re.MULTILINE)


def found(file: Path, where: re.Pattern[str]) -> str:
    """The text of a rig in which something else was found in the first such place."""
    return where.sub(rf"\1, found {FOUND_A}", file.read_text("utf-8"), count=1)


def with_place(where: re.Pattern[str]) -> list[Path]:
    return [one for one in (*RIGS, *CORPUS) if where.search(one.read_text("utf-8"))]


@cache
def job(file: Path, where: re.Pattern[str]) -> Job:
    return job_of(check(str(file), text=found(file, where)))


@pytest.mark.parametrize("file", with_place(_SLOT), ids=lambda file: file.stem)
def test_every_sheet_tells_what_is_in_a_slot_now(file: Path) -> None:
    one = job(file, _SLOT)
    assert any(c.found_a == 27.0 for c in one.rig.circuits)
    for sheet in READ:
        said = words(sheet.pages(one)).replace("\N{NO-BREAK SPACE}", " ").lower()
        # Of a wire that several devices guard the legend names how many.
        if sheet is not colour_legend:
            assert "27 a found" in said, sheet.__name__
    assert "27 A" not in words(slot_labels.pages(one))
    before = job_of(check(str(file)))
    assert not changed_labels(before, one)


@pytest.mark.parametrize("file", with_place(_OUTSIDE), ids=lambda file: file.stem)
def test_every_sheet_tells_what_is_outside_now(file: Path) -> None:
    one = job(file, _OUTSIDE)
    assert any(d.found_a == 27.0 for d in one.rig.devices)
    for sheet in (at_the_panel, panel_directory, schematic):
        assert "27 A found" in words(sheet.pages(one)), sheet.__name__


def test_the_page_tells_both() -> None:
    file = with_place(_SLOT)[0]
    result = check(str(file), text=found(file, _SLOT))
    page = rig_page(result, job_of(result))
    (slot,) = [one for face in page.panels for one in face.slots if "27 A found" in one.rating]
    assert slot.rating.startswith("27 A found, ")
    assert slot.rating.replace("\N{NO-BREAK SPACE}", " ") in [
        card.fuse.fitted for card in page.circuits
    ]


def test_the_legend_tells_what_is_there_and_what_belongs() -> None:
    file = next(one for one in RIGS if one.stem == "marsh-wren-17")
    assert "27 A found, 7.5 A brown belongs" in words(colour_legend.pages(job(file, _SLOT)))


def test_who_pulls_a_fuse_is_told_which_one_is_in() -> None:
    file = with_place(_SLOT)[0]
    one = job(file, _SLOT)
    place = next(c.place for c in one.rig.circuits if c.found_a == 27.0)
    assert f"its fuse ({FOUND_A} found, " in as_text(isolate_report(one.study, place))
