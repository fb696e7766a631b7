"""Which device is there for a wire: in a minus lead, as a breaker among none, at two outputs.

A vehicle's wire of 10 AWG bears a breaker of 40 A and a fuse of 30 A: the columns of the chart of
protectors, as they stand in the vehicle book (from memory).
"""

import pytest

from helpers.studies import study_from
from rigfolio.protection import (
    exposures_of,
    guard_facts,
    guard_of,
    guard_of_circuit,
    guard_words,
    limit_of,
    reach_of,
)
from rigfolio.protection.breakers import kind_before

HEAD = """rig "Bench"
    system 12 V
    rules {book}
battery B1 agm, 100 Ah
busbar N1 200 A
busbar D1 200 A
load M1 5 A
wire M1- to N1 10 AWG black 2 ft, tag T4
wire D1 to M1+ 10 AWG red 2 ft, tag T3
"""


def test_a_fuse_in_a_minus_lead_guards_that_lead_and_no_other_return() -> None:
    study = study_from(
        HEAD.format(book="rv")
        + "wire B1+ to D1 6 AWG red 1 ft, fuse 30 A at B1+, tag T1\n"
        + "wire N1 to B1- 6 AWG black 1 ft, fuse 20 A at B1-, tag T2\n"
    )
    said = {wire.name: guard_of(study, wire).why for wire in study.rig.conductors}
    assert said == {"T1": "guarded", "T2": "guarded", "T3": "guarded", "T4": "return"}
    lead, back = study.rig.conductor("T2"), study.rig.conductor("T4")
    assert (guard_words(study, lead), guard_facts(study, lead)) == (
        "20 A fuse", ("fuse 20 A", "20 A"),
    )  # fmt: skip
    assert (guard_words(study, back), guard_facts(study, back)) == ("none", ("", ""))


@pytest.mark.parametrize(
    ("device", "limit_a", "is_exposed"),
    [("breaker 40 A", 40.0, False), ("breaker 41 A", 40.0, True),
     ("fuse 30 A", 30.0, False), ("fuse 40 A", 30.0, True)],
)  # fmt: skip
def test_where_nothing_but_breakers_stand_their_column_counts(
    device: str, limit_a: float, is_exposed: bool
) -> None:
    study = study_from(
        HEAD.format(book="vehicle")
        + f"wire B1+ to D1 10 AWG red 1 ft, {device} at B1+, tag T1\n"
        + "wire N1 to B1- 6 AWG black 1 ft\n"
    )
    wire = study.rig.conductor("T3")
    assert kind_before(study, wire) == device.split(maxsplit=1)[0]
    limit = limit_of(study, wire)
    assert limit is not None
    assert limit.value == limit_a
    assert {one.wire.name for one in exposures_of(study)} == ({"T1", "T3"} if is_exposed else set())


OUTPUTS = """rig "Two outputs"
    system 12 V
    rules rv
charger C1 20 A, two outputs
splice Z1
busbar N1
load M1 "Lamp" 1 A
wire C1.1 to Z1 10 AWG red 1 ft, fuse {0} A at C1.1
wire C1.2 to Z1 10 AWG red 1 ft, fuse {1} A at C1.2
wire Z1 to M1+ 10 AWG red 1 ft, tag T1
wire M1- to N1 10 AWG white 1 ft
wire C1- to N1 10 AWG white 1 ft
"""


@pytest.mark.parametrize(
    ("fuses", "current_a"),
    # What both fuses let through, and no more than the charger gives in all.
    [((5, 10), 15.0), ((10, 5), 15.0), ((5, 15), 20.0), ((15, 15), 20.0), ((30, 2), 20.0)],
)
def test_two_outputs_give_by_their_fuses_up_to_what_the_charger_gives(
    fuses: tuple[int, int], current_a: float
) -> None:
    study = study_from(OUTPUTS.format(*fuses))
    near, far = reach_of(study).inflows(study.rig.conductor("T1"))
    assert (near.current_a, far.current_a) == (current_a, 0.0)


def test_a_circuit_bears_what_the_wire_bears_that_it_begins_with() -> None:
    study = study_from(
        HEAD.format(book="rv")
        + "wire B1+ to D1 6 AWG red 1 ft, fuse 30 A at B1+\nwire N1 to B1- 6 AWG black 1 ft\n"
        + 'circuit D1 "Lamps" fuse 5 A\n    wire 10 AWG red 5 ft\n    wire 14 AWG red 5 ft\n'
        + "    load 2 A\n"
    )
    (circuit,) = study.rig.circuits
    first, second, *_ = study.wires_of(circuit.place)
    guard, limits = (
        guard_of_circuit(study, circuit),
        [study.carries(one) for one in (first, second)],
    )
    assert guard.carries is not None
    assert None not in limits
    # 10 AWG carries more than 14 AWG; the device is bounded by the thinner, 15 A.
    assert guard.carries == limits[0] != limits[1]
    assert guard.largest is not None
    assert guard.largest.value == 15.0
    assert (guard.why, [one.about.name for one in guard.devices]) == ("guarded", [circuit.device])
