"""What bounds the device of a circuit by what it is made for, and what has no part in it."""

from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked, study_from
from rigfolio.protection import is_too_large, largest_fuse_of, largest_made_a

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


BEYOND = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
busbar N1
busbar R1 {bar_back} A
busbar D2 {bar} A
busbar D3 7 A
switch K1 {switch} A
switch K2 {switch_back} A
switch K3 6 A
panel P1 4 slots of 40 A, negative N1
panel P2 4 slots of 9 A, {panel} A in all, negative N1
fuse F9 5 A
load M3 1 A
wire B1+ to P1 6 AWG red 2 ft
wire N1 to B1- 6 AWG black 2 ft
circuit P1.1 "Annex" fuse 5 A
    wire 10 AWG red 2 ft to D2
    load "Lamp" 1 A
    return 10 AWG black 2 ft to R1
wire R1 to K2.line 10 AWG black 2 ft
wire K2.load to N1 10 AWG black 2 ft
wire D2 to K1.line {beyond} red 2 ft
wire K1.load to P2 10 AWG red 2 ft
wire D2 to F9.line 10 AWG red 1 in
wire F9.load to K3.line 16 AWG red 2 ft
wire K3.load to D3 16 AWG red 2 ft
wire P1.1 to M3+ 16 AWG red 2 ft
"""
WIDE = {
    "bar": 90, "bar_back": 90, "switch": 90, "switch_back": 90, "panel": 90, "beyond": "10 AWG",
}  # fmt: skip


@pytest.mark.parametrize(
    ("narrow", "bears_a"),
    [
        # Its own wires, 10 AWG. What stands behind the fuse F9 and what begins beside it at the
        # slot has no part in it, nor have the slots of the panel that it feeds.
        ({}, 30.0),
        ({"beyond": "14 AWG"}, 15.0),
        ({"bar": 12}, 12.0),
        ({"switch": 11}, 11.0),
        ({"panel": 10}, 10.0),
        ({"bar_back": 13}, 13.0),
    ],
)
def test_what_a_circuit_feeds_before_the_next_fuse_bounds_it_out_and_back(
    narrow: dict[str, object], bears_a: float
) -> None:
    study = study_from(BEYOND.format_map(WIDE | narrow))
    limit = largest_fuse_of(study, study.rig.circuits[0])
    assert limit is not None
    assert limit.value == bears_a


PIN = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
busbar N1
switch K1 {0} A
switch K2 {1} A
switch K3 {2} A
panel P1 4 slots of 40 A, negative N1
wire B1+ to P1 6 AWG red 2 ft
wire N1 to B1- 6 AWG black 2 ft
load M1 2 A
circuit P1.1 "Lamp" fuse 5 A
    wire 10 AWG red 2 ft to K1
    wire 10 AWG red 2 ft to M1+
    return 10 AWG black 2 ft to K2.line
wire K2.load to N1 10 AWG black 2 ft
wire P1 to K3.line 10 AWG red 2 ft
"""


@pytest.mark.parametrize(
    ("made_for", "bears_a"),
    [((90, 90, 90), 30.0), ((9, 90, 90), 9.0), ((90, 8, 90), 8.0), ((90, 90, 7), 30.0)],
)
def test_switches_in_the_way_of_a_circuit_bound_it_out_and_back(
    made_for: tuple[int, int, int], bears_a: float
) -> None:
    study = study_from(PIN.format(*made_for))
    limit = largest_fuse_of(study, study.rig.circuits[0])
    assert limit is not None
    assert limit.value == bears_a


@pytest.mark.parametrize(("switch", "bears_a"), [(90, 30.0), (9, 9.0), (5, 5.0), (3, 5.0)])
def test_a_switch_that_its_loads_keep_to_makes_no_fuse_too_large_and_bars_a_larger_one(
    switch: int, bears_a: float
) -> None:
    """A fuse of 5 A before a switch of 3 A that passes 2 A: `check` has nothing against it."""
    study = study_from(PIN.format(switch, 90, 90))
    circuit = study.rig.circuits[0]
    limit = largest_fuse_of(study, circuit)
    assert limit is not None
    assert limit.value == bears_a
    assert not is_too_large(study, circuit)


FILES = sorted((*EXAMPLES.glob("*.rig"), *(EXAMPLES / "faulty").glob("*.rig")))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_rating_is_told_without_a_word_beside_a_largest_below_it(file: Path) -> None:
    result = checked(file)
    told = {one.at.span.start for one in result.findings if one.rule == "fuse-over-panel"}
    for circuit in result.study.rig.circuits if result.study is not None else ():
        assert result.study is not None
        device, largest = result.study.device(circuit.device), largest_made_a(result.study, circuit)
        if device is None or not isinstance(device.rating_a, float):
            continue
        is_told = device.rating_span is not None and device.rating_span.start in told
        if isinstance(largest, float) and not is_too_large(result.study, circuit) and not is_told:
            assert device.rating_a <= largest, circuit.place
