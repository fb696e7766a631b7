"""The work that a change asks for: new told from old, made dead as it stands, one or two pages."""

import re

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.label_rigs import off_paper, words as words_of
from helpers.page_checks import overlaps
from rigfolio.folio.versions import compared
from rigfolio.job import Again, Job, Wish
from rigfolio.judgement.result import Result, check, job_of
from rigfolio.operating import numbered_points, short_stages
from rigfolio.record import replace
from rigfolio.sheets import pick_list, test_sheet, work_plan
from rigfolio.swap.changed import work_since
from rigfolio.swap.power import WorkPart
from rigfolio.swap.retest import wanted_since

NEW = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
# As found: a main fuse and a feeder that do not fit each other, a pump on a thin wire in a slot
# that cooked elsewhere, a stereo where the porch lamps are to be, a colour that nobody had read.
PORCH = NEW[NEW.index('circuit P1.11 "Porch') : NEW.index("slot P1.12 spare")]
STEREO = 'circuit P1.11 "Stereo" fuse 10 A\n    wire 16 AWG tan 9 ft\n    load "Stereo" 3 A\n'
OLD = (
    NEW.replace("wire  F1      to S1.line  6 AWG red ", "wire  F1  to S1.line   8 AWG red ")
    .replace('"Battery fuse"        50 A', '"Battery fuse"        80 A')
    .replace("wire  S1.load to P1       6 AWG black", "wire  S1.load to P1    8 AWG black")
    .replace('P1.2 "Water pump"             fuse 10 A', 'P1.12 "Water pump" fuse 20 A')
    .replace("14 AWG yellow 11 ft", "16 AWG yellow 11 ft")
    .replace(PORCH, STEREO)
    .replace("slot P1.12 spare", "slot P1.2 spare\nnote P1.2 scorched")
    .replace("16 AWG violet 16 ft", "16 AWG ? 16 ft")
)  # fmt: skip


@cache
def judged(text: str) -> Result:
    return check("wren.rig", text=text)


@cache
def between(old: str, new: str) -> tuple[Again, tuple[WorkPart, ...]]:
    was, now = judged(old), judged(new)
    assert now.study is not None
    _, again = compared(was, now)
    return again, work_since(now.study, again)


@cache
def job_between(old: str, new: str) -> Job:
    again, _ = between(old, new)
    only = frozenset(again.labels) | frozenset(again.tags)
    return replace(job_of(judged(new)), wish=Wish(only=only, since=again))


def told(title: str, old: str = OLD, new: str = NEW) -> str:
    found = [part for part in between(old, new)[1] if part.title.startswith(title)]
    return "\n".join(f"{task.do} | {task.see}" for part in found for task in part.tasks)


def test_new_is_told_from_old_outside_the_panel_too() -> None:
    replaced = told("Replace")
    assert "W2 6 AWG RD, 3 ft: F1.load to S1.line | 6 AWG, was 8 AWG; each end:" in replaced
    assert "F1 Battery fuse: 50 A fuse, was 80 A fuse" in replaced
    assert "P1.2/1 14 AWG YE, 11 ft: P1.2 to Pump + | from P1.12 to P1.2; 14 AWG, was" in replaced
    assert (
        "P1.11 Porch and step lamps: 5 A tan fuse, was 10 A red fuse | the old one out" in replaced
    )
    assert "Porch lamp at P1.11: fit it" in told("Pull and fit new")
    assert told("Remove") == "Stereo | "
    mended = "P1.2 Water pump: was scorched | find what made it hot; renew the part and what the"
    assert told("Mend") == f"{mended} heat reached"
    assert "P1.5" not in replaced
    (before, *_) = between(OLD, NEW)[1]
    assert any("nothing is bought or moved for it: P1.5/1" in line for line in before.about)


def test_feeders_have_the_torque_of_the_part_at_each_end() -> None:
    text = NEW.replace('"Battery disconnect"  100 A', '"Battery disconnect"  100 A, torque 5 Nm')
    text = text.replace("6 AWG red    3 ft", "6 AWG red    3 ft, ends ring M6 and ring M8")
    replaced = told("Replace", OLD, text)
    assert "at F1.load: ring M6; at S1.line: ring M8, torque 5 Nm" in replaced


def test_it_is_made_dead_as_it_stands() -> None:
    # A second battery that is taken out feeds the panel until it is: only the old text knows it.
    battery = (
        'battery B2 "Old bank" flooded, 90 Ah\nwire B2+ to P1 6 AWG red 3 ft, fuse 40 A at P1\n'
    )
    battery += "wire B2- to N1 6 AWG white 3 ft\n"
    dead = told("Make it dead", NEW + battery, NEW)
    assert "B2" in dead
    assert "B2" in told("Remove", NEW + battery, NEW)
    live = told("Power back", NEW + battery, NEW) + told("Live", NEW + battery, NEW)
    assert "B2" not in live


