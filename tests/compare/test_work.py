"""What has to be done between two texts: other hardware is work, what was learnt is not."""

import pytest

from helpers.home import EXAMPLES
from rigfolio.compare.work import Work, work_between
from rigfolio.judgement.result import understood

TEXT = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")


def done(*edits: tuple[str, str], back: bool = False) -> tuple[Work, ...]:
    """The work from the example to an edit of it, or back."""
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    was, now = (understood("wren.rig", text=one).study for one in (TEXT, text))
    assert was is not None
    assert now is not None
    return work_between(now.rig, was.rig) if back else work_between(was.rig, now.rig)


def deeds(found: tuple[Work, ...]) -> dict[str, str]:
    return {work.after or work.before: work.deed for work in found}


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_nothing_is_to_be_done_where_nothing_changed(name: str) -> None:
    study = understood(str(EXAMPLES / name)).study
    assert study is not None
    assert work_between(study.rig, study.rig) == ()


@pytest.mark.parametrize(
    ("edit", "part"),
    [
        (("14 AWG yellow 11 ft", "14 AWG ? 11 ft"), "P1.2/1"),
        (("14 AWG yellow 11 ft", "14 AWG yellow ? ft"), "P1.2/1"),
        (("wire  F1      to S1.line  6 AWG red", "wire  F1  to S1.line   6 AWG ?"), "W2"),
        (("wire  F1      to S1.line  6 AWG red", "wire  F1  to S1.line   ? AWG red"), "W2"),
        (('"Battery fuse"        50 A', '"Battery fuse"        ? A'), "F1"),
        (("flooded, 105 Ah", "flooded, ? Ah"), "B1"),
    ],
    ids=["colour", "length", "colour of a feed", "size of a feed", "rating", "capacity"],
)
def test_what_was_not_known_and_is_told_now_is_no_work(edit: tuple[str, str], part: str) -> None:
    found = done(edit, back=True)
    assert deeds(found)[part] == "told"
    assert not any(work.is_hands_on for work in found)


@pytest.mark.parametrize(
    ("edit", "part"),
    [
        (("14 AWG yellow 11 ft", "12 AWG yellow 11 ft"), "P1.2/1"),
        (("14 AWG yellow 11 ft", "14 AWG brown 11 ft"), "P1.2/1"),
        (("14 AWG yellow 11 ft", "14 AWG yellow 16 ft"), "P1.2/1"),
        (("wire  F1      to S1.line  6 AWG red", "wire  F1  to S1.line   4 AWG red"), "W2"),
        (('"Battery fuse"        50 A', '"Battery fuse"        60 A'), "F1"),
        (("fuse 50 A at P1", "fuse 40 A at P1"), "W4 fuse"),
        (('"Radio"                  fuse 5 A', '"Radio"           fuse 7.5 A'), "P1.7"),
        (('"Converter"           45 A', '"Converter"           30 A'), "C1"),
        (("12 slots of 20 A", "18 slots of 20 A"), "P1"),
        (("interrupts 10 kA", "interrupts 20 kA"), "F1"),
    ],
    ids=["size", "colour", "longer than its slack", "feeder", "main fuse", "fuse on a feeder",
         "fuse in a slot", "charger", "panel", "breaks more"],
)  # fmt: skip
def test_other_hardware_is_replaced(edit: tuple[str, str], part: str) -> None:
    assert deeds(done(edit))[part] == "replace"


def test_a_foot_more_is_measured_anew_and_a_shorter_wire_is_the_same() -> None:
    # Of 11 ft a tenth or 300 mm more was laid, 1.1 ft: 12 ft are within it.
    assert deeds(done(("14 AWG yellow 11 ft", "14 AWG yellow 12 ft")))["P1.2/1"] == "told"
    assert deeds(done(("14 AWG yellow 11 ft", "14 AWG yellow 7 ft")))["P1.2/1"] == "told"


