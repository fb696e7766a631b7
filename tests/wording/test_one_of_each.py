"""Of one thing nothing says several: all that is printed of rigs with one of everything."""

import re
from importlib import import_module

import pytest

from helpers.forgotten import cache
from helpers.home import CORPUS, TESTS
from helpers.studies import job_from
from rigfolio.answers.arrange import arrangements, arranging_report
from rigfolio.draw.page import Page, texts
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.reports.terminal import as_text
from rigfolio.sheet import sheet_facts, sheet_names
from rigfolio.wording import how_many

ONE = re.compile(r"(?<![\w.,/×+~:-])(?<!\d )1 (?P<noun>[a-z]{3,}s)\b(?!/)")
SINGULAR = {"chassis", "bus", "minus", "plus", "was", "has", "its", "this", "less", "needs",
            "stands", "takes", "gives", "times", "goes", "sits", "carries", "amps",
            "volts"}  # fmt: skip
RIG = """rig "One"
    system 12 V
    rules rv
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
fuse F1 "Main" 30 A on B1+
charger C1 "Charger" 10 A
panel P1 "Panel" 1 slot of 20 A, pitch 14 mm
busbar N1 "Minus" 100 A, 1 ways
connector J1 "Plug" 1 pin of 30 A
wire F1 to P1 10 AWG red 1 ft
wire N1 to B1- 10 AWG black 1 ft
wire C1+ to B1+ 12 AWG red 1 ft, fuse 15 A at B1+
wire C1- to N1 12 AWG black 1 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 1 ft
    load "Lamp" 1 A, 1 h/day
"""
OTHERS = RIG.replace("fuse 5 A\n", "fuse 30 A, found 40 A, melted\n").replace("14 AWG", "18 AWG")


def several(text: str) -> list[str]:
    """Where one thing is said to be several, with what stands around it."""
    flat = " ".join(text.split())
    return [
        flat[max(found.start() - 20, 0) : found.end() + 10]
        for found in ONE.finditer(flat)
        if found["noun"] not in SINGULAR
    ]


@cache
def job_from_text(text: str) -> Job:
    """What sheets are given of a text, read and judged once for all of them."""
    return job_of(check("one.rig", text=text))


def said(pages: tuple[Page, ...]) -> str:
    """The words of all pages, as they are drawn one after another."""
    return " ".join(mark.text for page in pages for mark in texts(page))


def test_how_many() -> None:
    # By hand: 1 has no s; a word on ch, s or x takes es.
    words = [how_many(n, noun) for n, noun in ((1, "wire"), (0, "wire"), (2, "switch"), (3, "bus"))]
    assert words == ["1 wire", "0 wires", "2 switches", "3 buses"]


def test_the_search_finds_what_it_is_there_for() -> None:
    assert several("it has 1 circuits, 11 circuits") == ["it has 1 circuits, 11 circu"]
    assert several("P1.1 lamps; 1.1 wires; 1 chassis; 21 wires; 1 wire") == []


@pytest.mark.parametrize("name", sheet_names())
@pytest.mark.parametrize("text", [RIG, OTHERS], ids=["sound", "to be mended"])
def test_no_sheet_says_several_of_one(name: str, text: str) -> None:
    if not sheet_facts(name).needs_pictures:
        pages = import_module(f"rigfolio.sheets.{name}").pages(job_from_text(text))
        assert several(said(pages)) == []


@pytest.mark.parametrize("file", CORPUS, ids=lambda file: file.stem)
@pytest.mark.parametrize("name", ["work_plan", "at_the_panel", "panel_directory"])
def test_no_sheet_of_the_corpus_does(file, name: str) -> None:
    pages = import_module(f"rigfolio.sheets.{name}").pages(job_from(file))
    assert several(said(pages)) == []


def test_no_printout_does() -> None:
    goldens = sorted((TESTS / "printed" / "goldens").rglob("*.txt"))
    assert goldens
    wrong = {file.name: found for file in goldens
             if (found := several(file.read_text(encoding="utf-8")))}  # fmt: skip
    assert wrong == {}


def test_one_circuit_is_moved_or_not() -> None:
    study = check("one.rig", text=RIG).study
    assert study is not None
    assert several(as_text(arranging_report(study, arrangements(study)))) == []
