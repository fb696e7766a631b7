"""Findings first, nothing called safe; and the frame that every sheet shares."""

import re

import pytest
from hypothesis import given, strategies as st

from helpers.label_rigs import FEW, marsh_wren, off_paper, printed, words
from helpers.page_checks import overlaps
from rigfolio.draw.frame import body, framed
from rigfolio.draw.page import PAPERS, Page
from rigfolio.draw.table import Column, Row, Table, flow
from rigfolio.findings import Finding, Label, Severity, Span
from rigfolio.record import replace
from rigfolio.reports import DEFERS
from rigfolio.sheets import findings


def test_dangers_stand_in_full_on_the_first_page():
    first = printed(findings.pages(marsh_wren()))[0].text
    for phrase in (
        "Marsh Wren 17", "revision 2026-03-14", "rule book rv: towables (NFPA 70 552.10)",
        "3f9a61c204d7", "Found under rule book rv: 1 danger, 1 unknown.",
        "20 A fuse, 16 AWG may carry 8 A", "P1.4 Roof fan", "fuse 7.5 A", "fuse-over-wire",
        "(memory)", "1 thing cannot be judged", DEFERS,
        "P1.1, P1.2, P1.3, P1.4, P1.5, P1.8, P1.9, circuit S1.line: each is taken to return to N1",
    ):  # fmt: skip
        assert phrase in first


def test_many_findings_run_on_and_are_counted_on_the_first_page():
    job = marsh_wren()
    pages = findings.pages(replace(job, findings=job.findings * 40))
    seen = printed(pages)
    assert len(seen) > 1
    assert "40 dangers, 40 unknowns" in seen[0].text
    here = seen[0].text.count("20 A fuse, 16 AWG may carry")
    says = f"come first: {here} on this page, {40 - here} more on the pages that follow"
    assert 0 < here < 40
    assert says in seen[0].text
    assert "Dangers and faults: 40, continued" in seen[1].text
    assert " ".join(page.text for page in seen).count("20 A fuse, 16 AWG may carry") == 40
    assert "page 1 of" in seen[0].text


@pytest.mark.parametrize("kept", [0, 1, 2])
def test_nothing_is_ever_called_safe(kept):
    job = marsh_wren()
    seen = words(findings.pages(replace(job, findings=job.findings[2 - kept :])))
    assert re.search(r"\b(safe|ok|okay|passed|approved|compliant)\b", seen.lower()) is None
    wanted = ("no findings under rule book rv", "1 thing cannot be judged under rule book rv",
              "Found under rule book rv: 1 danger, 1 unknown")  # fmt: skip
    assert wanted[kept] in seen


def test_advice_alone_is_listed_and_counted():
    job = marsh_wren()
    advice = Finding("spare-slots", Severity.ADVICE, "no spare slot", job.findings[0].at)
    seen = words(findings.pages(replace(job, findings=(advice, advice))))
    assert "Found under rule book rv: 2 pieces of advice" in seen
    assert re.search(r"ADVICE \S.* no spare slot", seen)


def test_a_finding_without_a_part_names_no_path():
    job = marsh_wren()
    whole = replace(job.findings[0], at=Label(Span("/home/someone/wren.rig", 0, 0)))
    seen = words(findings.pages(replace(job, findings=(whole,))))
    assert "the text as a whole" in seen
    assert "someone" not in seen


def test_same_pages_twice():
    assert findings.pages(marsh_wren()) == findings.pages(marsh_wren())


@FEW
@given(
    name=st.text("Ww iÅж", min_size=1, max_size=80),
    paper=st.sampled_from(sorted(PAPERS)),
    turned=st.booleans(),
)
def test_the_frame_fits_any_paper_and_name(name, paper, turned):
    size = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    wide, high = size[::-1] if turned else size
    strip = (name, f"revision {name}", "rule book vehicle", "text 3f9a61c204d7")
    page = framed(wide, high, name, strip, (), note=name, page="12 of 345")
    assert overlaps(page) == ()
    assert off_paper(page, 10.0) == []
    left, top, across, down = body(wide, high)
    assert (left, top) == (10.0, 10.0)
    assert left + across == pytest.approx(wide - 10.0)
    assert top + down < high - 26.0


@FEW
@given(
    cells=st.lists(st.text("Wi Åж", max_size=200), min_size=1, max_size=60),
    taken_mm=st.floats(0, 150),
)
def test_tables_run_over_pages_without_overlap(cells, taken_mm):
    columns = (Column("number", 10, bold=True), Column("text", 60), Column("again", 40))
    rows = tuple(Row((str(number), text, text)) for number, text in enumerate(cells))
    area = body(210.0, 297.0)
    pages = flow((Table(columns, rows, "All"), Table(columns, rows, "Twice")), area,
                 taken_mm=taken_mm)  # fmt: skip
    shown = []
    for marks in pages:
        page = Page(210.0, 297.0, marks)
        assert overlaps(page) == ()
        assert off_paper(page, 10.0) == []
        shown += [mark.text for mark in marks if getattr(mark, "bold", False)]
    assert [text for text in shown if text.isdigit()] == [str(i) for i in range(len(cells))] * 2