def test_a_moved_circuit_moves_its_wire_and_its_fuse() -> None:
    found = done(("circuit P1.7 ", "circuit P1.12 "), ("slot P1.12 spare", "slot P1.7 spare"))
    assert deeds(found) == {"P1.12/1": "move", "P1.12/1R": "label", "P1.12": "move"}
    assert found[0].facts[0] == "from P1.7 to P1.12"


def test_a_fuse_that_moves_is_told_by_its_places_and_not_by_its_name() -> None:
    found = done(('circuit S1.line "Gas detector"', 'circuit S1.load "Gas detector"'))
    (moved,) = (work for work in found if work.before == "S1.line/1 fuse")
    assert (moved.deed, moved.facts) == ("move", ("from circuit S1.line to circuit S1.load",))


def test_new_and_gone_circuits_take_all_that_is_theirs() -> None:
    start = TEXT.index('circuit P1.7 "Radio"')
    block = TEXT[start : TEXT.index("circuit P1.8")]
    gone = done((block, ""))
    assert {w.before: w.deed for w in gone} == {
        "P1.7/1": "remove", "P1.7/1R": "remove", "P1.7": "remove", "Radio": "remove",
    }  # fmt: skip
    assert gone[0].facts == ("16 AWG pink, 10 ft",)
    assert set(deeds(done((block, ""), back=True)).values()) == {"pull new"}


def test_a_feeder_with_its_fuse_comes_and_goes() -> None:
    (line,) = (row for row in TEXT.splitlines(keepends=True) if "U1+ to B1+" in row)
    found = done((line, ""))
    assert {(w.thing, w.deed) for w in found if w.before in ("W8", "W8 fuse")} >= {
        ("wire", "remove"), ("device", "remove"),
    }  # fmt: skip


def test_a_fuse_that_was_found_is_what_comes_out() -> None:
    found = done(
        ('"Radio"                  fuse 5 A', '"Radio"                  fuse 5 A, found 20 A'),
        back=True,
    )
    assert [(w.after, w.deed, w.facts) for w in found] == [
        ("P1.7", "replace", ("5 A tan fuse, was 20 A yellow fuse",))
    ]


def test_a_return_that_was_assumed_and_is_found_is_no_work() -> None:
    found = done(("16 AWG pink 10 ft", "16 AWG pink 10 ft\n    return 14 AWG white 10 ft"))
    assert not any(work.is_hands_on for work in found if work.thing == "wire")


@pytest.mark.parametrize(("mark", "deed"), [("scorched", "replace"), ("corroded", "new ends")])
def test_damage_is_mended_and_a_burnt_wire_is_replaced(mark: str, deed: str) -> None:
    found = done(
        ("16 AWG pink 10 ft", f"16 AWG pink 10 ft, {mark}"),
        ("slot P1.12 spare", "slot P1.12 spare\nnote P1.12 melted"),
        back=True,
    )
    assert deeds(found)["P1.7/1"] == deed
    assert ("slot", "mend") in {(work.thing, work.deed) for work in found}


def test_what_waits_to_be_swapped_in_both_is_no_change_and_is_swapped_once() -> None:
    fitted = ('"Radio"                  fuse 5 A', '"Radio"                  fuse 20 A')
    planned = ('"Radio"                  fuse 5 A', '"Radio"         fuse 5 A, found 20 A')
    wire = ("16 AWG pink 10 ft", "16 AWG pink 10 ft, found 18 AWG")
    texts = [TEXT.replace(*fitted).replace("16 AWG pink", "18 AWG pink"),
             TEXT.replace(*planned).replace(*wire), TEXT]  # fmt: skip
    rigs = [understood("wren.rig", text=one).study.rig for one in texts]
    assert work_between(rigs[1], rigs[1]) == ()
    for was, now in ((0, 1), (0, 2), (1, 2)):
        found = {work.after: work.deed for work in work_between(rigs[was], rigs[now])}
        assert (found["P1.7"], found["P1.7/1"]) == ("replace", "replace")
