"""What guards a wire against each source, what lets too much through, and which fuse is too large.

In a travel trailer 6 AWG bears 55 A, 10 AWG 30 A, 14 AWG 15 A and 16 AWG 8 A: NFPA 70 Table
552.10(E)(1); up to 18 in a wire may run ahead of its fuse (as they stand in the book, from memory).
"""

import pytest

from helpers.studies import study_from
from rigfolio.findings import UNKNOWN
from rigfolio.model import Conductor
from rigfolio.protection.breakers import kind_before, tells_breakers
from rigfolio.protection.fitted import fitted_words, guard_words, largest_words
from rigfolio.protection.guard import Guard, guard_of, guard_of_circuit
from rigfolio.protection.too_large import is_device_too_large, largest_instead
from rigfolio.study import Study

HEAD = """rig "Bench"
    system 12 V
    rules {}
battery B1 agm, 100 Ah
busbar N1 200 A
busbar D1 200 A
busbar D2 200 A
wire B1- to N1 2/0 AWG black 1 ft
"""
LOAD = "load M{0} 5 A\nwire M{0}- to N1 10 AWG black 2 ft\n"
SECOND = "battery B2 agm, 100 Ah\nwire B2- to N1 2/0 AWG black 1 ft\n"
CHARGER = "charger C1 20 A\nwire C1- to N1 10 AWG black 2 ft\nwire C1+ to D1 10 AWG red 2 ft\n"


def bench(more: str, book: str = "rv") -> Study:
    return study_from(HEAD.format(book) + more)


def wire_of(study: Study, name: str = "T1") -> Conductor:
    return study.rig.conductor(name)


def against(guard: Guard) -> list[tuple[str, str, list[str]]]:
    return [
        (one.source.about.name, one.why, [each.about.name for each in one.devices])
        for one in guard.against
    ]


LEAD = "fuse F1 {} A\nwire B1+ to F1.line 2/0 AWG red 7 in\n" + LOAD.format(1)
BEHIND = "wire F1.load to M1+ 10 AWG red 2 ft\n"
BESIDE = LOAD.format(2) + "wire F1.load to M2+ {} red 2 ft\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        # The lead to a fuse runs ahead of it and is none that it is too large for.
        (LEAD.format(30) + BEHIND, (False, UNKNOWN)),
        (LEAD.format(40) + BEHIND, (True, 30.0)),
        # It is right for the thicker wire beside, which needs it: the thin one lacks its own.
        (
            LEAD.format(40) + BEHIND + BESIDE.format("6 AWG").replace("5 A", "35 A"),
            (False, UNKNOWN),
        ),
        # Of 10 A in all nobody needs it for that.
        (LEAD.format(40) + BEHIND + BESIDE.format("6 AWG"), (True, 30.0)),
        (LEAD.format(40) + BEHIND + BESIDE.format("10 AWG"), (True, 30.0)),
        # Nobody knows yet what the wire bears.
        (LEAD.format(40) + BEHIND.replace("10 AWG", "? AWG"), (False, UNKNOWN)),
    ],
)
def test_a_fuse_is_held_against_the_wires_behind_it(text: str, told: tuple[bool, object]) -> None:
    study = bench(text)
    fuse = study.device("F1")
    assert fuse is not None
    assert (is_device_too_large(study, fuse), largest_instead(study, fuse)) == told


def test_of_two_fuses_that_are_too_much_together_neither_is_too_large() -> None:
    text = SECOND + "fuse F1 20 A\nfuse F2 20 A\n" + LOAD.format(1)
    text += "wire B1+ to F1.line 2/0 AWG red 7 in\nwire B2+ to F2.line 2/0 AWG red 7 in\n"
    text += "wire F1.load to M1+ 10 AWG red 2 ft, tag T1\nwire F2.load to M1+ 10 AWG red 2 ft\n"
    text += "wire F1.load to F2.load 10 AWG red 1 in\n"
    study = bench(text)
    # 20 + 20 A flow into the wire, which bears 30 A.
    guard = guard_of(study, wire_of(study))
    assert (guard.why, [one.about.name for one in guard.devices]) == ("over", ["F1", "F2"])
    # Only those that open before it is harmed guard it.
    assert guard.guards == ()
    assert guard_words(study, wire_of(study)) == "20 A F1 + 20 A F2 TOO LARGE"
    for name in ("F1", "F2"):
        fuse = study.device(name)
        assert fuse is not None
        assert not is_device_too_large(study, fuse)


