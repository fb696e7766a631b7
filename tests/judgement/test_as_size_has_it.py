"""A way out that writes a rating is one that `size` leaves where it is."""

import pytest

from helpers.cases import read_cases
from helpers.home import CORPUS, FAULTY, TESTS
from helpers.studies import checked
from rigfolio.findings import Severity
from rigfolio.judgement.mending import mended
from rigfolio.judgement.result import check, understood
from rigfolio.judgement.trial import tried
from rigfolio.lang import apply
from rigfolio.record import replace
from rigfolio.sizing import by_file, sizes
from rigfolio.worsening import moved_by, worse

CASES = [
    pytest.param(case.text, id=f"{name}: {case.title}")
    for name in ("fuse-over-wire", "fuse-over-slot", "fuse-overloaded", "starting-opens-fuse")
    for case in read_cases(TESTS / "rules" / f"{name}.rig")
]
PUMP = """\
rig "Hut" system 24 V, rules vehicle, ambient 30 degC
battery B1 lithium, 200 Ah, internal 8 mohm
fuse F1 60 A, class T, interrupts 20 kA
busbar N1 300 A
panel P1 4 slots of {slot} A, negative N1, interrupts 5 kA
wire W1 B1+ to F1 35 mm2 red 30 cm
wire W2 F1 to P1 35 mm2 red 30 cm
wire W3 N1 to B1- 35 mm2 black 30 cm
circuit P1.1 "Pump" fuse {fuse} A
    wire W30 2.5 mm2 yellow 3 m
    load "Pump" 6 A, motor, intermittent, starts at {times} times, 30 min/day
"""


def larger_in_size(study):
    """What `size` would make larger, by place."""
    return {
        fuse.name: fuse.fit_a
        for one in sizes(study)
        for fuse in one.fuses
        if fuse.verdict == "change" and isinstance(fuse.has_a, float) and fuse.fit_a > fuse.has_a
    }


def written_alone(result, fix):
    """The text with one way out written, and the devices on whose lines it is."""
    texts = dict(result.texts)
    for file, edits in by_file(fix.edits).items():
        texts[file] = apply(texts[file], edits)
    return understood(result.file, result.book, text=texts[result.file], instead=texts)


def stays(result):
    """That no rating which a way out writes is made larger by `size` after that."""
    if result.study is None:
        return
    for one in tried(result).findings:
        if one.rule not in ("fuse-over-wire", "fuse-over-slot", "fuse-overloaded"):
            continue
        if one.fix is None or not one.fix.is_tried or "; then " in one.fix.text:
            continue
        again = written_alone(result, one.fix)
        was = result.study.rig.by_name.devices
        now = again.study.rig.by_name.devices
        for name in now:
            if now[name].rating_a != was[name].rating_a:
                assert name not in larger_in_size(again.study)


@pytest.mark.parametrize("file", [*FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_size_leaves_what_check_proposes(file):
    stays(checked(file))


@pytest.mark.parametrize("text", CASES)
def test_size_leaves_what_check_proposes_in_cases(text):
    stays(check("x.rig", text=text))


@pytest.mark.parametrize("times", [1.5, 3, 5, 8])
@pytest.mark.parametrize("fuse", [5, 15, 30])
@pytest.mark.parametrize("slot", [10, 20])
def test_no_rating_is_written_without_a_question_that_a_start_may_open(slot, fuse, times):
    result = check("x.rig", text=PUMP.format(slot=slot, fuse=fuse, times=times))
    stays(result)
    made, _ = mended(tried(result))
    after, moved = made.result.findings, moved_by(e for each in made.tried.values() for e in each)
    assert worse(result.findings, after, moved) == ()


def test_by_hand_the_pump_gets_copper_and_keeps_its_fuse():
    """30 A are three times what a blade of 10 A is rated: it may open within the start."""
    text = PUMP.format(slot=20, fuse=15, times=5).replace("2.5 mm2", "1.5 mm2")
    result = tried(check("x.rig", text=text))
    (one,) = (each for each in result.findings if each.rule == "fuse-over-wire")
    assert one.fix.kind == "ask"
    assert "`2.5 mm²` for `W30`" in one.fix.text
    assert "`Pump` starts at 30 A" in one.fix.text
    assert one.severity is Severity.DANGER


def test_what_comes_with_a_way_out_is_told_and_it_is_not_written_without_a_question():
    """Of a slot for 10 A no copper makes one for 15 A: the start may open what is right for it."""
    result = tried(check("x.rig", text=PUMP.format(slot=10, fuse=15, times=5)))
    fixes = [one.fix for one in result.findings if one.rule.startswith("fuse-over-")]
    for fix in fixes:
        assert fix.kind == "ask"
        assert "`fuse 10 A`; then `Pump` starts at 30 A" in fix.text
    assert fixes
    made, told = mended(replace(result))
    assert made.findings == ()
    assert "nothing can be written without a question" in told
