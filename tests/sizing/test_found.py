"""What is fitted stays in the text where another rating or gauge is written over it."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from helpers.cases import read_cases
from helpers.home import FAULTY, HOME, RIGS
from helpers.studies import checked
from rigfolio.answers.size import size_report
from rigfolio.findings import Edit
from rigfolio.judgement.mending import mended
from rigfolio.judgement.result import Result, check
from rigfolio.judgement.trial import proved, tried
from rigfolio.lang import apply
from rigfolio.model.graph import Rig
from rigfolio.sizing import edits_for, keeping_found, sizes, to_pull
from rigfolio.units import Size

SMALL = """\
rig "Tern"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
fuse F1 "Main" 200 A on B1+ mega interrupts 10 kA    # as it came
panel P1 "Panel" 6 slots of 20 A, negative N1
busbar N1 "Minus bar" 100 A
wires 10 AWG
    wire F1 to P1 red 3 ft
    wire N1 to B1- black 3 ft
charger C1 20 A
wire C1+ to B1+ 12 AWG red 3 ft, fuse 80 A at B1+ mega interrupts 10 kA
wire C1- to N1 12 AWG black 3 ft
circuit P1.1 "Lamp" fuse 20 A
    wire 18 AWG red 6 ft
    load "Lamp" 3 A
circuit P1.2 "Radio" fuse 15 A, found 30 A
    wire 18 AWG blue 7 ft
    load "Radio" 3 A
"""


def written(result: Result, edits: Mapping[str, tuple[Edit, ...]]) -> Rig:
    texts = {file: apply(text, edits.get(file, ())) for file, text in result.texts.items()}
    again = check(result.file, text=texts[result.file], instead=texts)
    assert again.study is not None, again.findings
    return again.study.rig


def assert_nothing_lost(before: Rig, after: Rig) -> int:
    """Every figure that is another one now is told as found; how many there are."""
    changed = 0
    circuits = {one.device: one for one in after.circuits}
    was_told = {one.device: one.found_a for one in before.circuits}
    for name, old in before.by_name.devices.items():
        new = after.by_name.devices[name]
        if not isinstance(old.rating_a, float) or old.rating_a == new.rating_a:
            continue
        changed += 1
        found_a = circuits[name].found_a if name in circuits else new.found_a
        told = was_told.get(name) if name in was_told else old.found_a
        assert found_a == (old.rating_a if told is None else told), name
    for old, new in zip(before.conductors, after.conductors, strict=True):
        if isinstance(old.size, Size) and old.size != new.size and not old.assumed:
            changed += 1
            assert new.found == (old.found or old.size), old.name
    return changed


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda file: file.stem)
def test_no_way_of_writing_loses_what_is_fitted(file: Path) -> None:
    result = checked(file)
    if result.study is None:
        assert file in FAULTY
        return
    rig = result.study.rig
    sized = keeping_found(rig, edits_for(result.study, result.texts, sizes(result.study)).edits)
    assert_nothing_lost(rig, written(result, sized))
    found, _ = mended(tried(result))
    assert_nothing_lost(rig, written(result, found.edits))


def test_it_is_kept_wherever_it_stands() -> None:
    result = check("tern.rig", text=SMALL)
    assert result.study is not None
    rig = result.study.rig
    found, told = mended(tried(result))
    after = written(result, found.edits)
    assert assert_nothing_lost(rig, after) >= 2
    assert "what is fitted stays in the text as `found` until it is swapped" in told
    circuits = after.by_name.circuits
    assert (circuits["P1.1"].found_a, circuits["P1.2"].found_a) == (20.0, 30.0)


def test_a_fuse_that_was_mended_in_the_text_alone_is_still_a_danger() -> None:
    """The text with another figure in it has changed no fuse."""
    result = check("tern.rig", text=SMALL)
    found, _ = mended(tried(result))
    text = apply(SMALL, found.edits["tern.rig"])
    dangers = {one.rule for one in check("tern.rig", text=text).findings
               if one.severity.value == "danger"}  # fmt: skip
    assert "wrong-fuse-found" in dangers


def test_what_two_wires_of_a_block_share_is_kept_for_both() -> None:
    result = check("tern.rig", text=SMALL)
    assert result.study is not None
    rig = result.study.rig
    wire = rig.conductor("F1/P1")
    block = {"tern.rig": (Edit(wire.size_span, "6 AWG"),)}
    after = written(result, keeping_found(rig, block))
    assert {after.conductor(name).found.text for name in ("F1/P1", "B1-/N1")} == {"10 AWG"}
    own = Edit(type(wire.span)("tern.rig", wire.span.end, wire.span.end), " 6 AWG")
    after = written(result, keeping_found(rig, {"tern.rig": (own,)}))
    assert after.conductor("F1/P1").found == rig.conductor("F1/P1").size
    assert after.conductor("F1/P1").size.text == "6 AWG"
    assert after.conductor("B1-/N1").found is None


def test_a_wire_that_was_found_too_thin_has_one_fuse_until_it_is_pulled() -> None:
    """What `check` offers is what `size` says, and with it in the text nothing burns any more."""
    offered = 0
    for case in read_cases(HOME / "tests" / "rules" / "wrong-wire-found.rig"):
        result = check("case.rig", text=case.text)
        assert result.study is not None
        wrong = [one for one in result.findings if one.rule == "wrong-wire-found"]
        for one in (each for each in wrong if each.fix is not None and each.fix.changes):
            offered += 1
            said = [until for each in to_pull(result.study, sizes(result.study))
                    for until in each.until]  # fmt: skip
            fix = proved(result, one).fix
            assert fix is not None
            again = check("case.rig", text=apply(case.text, fix.edits))
            assert again.study is not None
            fuses = again.study.rig.by_name.devices
            assert said == [(device, fuses[device.about.name].rating_a) for device, _ in said]
            left = [each for each in again.findings if each.rule == "wrong-wire-found"]
            assert [each.severity.value for each in left] == ["fault"], case.title
    assert offered >= 3


def test_what_was_found_is_not_passed_by_its_sizes() -> None:
    thin = SMALL.replace("18 AWG red 6 ft", "14 AWG red 6 ft, found 18 AWG").replace(
        "20 A\n    w", "7.5 A\n    w"
    )
    result = check("tern.rig", text=thin)
    assert result.study is not None
    report = str(size_report(result.study))
    assert "18 AWG in place of `P1.1/1`, 14 AWG belongs there" in report
    assert "Reckoned with what was found, until another one is pulled: 18 AWG" in report
    assert "has to change under" not in report
