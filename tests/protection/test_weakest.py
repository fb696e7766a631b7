"""What bounds the device of a circuit by what it is made for, and what has no part in it."""

import pytest

from helpers.studies import study_from
from rigfolio.protection import largest_fuse_of

# In a travel trailer 10 AWG bears 30 A: NFPA 70 Table 552.10(E)(1), as it stands in the book.
RIG = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
busbar N1
busbar D1 {bar} A
panel P1 4 slots of {slot} A, {own} A in all, negative N1
panel P2 4 slots of 9 A, {other} A in all, negative N1
wire B1+ to P1 6 AWG red 2 ft
wire B1+ to P2 6 AWG red 2 ft
wire B1+ to D1 6 AWG red 2 ft
wire N1 to B1- 6 AWG black 2 ft
circuit P1.1 "Pump" fuse 5 A
    wire 10 AWG red 2 ft
    load "Pump" 2 A
"""


@pytest.mark.parametrize(
    ("slot", "own", "other", "bar", "bears_a"),
    [
        (40, 40, 40, 40, 30.0),
        (20, 40, 40, 40, 20.0),
        (40, 15, 40, 40, 15.0),
        # Another panel, its slots and a bar that the circuit does not feed bear what they may.
        (40, 40, 7, 40, 30.0),
        (40, 40, 40, 7, 30.0),
    ],
)
def test_the_parts_that_a_circuit_runs_through_bound_it_and_no_others(
    slot: int, own: int, other: int, bar: int, bears_a: float
) -> None:
    study = study_from(RIG.format(slot=slot, own=own, other=other, bar=bar))
    limit = largest_fuse_of(study, study.rig.circuits[0])
    assert limit is not None
    assert limit.value == bears_a