def test_a_new_charger_stays_off_until_all_is_read() -> None:
    line = 'solar U2 "Second roof" 10 A\nwire U2+ to B1+ 10 AWG red 9 ft, fuse 15 A at B1+\n'
    line += "wire U2- to B1- 10 AWG black 9 ft\n"
    assert "U2 Second roof: cover the panels" in told("Power back", NEW, NEW + line)
    assert "U2 Second roof: on again" in told("Live: what charges", NEW, NEW + line)


def test_only_what_changed_is_read_and_keeps_its_number() -> None:
    study = judged(NEW).study
    assert study is not None
    radio = NEW.replace('"Radio"                  fuse 5 A', '"Radio"           fuse 7.5 A')
    again, parts = between(radio, NEW)
    every = list(numbered_points(short_stages(study)))
    wanted = wanted_since(study, again)
    numbers = [number for number, _, step, _ in every if wanted(step)]
    tried = {step.circuit for _, _, step, _ in every if wanted(step)} - {""}
    assert tried == {"P1.7"}
    text = "\n".join(task.do for part in parts for task in part.tasks)
    assert [number for number, *_ in every if f"[{number}]" in text] == numbers
    assert 2 < len(numbers) < len(every) / 2
    assert {row[0] for row in test_sheet.table(job_between(radio, NEW))[1:]} == set(numbers)


def test_a_feed_that_changed_has_the_whole_rig_read_under_load() -> None:
    assert "F1 = ___ A" in told("Live: all that can run together")
    study = judged(NEW).study
    assert study is not None
    wanted = wanted_since(study, None)
    assert all(wanted(step) for _, _, step, _ in numbered_points(short_stages(study)))


def test_what_only_the_text_knows_asks_for_tags_alone() -> None:
    unread = NEW.replace("16 AWG violet 16 ft", "16 AWG ? 16 ft")
    titles = [part.title for part in between(unread, NEW)[1]]
    assert titles == [
        "Before you touch anything", "Tag each wire before it is touched", "Label", "Hand over",
    ]  # fmt: skip


@pytest.mark.parametrize("old", [OLD, NEW.replace("fuse 50 A at P1", "fuse 60 A at P1")])
def test_it_is_one_or_two_pages_with_nothing_cut(old: str) -> None:
    job = job_between(old, NEW)
    pages = work_plan.pages(job)
    assert len(pages) <= 2
    for page in (*pages, *test_sheet.pages(job), *pick_list.pages(job)):
        assert overlaps(page) == ()
        assert off_paper(page) == []
    seen = words_of(pages)
    assert seen.count("☐") == sum(len(part.tasks) for part in between(old, NEW)[1])


def test_the_pick_list_buys_what_is_new_and_not_the_trailer() -> None:
    rows = pick_list.table(job_between(OLD, NEW))
    wires = {place for row in rows if row[0] == "Wire" for place in row[4].split()}
    assert wires == {"W2", "W3", "P1.2/1", "P1.2/1R", "P1.11/1", "P1.11/1R"}
    assert {row[4] for row in rows if row[0] == "Fuses"} == {"F1", "P1.2", "P1.11"}


BLOCKS = [
    (file, number)
    for file in ("heron-van", "kittiwake-30", "marsh-wren-17")
    for number in (3, 9, 17, 24)
]


@cache
def whole(name: str) -> Result:
    file = EXAMPLES / f"{name}.rig"
    return check(str(file), text=file.read_text(encoding="utf-8"), instead={})


@pytest.mark.parametrize(("name", "number"), BLOCKS)
def test_whatever_comes_or_goes_is_planned_on_two_pages(name: str, number: int) -> None:
    file = EXAMPLES / f"{name}.rig"
    text = file.read_text(encoding="utf-8")
    every = re.split(r"^(?=\S)", text, flags=re.MULTILINE)
    parts = [one for one in every if re.match(r"(?!rig|state|#|photo|note|ac )\w", one)]
    gone = parts[number % len(parts)]
    results = whole(name), check(str(file), text=text.replace(gone, "", 1), instead={})
    for was, now in (results, results[::-1]):
        if was.study is None or now.study is None:
            continue
        _, again = compared(was, now)
        only = frozenset(again.labels) | frozenset(again.tags)
        job = replace(job_of(now), wish=Wish(only=only, since=again))
        pages = work_plan.pages(job)
        # Without its panel nothing of a rig is as it was.
        assert len(pages) <= (3 if gone.startswith("panel") else 2)
        for page in (*pages, *test_sheet.pages(job), *pick_list.pages(job)):
            assert overlaps(page) == ()
        assert again.work, gone
