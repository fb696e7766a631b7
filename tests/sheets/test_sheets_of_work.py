"""What holds of every sheet of the working day, for the examples and for any rig.

No two texts overlap, none leaves its frame, none is cut or smaller than 7 pt, all are dark enough;
every circuit, slot and wire is found where it belongs; the same text gives the same bytes.
"""

from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.label_rigs import off_paper
from helpers.page_checks import overlaps
from helpers.studies import job_from
from helpers.work_rigs import GENERATED, LONGEST, two_panels
from rigfolio.draw.extents import text_box
from rigfolio.draw.frame import FLOOR_PT, STRIP_MM, body
from rigfolio.draw.page import Page, contrast, texts
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import (
    calculation,
    demand_and_energy,
    photo,
    pick_list,
    survey,
    test_sheet,
    work_plan,
)

SHEETS = (survey, work_plan, test_sheet, pick_list, photo, demand_and_energy, calculation)
SLACK_MM = 0.05
FEW = settings(max_examples=8, deadline=None, derandomize=True)


@cache
def job_of(text: str) -> Job:
    """What the sheets are given of a text, read and judged once for all of them."""
    result = check("reed.rig", text=text)
    assert result.study is not None, result.findings
    return job_of_result(result)


def prove_paper(pages: tuple[Page, ...]) -> None:
    """Every text stands by itself, whole, dark and large enough, in the body or in the strip."""
    assert pages
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
        _, top, _, high = body(page.width_mm, page.height_mm)
        strip_mm = page.height_mm - 10.0 - STRIP_MM
        in_body = 0
        for mark in texts(page):
            _, above, _, below = text_box(mark)
            assert contrast(mark.colour, "#ffffff") >= 4.5
            if above >= strip_mm - SLACK_MM:
                continue
            in_body += 1
            assert top - SLACK_MM <= above < below <= top + high + SLACK_MM, mark.text
            assert mark.size_pt >= FLOOR_PT - 1e-6, mark.text
            blanks = mark.text.replace("………", "").strip("…")
            assert "…" not in blanks, mark.text
        assert in_body


def said(pages: tuple[Page, ...]) -> str:
    return f" {' '.join(mark.text for page in pages for mark in texts(page))} "


def missing(job: Job, sheet: ModuleType, words: str) -> list[str]:
    """The names that belong on a sheet and are not on it."""
    rig = job.rig
    panels = {panel.about.name: panel for panel in rig.panels}
    slots = [f"{name}.{slot}" for name, p in panels.items() for slot in range(1, p.slots + 1)]
    circuits = [circuit.place for circuit in rig.circuits]
    feeds = [wire.name for wire in rig.conductors if not wire.circuit and not wire.lead]
    wires = [wire.name for wire in rig.conductors if not wire.lead]
    at_panels = {panel.feed for panel in rig.panels} | {p.negative for p in rig.panels}
    of_panels = {"", *(circuit.place for circuit in rig.circuits if circuit.panel)}
    landing = [
        wire.name for wire in rig.conductors
        if {wire.a, wire.b} & at_panels and wire.circuit in of_panels and not wire.assumed
    ]  # fmt: skip
    belongs = {
        survey: [*slots, *circuits, *feeds],
        work_plan: [*(c.place for c in rig.circuits if c.panel), *landing],
        test_sheet: [c.place for c in rig.circuits if c.panel],
        pick_list: wires,
        demand_and_energy: [*panels, *circuits, *(s.about.name for s in rig.sources)],
        calculation: [*circuits, *feeds],
        photo: [],
    }[sheet]
    plain = words
    for sign in ",:;()":
        plain = plain.replace(sign, " ")
    # A name may go on in a new line between its words, and behind the stroke between two ends; no
    # other word of it is divided.
    held = set(plain.replace("/", "/ ").split())
    return [name for name in belongs if not held.issuperset(name.replace("/", "/ ").split())]


def prove(job: Job, sheet: ModuleType) -> tuple[Page, ...]:
    pages: tuple[Page, ...] = sheet.pages(job)
    prove_paper(pages)
    assert missing(job, sheet, said(pages)) == []
    return pages


@cache
def job_anew(file: Path) -> Job:
    """An example read and judged once more."""
    return job_of_result(check(str(file)))


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.SHEET.file)
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_examples(file: Path, sheet: ModuleType) -> None:
    pages = prove(job_from(file), sheet)
    first, again = (write_pdf(one, title="x") for one in (pages, sheet.pages(job_anew(file))))
    assert first == again


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.SHEET.file)
@pytest.mark.parametrize("seed", [1, 2])
def test_sixty_slots_over_two_panels_with_the_longest_words(seed: int, sheet: ModuleType) -> None:
    prove(job_of(two_panels(40, 20, LONGEST, seed)), sheet)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.SHEET.file)
def test_any_rig(sheet: ModuleType) -> None:
    @FEW
    @given(text=GENERATED)
    def any_rig(text: str) -> None:
        prove(job_of(text), sheet)

    any_rig()


@pytest.mark.parametrize(
    "sheet", [survey, test_sheet, pick_list], ids=lambda sheet: sheet.SHEET.file
)
def test_the_table_holds_every_line(sheet: ModuleType) -> None:
    job = job_of(two_panels(40, 20, LONGEST, 3))
    heads, *rows = sheet.table(job)
    assert rows
    assert {len(row) for row in rows} == {len(heads)}
    assert sheet.table(job) == sheet.table(job)
