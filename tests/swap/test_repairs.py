"""What is put right outside panels and in them: what was found gives way to what belongs there."""

from pathlib import Path

import pytest

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.judgement.result import check
from rigfolio.study import Study
from rigfolio.swap.plan import work
from rigfolio.swap.power import WorkPart
from rigfolio.swap.repairs import TITLE, work_elsewhere

RIG = """\
rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 50 A, interrupts 10 kA on B1+
disconnect S1 100 A
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
charger C1 20 A
wire F1.load to S1.line 6 AWG red 2 ft
wire S1.load to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 4 ft
wire C1+ to P1 10 AWG red 4 ft, fuse 30 A at P1
wire C1- to N1 10 AWG black 4 ft
circuit P1.1 "Lamp" fuse 7.5 A
    wire 14 AWG red 9 ft
    load "Lamp" 1 A
circuit P1.2 "Riddle" fuse ? A
    wire 14 AWG blue 9 ft
    load "not known yet" ? A
"""


@cache
def studied(text: str) -> Study:
    study = check("hut.rig", text=text).study
    assert study is not None
    return study


def told(parts: tuple[WorkPart, ...], title: str) -> str:
    return "\n".join(t.do for part in parts if part.title.startswith(title) for t in part.tasks)


def test_what_is_as_it_belongs_asks_for_no_work_outside_panels() -> None:
    assert work_elsewhere(studied(RIG)) == ()
    assert TITLE not in {part.title for part in work(studied(RIG), "P1")}


@pytest.mark.parametrize(
    ("was", "now", "name", "words"),
    [
        ("fuse F1 50 A", "fuse F1 50 A, found 80 A", "F1",
         "F1: take out the 80 A that was found; fit 50 A fuse"),
        ("fuse 30 A at P1", "fuse 30 A at P1, found 40 A", "C1+/P1 fuse",
         "C1+/P1 fuse: take out the 40 A that was found; fit 30 A"),
        ("S1.load to P1 6 AWG red", "S1.load to P1 6 AWG red, found 10 AWG", "P1/S1.load",
         "take out the 10 AWG that was found; pull 6 AWG, 3 ft"),
        ("busbar N1 100 A", "busbar N1 100 A, loose", "N1", "mend: N1 is loose"),
        ("N1 to B1- 6 AWG black 4 ft", "N1 to B1- 6 AWG black 4 ft, corroded", "B1-/N1",
         "mend: wire B1-/N1 is corroded"),
        ("busbar N1 100 A", "busbar N1 100 A\nload L9 1 A, corroded\n"
         "wire S1.load to L9+ 16 AWG 2 ft, fuse 3 A at S1.load\nwire L9- to N1 16 AWG 2 ft", "L9",
         "mend: L9 is corroded"),
    ],
)  # fmt: skip
def test_what_was_found_outside_panels_is_put_right_while_it_is_dead(
    was: str, now: str, name: str, words: str
) -> None:
    parts = work_elsewhere(studied(RIG.replace(was, now)))
    titles = [part.title for part in parts]
    assert titles.index("Make it dead, and prove it") < titles.index(TITLE)
    assert titles.index(TITLE) < titles.index("Power back")
    assert words in told(parts, TITLE)
    assert f"both ends of {name}" in told(parts, "Make it dead")
    assert work_elsewhere(studied(RIG.replace(was, now)), {name}) == parts
    assert work_elsewhere(studied(RIG.replace(was, now)), {"P1.1"}) == ()


def test_damage_in_a_panel_is_mended_before_its_fuses_are_laid_ready() -> None:
    text = RIG.replace('"Lamp" fuse 7.5 A', '"Lamp" fuse 7.5 A, melted') + "note P1.3 scorched\n"
    parts = work(studied(text), "P1")
    assert "mend: P1.1 Lamp is melted" in told(parts, TITLE)
    assert "mend: P1.3 is scorched" in told(parts, TITLE)
    titles = [part.title for part in parts]
    assert titles.index("Make it dead, and prove it") < titles.index(TITLE)
    assert titles.index(TITLE) < titles.index("Label each slot")


def test_no_fuse_is_laid_ready_whose_rating_nobody_knows() -> None:
    slots = told(work(studied(RIG), "P1"), "Label each slot")
    assert "P1.2: label on; NO FUSE GOES IN until its wire and load are known" in slots


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_device_outside_panels_that_is_another_one_is_named(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    text = told(work_elsewhere(study), TITLE)
    starts = {circuit.device for circuit in study.rig.circuits if circuit.panel}
    for device in study.rig.devices:
        is_other = isinstance(device.found_a, float) and device.found_a != device.rating_a
        if is_other and not device.in_slot and device.about.name not in starts:
            assert device.about.name in text


def test_another_wire_is_pulled_in_a_circuit_and_not_moved() -> None:
    """Until the text no longer says what was found, no fuse of the new wire is laid ready."""
    old = "wire 14 AWG red 9 ft"
    text = RIG.replace("fuse 7.5 A", "fuse 15 A").replace(old, f"{old}, found 18 AWG, tag T1")
    parts = work(studied(text), "P1")
    assert "take out the 18 AWG that was found; pull 14 AWG, 9 ft" in told(parts, TITLE)
    assert "18 AWG was found there: the tag goes on the new one" in told(parts, "Tag each wire")
    assert "T1" not in told(parts, "Move and fit")
    slots = told(parts, "Label each slot")
    assert "P1.1: label on; NO FUSE GOES IN: 15 A blue fuse is too large" in slots
    as_it_belongs = work(studied(RIG.replace(old, f"{old}, tag T1")), "P1")
    assert "T1" in told(as_it_belongs, "Move and fit")
    assert TITLE not in {part.title for part in as_it_belongs}