def test_what_guards_a_wire_is_what_opens_first() -> None:
    study = bench(LEAD.format(30) + BEHIND)
    guard = guard_of(study, wire_of(study, "F1.load/M1+"))
    assert [one.about.name for one in guard.guards] == ["F1"]
    ahead = guard_of(study, wire_of(study, "B1+/F1.line"))
    assert (ahead.why, ahead.guards) == ("ahead", ())


@pytest.mark.parametrize(
    ("size", "why", "words", "largest"),
    [
        ("10 AWG", "guarded", "30 A fuse F1", "max fuse 30 A"),
        ("16 AWG", "over", "30 A F1 TOO LARGE", "max fuse 7.5 A"),
        ("? AWG", "guarded", "30 A fuse F1", "max fuse ?"),
    ],
)
def test_a_circuit_without_a_fuse_of_its_own_is_told_by_the_worst_of_its_wires(
    size: str, why: str, words: str, largest: str
) -> None:
    text = "fuse F1 30 A on B1+\n"
    text += f'circuit F1.load "Pump"\n    wire 10 AWG red 5 ft\n    wire {size} red 5 ft\n'
    study = bench(text + "    load 7 A\n")
    (circuit,) = study.rig.circuits
    assert guard_of_circuit(study, circuit).why == why
    assert fitted_words(study, circuit) == words
    assert largest_words(study, circuit) == largest


@pytest.mark.parametrize(
    ("more", "why", "words"),
    [
        ('fuse F1 30 A on B1+\ncircuit F1.load "Pump"\n', "guarded", "30 A fuse F1"),
        ('wire B1+ to D1 2/0 AWG red 2 ft\ncircuit D1 "Pump"\n', "bare", "NONE"),
        (CHARGER + 'circuit D1 "Pump"\n', "itself", "none: C1 gives 20 A at most"),
        # Of two sources the one that nothing stands before is told, without the fuse of the other.
        ("fuse F1 30 A on B1+\nwire F1.load to D1 10 AWG red 2 ft\n" + SECOND
         + 'wire B2+ to D1 2/0 AWG red 2 ft\ncircuit D1 "Pump"\n', "bare", "NONE against B2"),
        ('circuit D1 "Pump"\n', "idle", "none"),
    ],
)  # fmt: skip
def test_a_circuit_of_which_no_wire_is_written_is_told_by_its_start(
    more: str, why: str, words: str
) -> None:
    study = bench(more + "    load 7 A\n")
    (circuit,) = study.rig.circuits
    assert guard_of_circuit(study, circuit).why == why
    assert fitted_words(study, circuit) == words


@pytest.mark.parametrize(
    ("rating", "size", "why"),
    [
        ("15", "14 AWG", "guarded"),
        ("20", "14 AWG", "over"),
        ("?", "14 AWG", "guarded"),
        ("20", "? AWG", "guarded"),
    ],
)
def test_the_fuse_of_a_slot_is_too_large_where_both_figures_say_so(
    rating: str, size: str, why: str
) -> None:
    text = "panel P1 4 slots of 30 A, negative N1\nwire B1+ to P1 6 AWG red 2 ft\n"
    text += f'circuit P1.1 "Lamp" fuse {rating} A\n    wire {size} red 9 ft\n    load 1 A\n'
    study = bench(text)
    (circuit,) = study.rig.circuits
    guard = guard_of_circuit(study, circuit)
    assert (guard.why, [one.about.name for one in guard.devices]) == (why, ["P1.1"])


UNSIZED = "fuse F1 10 A\nwire B1+ to F1.line ? AWG red {}, tag T1\n" + LOAD.format(1) + BEHIND


