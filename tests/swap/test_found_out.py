"""What a change asks for where it was only found out, and what can be read while it is dead."""

from helpers.forgotten import cache
from helpers.hut import HUT
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import Result, check
from rigfolio.swap.changed import work_since
from rigfolio.swap.power import WorkPart

RIDDLE = """\
circuit P1.2 "Old aerial" fuse ? A
    wire 16 AWG violet 9 ft
    load "{label}" ? A
"""
CAMERA = """\
circuit P1.2 "Camera" fuse 2 A
    wire 16 AWG violet 9 ft
    load "Camera" 0.5 A
"""


@cache
def judged(text: str) -> Result:
    return check("hut.rig", text=text)


def plan(was: str, now: str) -> tuple[WorkPart, ...]:
    _, again = compared(judged(was), judged(now))
    study = judged(now).study
    assert study is not None
    return work_since(study, again)


def test_a_riddle_that_was_found_out_is_neither_removed_nor_fitted() -> None:
    for label in ("not known yet", "Not identified", "Unknown 2", "?"):
        parts = plan(HUT + RIDDLE.format(label=label), HUT + CAMERA)
        titles = {part.title for part in parts}
        assert not titles & {"Remove", "Pull and fit new", "Replace, one at a time"}
        assert any("nothing is bought or moved" in words for words in parts[0].about)
        (task,) = [t for part in parts if part.title == "Label" for t in part.tasks]
        assert task.do == "P1.2: label on; 2 A grey fuse belongs there"
        assert task.see.startswith("look whether the fuse that is fitted is that one")


def test_ohms_to_a_battery_are_read_at_the_lead_that_is_lifted_off_it() -> None:
    for was, now in (("50 A, interrupts", "80 A, interrupts"), ('"Lamp" 1 A', '"Lamp" 1 A')):
        parts = plan(HUT.replace(was, now), HUT)
        dead = "".join(t.do for p in parts if p.title.startswith("Make it dead") for t in p.tasks)
        ohms = [p for p in parts if p.title.startswith("Still dead")]
        told = [words for part in ohms for words in part.about if "lead that is still" in words]
        reads = [t.do for part in ohms for t in part.tasks if "to B1- = ___ ohm" in t.do]
        assert bool(told) == bool(reads) == ("lift the minus lead (B1−)" in dead) == (was != now)
