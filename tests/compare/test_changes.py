"""Two versions of a rig, and what is told of the difference."""

from collections.abc import Callable

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from rigfolio.compare.changes import Comparison, compare
from rigfolio.judgement.result import Result, check

TEXT = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")


@cache
def judged(text: str) -> Result:
    result = check("wren.rig", text=text)
    assert result.study is not None
    return result


def changed(*edits: tuple[str, str]) -> Comparison:
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    before, after = judged(TEXT), judged(text)
    assert before.study is not None
    assert after.study is not None
    return compare(before.study.rig, after.study.rig, before.findings, after.findings)


def told(comparison: Comparison) -> list[tuple[str, str, str, str, tuple[str, ...]]]:
    return [(c.kind, c.thing, c.before, c.after, c.facts) for c in comparison.changes]


def test_the_same_text_has_no_changes() -> None:
    assert changed() == Comparison((), (), (), frozenset(), frozenset(), ())


def test_comments_and_order_are_no_changes() -> None:
    text = TEXT.replace("# --- galley panel, top to bottom ---", "# elsewhere")
    ac = 'ac "Main"             30 A\n'
    text = ac + text.replace(ac, "")
    before, after = judged(TEXT), judged(text)
    assert before.study is not None
    assert after.study is not None
    assert compare(before.study.rig, after.study.rig).changes == ()


def test_a_circuit_in_another_slot_is_moved_and_its_old_label_comes_off() -> None:
    found = changed(("circuit P1.7 ", "circuit P1.12 "), ("slot P1.12 spare", "slot P1.7 spare"))
    assert told(found) == [
        ("moved", "circuit", "P1.7", "P1.12", ("to P1.12 from P1.7",)),
        ("changed", "slot", "P1.7", "P1.7", ("spare, was in use",)),
    ]
    assert found.circuits == {"P1.12", "P1.7"}
    assert found.wires == {"P1.12/1", "P1.12/1R"}
    assert found.taken_off == ("P1.7",)


def test_two_circuits_that_change_places_are_both_moved() -> None:
    found = changed(
        ("circuit P1.7 ", "circuit P1.99 "),
        ("circuit P1.5 ", "circuit P1.7 "),
        ("circuit P1.99 ", "circuit P1.5 "),
    )
    assert sorted(c[:4] for c in told(found)) == [
        ("moved", "circuit", "P1.5", "P1.7"),
        ("moved", "circuit", "P1.7", "P1.5"),
    ]


@pytest.mark.parametrize(
    ("edit", "kind", "thing", "name", "fact"),
    [
        (('P1.7 "Radio"', 'P1.7 "Stereo"'), "renamed", "circuit", "P1.7", "`Stereo`"),
        (
            ('"Water pump"             fuse 10 A', '"Water pump" fuse 15 A'),
            "fused anew", "circuit", "P1.2", "15 A blue, was 10 A red",
        ),
        (
            ("14 AWG yellow 11 ft", "12 AWG yellow 12 ft"),
            "rewired", "circuit", "P1.2", "wire size 12 AWG, was 14 AWG",
        ),
        (('"Pump"  7 A', '"Pump"  6 A'), "loads changed", "circuit", "P1.2", "draws 6 A, was 7 A"),
        (
            ("6 AWG black  7 ft", "4 AWG black  7 ft"),
            "rewired", "wire", "W3", "size 4 AWG, was 6 AWG",
        ),
        (
            ("wire  C1-     to N1 ", "wire  C1- to G1 "),
            "rewired", "wire", "W6", "lands on C1− to G1, was C1− to N1",
        ),
        (('"Converter"           45 A', '"Converter" 30 A'), "changed", "source", "C1", "30 A"),
        (("12 slots of 20 A", "12 slots of 15 A"), "changed", "panel", "P1", "slot rating 15 A"),
        (('ac "Outlets"          15 A\n', ""), "gone", "AC breaker", "Outlets", ""),
        (('ac "Outlets"          15 A\n', 'ac "Outlets" 20 A\n'), "changed", "AC breaker",
         "Outlets", "rating 20 A, was 15 A"),
        (('"Marsh Wren 17"\n', '"Marsh Wren 18"\n'), "changed", "rig", "Marsh Wren 17", "name"),
        (("slot P1.12 spare", "slot P1.12 blank"), "changed", "slot", "P1.12", "was spare"),
    ],
)  # fmt: skip
def test_one_change_is_told_as_one(
    edit: tuple[str, str], kind: str, thing: str, name: str, fact: str
) -> None:
    (change,) = changed(edit).changes
    assert (change.kind, change.thing) == (kind, thing)
    assert (change.before or change.after) == name
    assert fact in " ".join(change.facts)


def test_a_finding_is_gained_and_cured() -> None:
    edit = ('"Water pump"             fuse 10 A', '"Water pump"      fuse 25 A')
    found = changed(edit)
    assert [f.rule for f in found.gained if f.at.span.start < TEXT.index("Furnace")][-1:] == [
        "fuse-over-wire"
    ]
    worse, better = judged(TEXT.replace(*edit)), judged(TEXT)
    assert worse.study is not None
    assert better.study is not None
    back = compare(worse.study.rig, better.study.rig, worse.findings, better.findings)
    assert [f.headline for f in back.cured] == [f.headline for f in found.gained]
    assert back.gained == ()