@pytest.mark.parametrize(
    ("text", "why", "devices"),
    [
        (UNSIZED.format("5 in"), "ahead", ["F1"]),
        (UNSIZED.format("9 ft"), "far", ["F1"]),
        # Without a fuse further on it is bare, whatever it may carry.
        (LOAD.format(1) + "wire B1+ to M1+ ? AWG red 9 ft, tag T1\n", "bare", []),
        # Thinner than any row of the book.
        (LOAD.format(1) + "wire B1+ to M1+ 30 AWG red 9 ft, tag T1\n", "bare", []),
        ((LEAD.format(3) + BEHIND).replace("2/0 AWG red 7 in", "30 AWG red 9 ft, tag T1"),
         "far", ["F1"]),
        # It carries less than 5 A, so that a fuse of 5 A is none for it.
        ((LEAD.format(5) + BEHIND).replace("2/0 AWG red 7 in", "30 AWG red 9 ft, tag T1"),
         "bare", []),
    ],
)  # fmt: skip
def test_a_wire_of_which_nobody_knows_what_it_bears_is_told_by_what_stands_on_it(
    text: str, why: str, devices: list[str]
) -> None:
    study = bench(text)
    guard = guard_of(study, wire_of(study))
    assert (guard.why, [one.about.name for one in guard.devices]) == (why, devices)


@pytest.mark.parametrize(
    ("first_a", "second_a", "charger", "named"),
    [
        # The nearest fuse and the charger let 15 + 20 A in, more than 30 A; but by the fuse behind
        # no more than 10 A come, so that one guards the wire.
        (10, 15, CHARGER, "F1"),
        # 10 + 20 A are just what it bears.
        (10, 10, CHARGER, "F2"),
        (10, 15, "", "F2"),
    ],
)
def test_the_nearest_fuses_guard_a_wire_where_they_do_with_what_drives_beside_them(
    first_a: int, second_a: int, charger: str, named: str
) -> None:
    text = charger + f"fuse F1 {first_a} A on B1+\nfuse F2 {second_a} A\n" + LOAD.format(1)
    text += "wire F1.load to F2.line 10 AWG red 1 ft\nwire F2.load to D1 10 AWG red 1 ft\n"
    study = bench(text + "wire D1 to M1+ 10 AWG red 2 ft, tag T1\n")
    guard = guard_of(study, wire_of(study))
    assert (guard.why, [one.about.name for one in guard.devices]) == ("guarded", [named])


def test_of_each_end_of_a_wire_its_own_fault_is_told() -> None:
    text = SECOND + "wire B1+ to D1 2/0 AWG red 1 ft\n"
    text += "wire B2+ to D2 2/0 AWG red 1 ft, fuse 40 A at B2+, tag T2\n"
    study = bench(text + "wire D1 to D2 10 AWG red 4 ft, tag T1\n")
    guard = guard_of(study, wire_of(study))
    # From B1 nothing stands before it; the fuse of B2 lets through 40 A and it bears 30 A.
    assert against(guard) == [("B1", "bare", []), ("B2", "over", ["T2 fuse"])]
    assert (guard.why, guard.devices) == ("bare", ())


MIXED = """panel P1 4 slots of 30 A, breakers, negative N1
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+, tag T1
circuit P1.1 "Lamp" breaker 15 A
    wire 10 AWG red 9 ft, tag T2
    load "Lamp" 1 A
    return 10 AWG black 9 ft, tag T3
"""


@pytest.mark.parametrize(
    ("book", "text", "is_told", "kinds"),
    [
        # Only the book of vehicles lists breakers apart (FAA AC 43.13-1B Table 11-3).
        ("vehicle", MIXED, True, ["fuse", "breaker", "breaker"]),
        ("rv", MIXED, False, ["fuse", "fuse", "fuse"]),
        ("vehicle", MIXED.replace("breaker 15 A", "fuse 15 A").replace("breakers, ", ""), False,
         ["fuse", "fuse", "fuse"]),
    ],
)  # fmt: skip
def test_breakers_count_apart_where_the_book_does_and_there_is_one(
    book: str, text: str, is_told: bool, kinds: list[str]
) -> None:
    study = bench(text, book)
    assert tells_breakers(study) is is_told
    assert [kind_before(study, wire_of(study, name)) for name in ("T1", "T2", "T3")] == kinds


def test_a_return_that_is_only_assumed_has_what_stands_before_its_circuit() -> None:
    text = MIXED.replace("    return 10 AWG black 9 ft, tag T3\n", "")
    study = bench(text, "vehicle")
    (assumed,) = (one for one in study.rig.conductors if one.assumed)
    assert kind_before(study, assumed) == "breaker"
