"""A circuit without a load in the text is one that nobody has read, not one of 0 A."""

from helpers.studies import study_from
from rigfolio.answers.demand import demand_report
from rigfolio.answers.size import size_report
from rigfolio.demand import demand_by_level, flows_of, uses
from rigfolio.demand.counting.unread import unread_circuits
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study
from rigfolio.swap.slots import Places

RIG = """rig "Unread"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 20 A, negative N1
panel P2 4 slots of 20 A, negative N1
busbar N1 100 A
wire W1 B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire W2 N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Riddle" fuse 15 A
    wire 16 AWG red ? ft
circuit P1.2 "Lamp" fuse 5 A
    wire 16 AWG red 4 ft
    load "Lamp" 1 A
circuit P1.3 "Block" fuse 20 A
    wire 12 AWG red 4 ft to P2
circuit P2.1 "Fan" fuse 5 A
    wire 16 AWG red 4 ft
    load "Fan" 2 A
circuit P2.2 "Second riddle" fuse 5 A
    wire 16 AWG red 4 ft
    splice Z1
    wire 16 AWG red 4 ft
"""


def unread(study: Study) -> dict[str, tuple[str, ...]]:
    return {one.name: one.unknown for one in demand_by_level(study)}


def test_what_leads_to_such_a_circuit_is_not_known_in_full() -> None:
    study = study_from(RIG)
    assert [one.place for one in unread_circuits(study)] == ["P1.1", "P2.2"]
    found = unread(study)
    both = ("P1.1", "P2.2")
    assert [found[name] for name in ("B1", "W1 fuse", "P1", "P2")] == [both, both, both, ("P2.2",)]
    assert [found[name] for name in ("P1.1", "P1.2", "P1.3")] == [("P1.1",), (), ("P2.2",)]
    assert flows_of(study).demand("W2").open == both
    assert flows_of(study).demand("W1").current_a == 3.0


def test_a_day_is_told_without_it() -> None:
    assert [one.label for one in uses(study_from(RIG)) if one.missing == "what hangs on it"] == [
        "P1.1 Riddle", "P2.2 Second riddle",
    ]  # fmt: skip


def test_it_is_told_as_unknown_and_its_fuse_held_against_its_wire() -> None:
    study = study_from(RIG)
    (row,) = (
        line
        for line in as_text(demand_report(study)).splitlines()
        if "P1.1 Riddle" in line and "15 A" in line
    )
    assert row.count("? A") == 3
    text = " ".join(as_text(size_report(study)).split())
    why = "its wires allow no larger one, and what hangs on it nobody has read"
    assert f"P1.1 Riddle: fuse 15 A -> 7.5 A: {why}" in text
    assert "0 A are enough" not in text
    assert "feed of P1: what `P1.1` draws" in text


def test_the_order_of_slots_tells_it_as_unknown() -> None:
    study = study_from(RIG)
    places = Places(study, study.rig.panels[0])
    told = {circuit.place: places.told_a(circuit) for circuit in places.circuits}
    assert told == {"P1.1": None, "P1.2": 1.0, "P1.3": 2.0}
