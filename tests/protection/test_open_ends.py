"""What a loose end explains: one slip of the pen is told once, and hides nothing else."""

import pytest

from helpers.studies import study_from
from rigfolio.judgement.result import load
from rigfolio.protection.open_ends import asked_ends, explained, groups, slips
from rigfolio.study import Study

HEAD = """rig "T"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 4 slots of 20 A, negative N1
panel P2 4 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 2 ft
"""
LONE = 'load M1 "Fan" 2 A\n'
LAMP = 'circuit {} "{}" fuse 3 A\n    wire 16 AWG blue 4 ft\n    load "{}" 1 A\n'


def slipped(more: str) -> Study:
    """The study of a text in which a name may not work out."""
    _, rig, errors = load("case.rig", HEAD + more)
    assert rig is not None, errors
    return Study(rig, rig.book)


def lamp(slot: str, name: str) -> str:
    return LAMP.format(slot, name, name)


def labels(study: Study, sign: str) -> set[str]:
    named = {one.about.name: one.about.label for one in study.rig.loads}
    return {named[name] for name in explained(study, sign)}


@pytest.mark.parametrize(
    ("more", "plus", "minus"),
    [
        (LONE, set(), set()),
        # What hangs on a loose end may be fed by it; what does not is a fault of its own.
        ("wire S7 to P2 6 AWG red 1 ft\n" + LONE + lamp("P2.1", "Lamp"), {"Lamp"}, set()),
        ("wire ? to M1+ 16 AWG red 6 ft\n" + LONE + lamp("P2.1", "Lamp"), {"Fan"}, set()),
        ("wire ? to M1- 16 AWG black 6 ft\n" + LONE, set(), {"Fan"}),
        # A loose end that a source drives could be what feeds any of them, by its own pole.
        ("wire P1 to ? 6 AWG red 1 ft\n" + LONE + lamp("P2.1", "Lamp"), {"Fan", "Lamp"}, set()),
        ("wire N1 to ? 6 AWG black 1 ft\n" + LONE + lamp("P2.1", "Lamp"), set(), {"Fan", "Lamp"}),
        # A circuit on a slot that is not there is told by the slot, with its load.
        (LONE + lamp("P1.9", "Lamp"), {"Lamp"}, {"Lamp"}),
        # Of two circuits that have a slip in their own lines only the one is meant.
        (LONE + lamp("P1.1", "Lamp") + lamp("P1.9", "Pump") + lamp("P2.2", "Horn"),
         {"Pump"}, {"Pump"}),
    ],
)  # fmt: skip
def test_a_loose_end_explains_what_it_may_feed_and_nothing_else(
    more: str, plus: set[str], minus: set[str]
) -> None:
    study = slipped(more)
    assert labels(study, "+") == plus
    assert labels(study, "-") == minus


RETURN = lamp("P1.1", "Lamp") + "    return to {}\n" + lamp("P1.2", "Pump")


@pytest.mark.parametrize(("to", "told"), [("N1", set()), ("N7", {"Lamp"})])
def test_a_slip_below_a_circuit_is_that_circuit_s(to: str, told: set[str]) -> None:
    study = slipped(RETURN.format(to))
    assert labels(study, "-") == told
    assert len(slips(study)) == len(told)


def test_a_slip_before_the_first_circuit_is_of_none() -> None:
    study = slipped("wire S7 to S8 6 AWG red 1 ft\n" + lamp("P1.1", "Lamp"))
    assert len(slips(study)) == 2
    assert labels(study, "+") == labels(study, "-") == set()


def test_a_device_that_was_to_sit_on_what_is_not_there_explains_what_hangs_on_it() -> None:
    study = slipped("fuse F1 10 A on B7+\nwire F1.load to M1+ 16 AWG red 6 ft\n" + LONE)
    assert labels(study, "+") == {"Fan"}
    assert labels(study, "-") == set()


@pytest.mark.parametrize(
    ("more", "asked"),
    [
        ("wire ? to M1+ 16 AWG red 6 ft, tag T1\n" + LONE, ["T1"]),
        ("wire N1 to ? 16 AWG black 6 ft, tag T1\n", ["T1"]),
        # By a slip: it is told as that.
        ("wire S7 to M1+ 16 AWG red 6 ft, tag T1\n" + LONE, []),
        # Another wire has the slip.
        ("wire S7 to P2 16 AWG red 6 ft, tag T1\nwire ? to M1+ 16 AWG red 6 ft, tag T2\n" + LONE,
         ["T2"]),
        ("wire ? to M1+ 16 AWG red 6 ft, tag T2\nwire S7 to P2 16 AWG red 6 ft, tag T1\n" + LONE,
         ["T2"]),
    ],
)  # fmt: skip
def test_an_end_that_is_asked_for_is_told_apart_from_a_slip(more: str, asked: list[str]) -> None:
    assert [one.name for one in asked_ends(slipped(more))] == asked


def test_what_is_no_slip_of_a_name_explains_nothing() -> None:
    # A part that is named twice is found all the same.
    study = slipped("wire ? to M1+ 16 AWG red 6 ft, tag T1\n" + LONE + "busbar N1 50 A\n")
    assert study.rig.problems
    assert slips(study) == ()
    assert [one.name for one in asked_ends(study)] == ["T1"]


def test_loads_are_told_together_where_their_ends_are_joined() -> None:
    text = HEAD.replace("panel P2 4 slots of 20 A\n", "busbar D2 100 A\nbusbar N2 100 A\n")
    for at in (1, 2, 3):
        text += f"load M{at} 1 A\n"
    text += "wire D2 to M1+ 16 AWG red 1 ft\nwire D2 to M3+ 16 AWG red 1 ft\n"
    text += "wire N2 to M2- 16 AWG black 1 ft\nwire N2 to M3- 16 AWG black 1 ft\n"
    study = study_from(text)
    found = {
        sign: [
            [one.about.name for one in group]
            for group in groups(study, list(study.rig.loads), sign)
        ]
        for sign in "+-"
    }
    assert found == {"+": [["M1", "M3"], ["M2"]], "-": [["M1"], ["M2", "M3"]]}