def test_a_finding_that_moves_with_its_circuit_is_neither_gained_nor_cured() -> None:
    too_large = ('"Radio"                  fuse 5 A', '"Radio"                  fuse 20 A')
    before = judged(TEXT.replace(*too_large))
    moved = TEXT.replace(*too_large).replace("circuit P1.7 ", "circuit P1.12 ")
    after = judged(moved.replace("slot P1.12 spare", "slot P1.7 spare"))
    assert before.study is not None
    assert after.study is not None
    assert "fuse-over-wire" in {finding.rule for finding in before.findings}
    found = compare(before.study.rig, after.study.rig, before.findings, after.findings)
    assert (found.gained, found.cured) == ((), ())


_EDITS: tuple[Callable[[str], str], ...] = (
    lambda text: text.replace("circuit P1.7 ", "circuit P1.12 ").replace("slot P1.12 spare\n", ""),
    lambda text: text.replace('"Roof vent fan"', '"Fan over the bed"'),
    lambda text: text.replace("16 AWG pink 10 ft", "14 AWG pink/white 10 ft"),
    lambda text: text.replace('ac "Main"             30 A\n', ""),
    lambda text: text.replace("6 AWG white  9 ft", "4 AWG white  9 ft"),
)


@settings(deadline=None, max_examples=32)
@given(st.sets(st.integers(0, len(_EDITS) - 1)))
def test_what_is_new_one_way_is_gone_the_other(chosen: set[int]) -> None:
    text = TEXT
    for number in sorted(chosen):
        text = _EDITS[number](text)
    one, two = judged(TEXT), judged(text)
    assert one.study is not None
    assert two.study is not None
    there = compare(one.study.rig, two.study.rig, one.findings, two.findings)
    back = compare(two.study.rig, one.study.rig, two.findings, one.findings)
    turned = {"new": "gone", "gone": "new"}
    # A slot is told of where it is given up only.
    told = [c for c in there.changes if c.thing != "slot"]
    back_told = [c for c in back.changes if c.thing != "slot"]
    assert sorted((c.kind, c.thing, c.before, c.after) for c in told) == sorted(
        (turned.get(c.kind, c.kind), c.thing, c.after, c.before) for c in back_told
    )
    assert bool(there.changes) == bool(chosen)
    assert there.gained == back.cured


FOUND = """rig "Named"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 6 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 4 ft, fuse 40 A 4 in from B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 4 ft
    splice Z1
    wire 16 AWG red 4 ft
    load "Near lamp" 1 A
    wire from Z1 16 AWG red 9 ft
    load "Far lamp" 1 A
"""


def against(text: str) -> Comparison:
    before, after = judged(FOUND), judged(text)
    assert before.study is not None
    assert after.study is not None
    return compare(before.study.rig, after.study.rig, before.findings, after.findings)


def test_a_wire_that_is_called_otherwise_is_renamed_and_not_gone_and_new() -> None:
    text = FOUND.replace("from B1+\n", "from B1+, tag W1\n")
    text = text.replace("red 9 ft\n", "red 9 ft, tag FAR\n")
    found = against(text)
    assert [(c.kind, c.before, c.after) for c in found.changes] == [
        ("renamed", "B1+/P1 stub", "W1a"), ("renamed", "B1+/P1", "W1"),
        ("renamed", "P1.1/Far lamp", "FAR"), ("renamed", "P1.1/Far lamp R", "FARR"),
    ]  # fmt: skip
    assert (found.gained, found.cured) == ((), ())
    assert found.wires == {"W1", "W1a", "FAR", "FARR"}


def test_a_twin_renames_the_wire_that_was_there() -> None:
    twin = "wire B1- to N1 8 AWG black 4 ft\n"
    found = against(FOUND.replace("wire N1 to B1- 6", twin + "wire N1 to B1- 6"))
    assert [(c.kind, c.before, c.after) for c in found.changes] == [
        ("new", "", "B1-/N1 8 AWG black"), ("renamed", "B1-/N1", "B1-/N1 6 AWG black"),
    ]  # fmt: skip


def test_a_wire_written_in_above_moves_no_name_in_its_circuit() -> None:
    branch = '    wire from Z1 18 AWG blue 2 ft\n    load "Clock" 0.1 A\n'
    found = against(FOUND.replace("    wire from Z1 16", branch + "    wire from Z1 16"))
    assert [(c.kind, c.facts) for c in found.changes if c.kind == "rewired"] == [
        ("rewired", ("wire 3 is new, 18 AWG blue", "return 3 is new, 18 AWG colour not stated"))
    ]
    assert not [c for c in found.changes if c.kind == "renamed"]
    assert found.wires == {"P1.1/Clock", "P1.1/Clock R"}


RIDDLES = """
rig "Riddles" system 12 V, rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Left alone" fuse 5 A
    wire 16 AWG grey 4 ft
    load "not known yet" 1 A
circuit P1.2 "Riddle" fuse 5 A
    wire 16 AWG brown 4 ft
    load "not known yet" 2 A
"""


def test_a_load_whose_namesake_got_a_name_is_no_change() -> None:
    """Of two loads that nobody had named one is named: the other is called otherwise, no more."""
    text = RIDDLES.replace('"not known yet" 2 A', '"Camera" 2 A')
    before, after = judged(RIDDLES), judged(text)
    assert before.study is not None
    assert after.study is not None
    made = compare(before.study.rig, after.study.rig, before.findings, after.findings)
    assert any("P1.2" in one[2:4] for one in told(made))
    assert not [one for one in told(made) if "P1.1" in one[2:4]]
