"""Ways out: tried before they are offered, tried together, written where they belong."""

import json
import re
from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY
from helpers.label_rigs import words
from helpers.studies import checked
from rigfolio.cli.entry import main
from rigfolio.findings import Severity
from rigfolio.judgement.many import FIRST, check_tried, tried_for_print
from rigfolio.judgement.messages.objects import as_json
from rigfolio.judgement.messages.report import MOST_OF_A_RULE, as_text
from rigfolio.judgement.messages.short import as_summary
from rigfolio.judgement.result import check, job_of
from rigfolio.judgement.trial import together, tried
from rigfolio.lang import apply
from rigfolio.sheets import findings
from rigfolio.worsening import moved_by

HEAD = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 20 mohm
fuse F1 50 A class-t on B1+
panel P1 20 slots of 30 A
busbar N1 100 A
wire F1.load to P1 6 AWG red 4 ft
wire N1 to B1- 6 AWG white 4 ft
"""
OVER = """\
circuit P1.{number} "Lamp {number}" fuse {rating} A   # fuse 99 A
    wire 16 AWG red {feet} ft
    load "Lamp" {amps} A
"""


def over(number=1, rating=20, amps=1, feet=6):
    return OVER.format(number=number, rating=rating, amps=amps, feet=feet)


def fixes(text, **how):
    result = tried(check("plover.rig", text=text), **how)
    return {one.rule: one.fix for one in result.findings if one.fix is not None}


def written(text, edits):
    for edit in sorted(edits, key=lambda one: -one.span.start):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


def test_a_smaller_fuse_that_serves_wire_and_load_is_an_edit():
    text = HEAD + over()
    fix = fixes(text)["fuse-over-wire"]
    assert (fix.kind, fix.is_tried) == ("safe", True)
    assert written(text, fix.edits) == text.replace("fuse 20 A", "fuse 7.5 A")


def test_a_way_out_that_starves_the_load_is_not_offered():
    """7.5 A would do for the wire; 7 A of lamps for hours would then be over 80 % of it."""
    fix = fixes(HEAD + over(amps=9))["fuse-over-wire"]
    assert fix.kind == "ask"
    assert "AWG" in fix.text
    assert not any(edit.text.strip() == "7.5 A" for edit in fix.edits)


def test_one_that_only_moves_the_trouble_is_taken_back():
    """Thicker copper lets more flow in a short than the branch fuses break."""
    text = HEAD.replace("internal 20 mohm", "internal 3 mohm").replace(
        "6 AWG red 4 ft", "8 AWG red 9 ft"
    ) + over(rating=5).replace("fuse 5 A", "fuse 5 A, interrupts 1 kA")
    before = {one.rule for one in check("plover.rig", text=text).findings}
    for fix in fixes(text).values():
        if fix.is_tried:
            after = check("plover.rig", text=written(text, fix.edits)).findings
            assert {one.rule for one in after if one.severity.value != "advice"} <= before


def test_what_was_not_tried_is_not_printed():
    count = FIRST + 3
    text = HEAD + "".join(over(number) for number in range(1, count + 1))
    result = tried(check("plover.rig", text=text), FIRST)
    assert result.untried == 3
    offered = [one for one in result.findings if one.fix is not None and one.fix.is_tried]
    assert len(offered) == FIRST
    told = as_text([result], every=True)
    assert told.count("= fix: ") == FIRST
    assert "plover.rig: 3 more fixes were not tried" in told
    raw = as_text([check("plover.rig", text=text)], every=True)
    assert "= fix: " not in raw
    found = json.loads(as_json([result]))["files"][0]["findings"]
    assert sum(bool(one["fix"]) for one in found) == FIRST
    found = json.loads(as_json([check("plover.rig", text=text)]))["files"][0]["findings"]
    assert sum(bool(one["fix"] and one["fix"]["edits"]) for one in found) == count


def test_paper_offers_a_way_out_for_each_finding_or_says_that_none_was_tried():
    """The plan of the work leads to the sheet of findings for it."""
    text = HEAD + "".join(over(number) for number in range(1, FIRST + 4))
    result = check("plover.rig", text=text)
    sheet = words(findings.pages(job_of(tried_for_print(result))))
    assert sheet.count("fuse-over-wire;") == FIRST + 3
    assert "none offered" not in sheet
    assert "not tried" not in sheet
    few = words(findings.pages(job_of(tried(result, FIRST))))
    assert few.count("not tried for this print: rigfolio check --fix tries it") == 3
    assert "none offered" not in few


@pytest.mark.parametrize("file", [*FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_each_finding_has_something_to_be_done(file):
    for one in tried(checked(file)).findings:
        assert one.way_out or one.severity.value == "error"
        assert not one.is_untried


def test_the_edits_for_programs_have_places_and_words():
    text = HEAD + over()
    found = json.loads(as_json([check("plover.rig", text=text)]))["files"][0]["findings"]
    (fix,) = [one["fix"] for one in found if one["rule"] == "fuse-over-wire"]
    (edit,) = fix["edits"]
    line = text.split("\n")[edit["line"] - 1]
    assert line[edit["column"] - 1 : edit["end_column"] - 1] == edit["old"] == "20 A"
    assert edit["new"] == "7.5 A"
    assert fix["together"]


def test_many_go_together():
    text = HEAD + over(1) + over(2) + over(3)
    result = tried(check("plover.rig", text=text))
    mended = together(result)
    assert len(mended.findings) == 3
    again = check("plover.rig", text=written(text, mended.edits["plover.rig"]))
    assert again.exit_code == 0
    assert again.findings == mended.result.findings


def test_two_for_one_place_do_not_undo_each_other():
    """30 A in a slot of 20 A before wire that bears 8 A: one rule alone would ask for 20 A."""
    text = HEAD.replace("slots of 30 A", "slots of 20 A") + over(1, rating=30) + over(2, rating=30)
    result = tried(check("plover.rig", text=text))
    edits = together(result, ("safe", "ask")).edits["plover.rig"]
    assert len({edit.span for edit in edits}) == len(edits) == 2
    assert {edit.text for edit in edits} == {"7.5 A"}


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_edits_go_into_the_file_that_is_included(folder, capsys):
    Path("part.rig").write_text(over(), encoding="utf-8")
    Path("plover.rig").write_text(HEAD + 'include "part.rig"\n', encoding="utf-8")
    assert main(["check", "plover.rig", "--fix"]) == 1
    told = capsys.readouterr().out
    assert "--- part.rig\n+++ part.rig, mended\n" in told
    assert '-circuit P1.1 "Lamp 1" fuse 20 A' in told
    assert Path("part.rig").read_text(encoding="utf-8") == over()
    # Until the 20 A fuse that is in the slot was swapped, the danger stays.
    assert main(["check", "plover.rig", "--fix", "--write"]) == 1
    mended = over().replace("20 A", "7.5 A, found 20 A")
    assert Path("part.rig").read_text(encoding="utf-8") == mended
    assert Path("plover.rig").read_text(encoding="utf-8") == HEAD + 'include "part.rig"\n'


def test_only_what_needs_no_question_is_written(folder, capsys):
    Path("plover.rig").write_text(HEAD + over(1) + over(2, amps=9), encoding="utf-8")
    assert main(["check", "plover.rig", "--fix", "--write"]) == 1
    told = capsys.readouterr().out
    assert "this mends 1 finding, and nothing else is worse" in told
    assert "for you to decide" in told
    # The difference stands first; what is left open is below, a line each, with what would mend it.
    assert told.startswith("--- plover.rig\n")
    assert " --> " not in told
    assert re.search(r"\ndanger   P1\.2 .*\n         fix: `", told)
    text = Path("plover.rig").read_text(encoding="utf-8")
    assert text == HEAD + over(1).replace("20 A", "7.5 A, found 20 A") + over(2, amps=9)


def test_write_alone_and_pipes_are_refused(folder, capsys):
    Path("plover.rig").write_text(HEAD + over(), encoding="utf-8")
    assert main(["check", "plover.rig", "--write"]) == 2
    assert "`--fix --write`" in capsys.readouterr().err


def test_each_danger_is_told_in_full():
    count = MOST_OF_A_RULE + 3
    text = HEAD + "".join(over(number) for number in range(1, count + 1))
    result = check_tried_text(text)
    for told in (as_text([result]), as_text([result], every=True)):
        assert told.count("danger[fuse-over-wire]") == count
        assert "more of `fuse-over-wire`" not in told
    assert as_summary([result]).count("danger   ") == count


def blank(number):
    """A circuit of which nobody has read the fuse."""
    return over(number).replace("20 A", "?")


def test_of_what_is_not_surveyed_the_first_is_shown_and_the_rest_counted():
    result = check("plover.rig", text=HEAD + over(1) + "".join(map(blank, range(2, 9))))
    told = as_text([result])
    assert told.count("danger[fuse-over-wire]") == 1
    assert told.count("unknown[not-surveyed]") == 1
    assert "plover.rig: 6 more of `not-surveyed`, `check --all` shows them" in told
    every = as_text([result], every=True)
    assert every.count("unknown[not-surveyed]") == 7
    assert "more of" not in every


def check_tried_text(text):
    return tried(check("plover.rig", text=text))


def test_a_summary_has_a_line_a_finding_that_opens_with_its_place():
    text = HEAD + over(1) + over(2) + 'busbar N1 "Once more"\n'
    lines = as_summary([check("plover.rig", text=text)]).split("\n")
    assert [line for line in lines if line.startswith("danger")] == [
        f"danger   P1.{n} Lamp {n}: 20 A fuse, 16 AWG may carry 8 A" for n in (1, 2)
    ]
    (fault,) = [line for line in lines if line.startswith("fault")]
    assert fault.startswith("fault    N1 Once more: ")


def test_a_summary_is_short_where_one_rule_says_much():
    count = MOST_OF_A_RULE + 3
    found = check("plover.rig", text=HEAD + "".join(map(blank, range(1, count + 1))))
    said = as_summary([found])
    assert said.count("unknown  ") == MOST_OF_A_RULE
    assert "3 more of `not-surveyed`, `--all` shows them" in said
    assert as_summary([found], every=True).count("unknown  ") == count


# --- likely fixes of what was not understood ---

NEVER = {
    "battery B1 105 Ah, 250 A": "delivers 250 A",
    "dc-dc E1 30 A, efficiency 0.88": "0.88 %",
    'load L1 "x" 5 A, cyclic, 40 %': "drop 40 %",
    "wire B1+ to P1 6 AWG leads 18 AWG 12": "12 in`,",
    'photo "bay.png"\n    mark P1 at 400 200': "400 %",
    "panel P1 6 slots, pitch 12": "`12 mm`,",
    "sytem 24 V": "system 12 V",
    "wire B1+ to P1 length 12, 6 AWG": "length to",
}


@pytest.mark.parametrize("line", NEVER)
def test_a_likely_fix_never_says_what_the_text_does_not(line):
    text = f'rig "Plover"\n    system 12 V\n{line}\n'
    result = tried(check("plover.rig", text=text))
    assert result.exit_code == 2
    told = [one.fix.text for one in result.findings if one.fix is not None]
    assert told
    assert not any(NEVER[line] in words for words in told)


def test_a_share_below_one_is_that_share():
    result = tried(check("plover.rig", text="dc-dc E1 30 A, efficiency 0.88\n"))
    assert result.findings[0].fix.text == "`88 %`"


def test_a_length_without_a_unit_may_be_any():
    result = tried(check("plover.rig", text="wire B1+ to F1 12\n"))
    told = result.findings[0].fix.text
    assert all(f"`12 {unit}`" in told for unit in ("ft", "in", "m"))


@pytest.mark.parametrize(
    ("bad", "good"),
    [
        ("batery B1 105 Ah", "battery"),
        ("battery B1 105 Ahr", "105 Ah"),
        ("battery B1 floded 105 Ah", "flooded"),
        ("battery B1 7,5 Ah", "7.5 Ah"),
    ],
)
def test_a_likely_fix_parses(bad, good):
    text = f'rig "Plover"\n{bad}\n'
    (finding,) = tried(check("plover.rig", text=text)).findings
    assert finding.fix.is_tried
    assert finding.fix.edits[0].text == good
    assert check("plover.rig", text=written(text, finding.fix.edits)).exit_code != 2


def test_a_name_with_another_figure_is_no_slip():
    """A wire from `B1-` to a bar that is called `BX` in one place and defined in none."""
    text = HEAD + "wire B1- to BX 6 AWG black 2 ft\n"
    fix = fixes(text)["name-not-defined"]
    assert (fix.text, fix.is_edit) == ("a line that says what `BX` is", False)


def test_files_are_tried_in_any_process(folder):
    Path("plover.rig").write_text(HEAD + over(), encoding="utf-8")
    result = check_tried("plover.rig")
    assert any(one.fix is not None and one.fix.is_tried for one in result.findings)


FORBIDDEN = [
    # 18 AWG where 33 CFR 183.435 allows no wire thinner than 16 AWG (as the book cites it).
    ("boat", "fuse 3 A", "26 AWG", ""),
    ("boat", "fuse 3 A", "0.5 mm2", ""),
    ("rv", "fuse 20 A", "16 AWG", ", 10 A in all"),
    ("boat", "fuse 20 A", "20 AWG", ", 10 A in all"),
]


@pytest.mark.parametrize(("book", "fuse", "size", "made"), FORBIDDEN)
def test_no_way_out_writes_what_the_book_forbids(book, fuse, size, made):
    """The gauge or the rating that is written is judged by all rules, not by its own alone."""
    text = f"""rig "Hut"
    system 12 V
    rules {book}
battery B1 flooded, 100 Ah, delivers 900 A
panel P1 4 slots of 30 A{made}, negative N1
busbar N1 100 A
wire B1+ to P1 {size} red 2 ft, {fuse} at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" {fuse}
    wire {size} red 9 ft
    load "Lamp" 0.5 A
circuit P1.2 "Fan" fuse 15 A
    wire 14 AWG red 9 ft
    load "Fan" 2 A
"""
    result = tried(check("hut.rig", text=text))
    offered = [one for one in result.findings if one.fix is not None and one.fix.is_tried]
    assert offered
    for one in offered:
        moved = moved_by(one.fix.edits)
        changed = apply(text, one.fix.edits)
        places = [moved(edit.span)[1] for edit in one.fix.edits]
        for again in check("hut.rig", text=changed).findings:
            at = again.at.span
            is_there = any(at.start <= place < at.end for place in places)
            is_grave = again.severity in (Severity.DANGER, Severity.FAULT)
            held = again.numbers[0][0] if again.numbers else ""
            assert not (is_there and is_grave and held in ("area_m2", "bond_m2", "rating_a")), (
                one.fix.text, again.headline)  # fmt: skip
