"""What charges, charges by no switch that no state closes, and past no fuse that is smaller."""

import pytest

from helpers.studies import study_from
from rigfolio.demand import charging, flows_of
from rigfolio.isolation import opened, source_reach, states_of
from rigfolio.network import never_closed
from rigfolio.protection import returns_of

TEXT = """rig "T" system 12 V, rules rv
battery B1 "House" flooded, 100 Ah, internal 5 mohm
battery B2 "Breakaway battery" agm, 5 Ah, internal 40 mohm
vehicle V2 "Brake controller" 25 A
connector J1 7 pins of 30 A
chassis G1
switch SW1 "Breakaway switch" 30 A{rests}
load L1 "Brakes" 12 A, momentary
wire W1 B1- to G1 6 AWG 3 ft
wire W2 B2- to G1 8 AWG 2 ft
wire W3 B2+ to SW1 12 AWG 2 ft, fuse 15 A at B2+
wire W4 SW1 to L1+ 12 AWG 3 ft
wire W5 L1- to G1 12 AWG 4 ft
wire W6 J1.2 to L1+ 12 AWG 22 ft
wire W7 V2+ to J1.2 12 AWG 18 ft, breaker {breaker} A at V2+
wire W8 V2- to J1.1 12 AWG 6 ft
wire W9 J1.1 to G1 10 AWG 3 ft
circuit B1+ "Lamp" fuse 5 A
    wire 16 AWG 5 ft
    load "Lamp" 1 A
    return to G1
circuit B1+ "Fan" fuse 5 A
    wire 16 AWG 5 ft
    switch SW2 5 A, rests open
    wire 16 AWG 5 ft
    load "Fan" 1 A
    return to G1
{states}"""
TOWING = "state towing V2 on\nstate yard V2 off\n"
CLOSED = "state towing V2 on\nstate pulled V2 on, SW1 closed\n"


@pytest.mark.parametrize(
    ("rests", "states", "is_never"),
    [
        (", rests open", "", True), (", rests open", TOWING, True), (", rests open", CLOSED, False),
        ("", "", False), ("", TOWING, False), (", rests closed", TOWING, False),
        ("", "state towing V2 on, SW1 open\nstate yard V2 off, SW1 open\n", True),
    ],
)  # fmt: skip
def test_nothing_is_charged_that_no_state_joins_to_what_charges(
    rests: str, states: str, is_never: bool
) -> None:
    study = study_from(TEXT.format(rests=rests, states=states, breaker=30))
    # The switch of a lamp joins no two sources: it is none of them.
    assert never_closed(study.rig) == ({"SW1"} if is_never else set())
    for edge in ("SW1", "W4", "W3 fuse"):
        assert flows_of(study).charge_a(edge) == (0.0 if is_never else 25.0)
    assert [one.banks for one in charging(study)] == ([] if is_never else [("B2",)])
    # And so `live` says: what charges a bank reaches it in some state.
    reach = source_reach(study)
    alive = [reach.alive(opened(study.rig, one)) for one in states_of(study)]
    assert any("V2" in each.get("B2+", ()) for each in alive) != is_never


@pytest.mark.parametrize(("breaker", "beyond_a"), [(10, 10.0), (15, 15.0), (20, 20.0), (40, 25.0)])
def test_beyond_a_fuse_runs_no_more_than_it_lets_through(breaker: int, beyond_a: float) -> None:
    flows = flows_of(study_from(TEXT.format(rests="", states="", breaker=breaker)))
    before, beyond = ("W7 breaker",), ("J1.2.line", "W6", "W4", "SW1", "W3 fuse")
    assert {flows.charge_a(edge) for edge in before} == {25.0}
    assert {flows.charge_a(edge) for edge in beyond} == {beyond_a}
    # What comes back has passed both.
    assert {flows.charge_a(edge) for edge in ("W2", "W8", "W9")} == {min(beyond_a, 15.0)}


def test_what_comes_back_to_a_source_is_from_what_it_reaches() -> None:
    study = study_from(TEXT.format(rests="", states="", breaker=20))
    assert returns_of(study)["W8"].circuits == ("L1",)
    lamps = {one.place for one in study.rig.circuits}
    assert len(lamps) == 2
    assert set(returns_of(study)["W1"].circuits) == lamps
