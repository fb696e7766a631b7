"""A wire on the half of the vehicle is live with the plug out: it is parted at its own battery."""

import pytest

from rigfolio.folio.versions import compared
from rigfolio.isolation import isolate
from rigfolio.judgement.result import check
from rigfolio.swap import work_since
from rigfolio.swap.power import charging

TRAILER = """rig "Trailer" system 12 V, rules rv
battery B1 "House" flooded, 100 Ah, internal 5 mohm
vehicle V1 "Truck", delivers 800 A
connector J1 "Tow plug" 7 pins of 30 A
panel P1 4 slots of 20 A
busbar N1 100 A
wire W1 B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+, class T
wire W2 B1- to N1 6 AWG black 1 ft
wire W13 V1+ to J1.4 {awg} AWG black 20 ft{breaker}
wire W14 J1.4 to B1+ {other} AWG black 14 ft, fuse 30 A at B1+, class T
wire W15 V1- to J1.1 10 AWG white 20 ft
wire W16 J1.1 to N1 10 AWG white 5 ft
"""


def plan(**changed: str) -> tuple[list[str], list[str]]:
    """What is read before the steps of making it dead, and the steps, of a change."""
    plain = {"awg": "12", "breaker": "", "other": "12"}
    was, now = (
        check("trailer.rig", text=TRAILER.format_map(plain | more)) for more in ({}, changed)
    )
    assert now.study is not None
    _, again = compared(was, now)
    made = work_since(now.study, again)
    part = next(one for one in made if one.title.startswith("Make it dead"))
    return list(part.about), [f"{task.do} | {task.see}" for task in part.tasks]


@pytest.mark.parametrize("breaker", ["", ", breaker 30 A at V1+, interrupts 2 kA"])
def test_a_wire_on_the_post_of_the_vehicle_is_parted_there_and_proved_there(breaker: str) -> None:
    about, steps = plan(awg="10", breaker=breaker)
    (parted,) = (step for step in steps if "at its own battery" in step)
    assert "V1" in parted
    # What is fitted in the new text alone opens nothing before it is there.
    assert not any("W13 breaker" in step for step in steps)
    (proof,) = (step for step in steps if step.startswith("both ends of W13"))
    assert "J1.1.line" in proof
    assert "N1" not in proof
    assert any("the frame of V1" in step for step in steps)
    assert all("from V1" not in told for told in about)


def test_a_wire_behind_the_plug_leaves_the_half_of_the_vehicle_live_and_says_so() -> None:
    about, steps = plan(other="10")
    assert not any("at its own battery" in step for step in steps)
    (away,) = (told for told in about if "from V1" in told)
    assert "V1+" in away
    assert "J1.4.line" in away
    (proof,) = (step for step in steps if step.startswith("both ends of W14"))
    assert "J1.1.line" not in proof


BRAKES = """vehicle V2 "Brake controller" 25 A
battery B2 "Breakaway battery" agm, 5 Ah, internal 40 mohm
switch SW1 "Breakaway switch" 30 A{rests}
load L1 "Brakes" 12 A, momentary
wire W20 B2+ to SW1 12 AWG 2 ft, fuse 20 A at B2+
wire W21 B2- to N1 12 AWG 2 ft
wire W22 SW1 to L1+ 12 AWG 3 ft
wire W23 L1- to N1 12 AWG 4 ft
wire W24 J1.2 to L1+ 12 AWG 4 ft
wire W25 V2+ to J1.2 12 AWG 18 ft, breaker 20 A at V2+
wire W26 V2- to J1.1 12 AWG 6 ft
"""


@pytest.mark.parametrize(("rests", "is_seen"), [(", rests open", False), ("", True)])
def test_what_charges_no_battery_is_not_looked_for_there(rests: str, is_seen: bool) -> None:
    breaker = ", breaker 30 A at V1+, interrupts 2 kA"
    text = TRAILER.format(awg="10", breaker=breaker, other="10") + BRAKES.format(rests=rests)
    study = check("trailer.rig", text=text).study
    assert study is not None
    tasks = charging(study, isolate(study, "P1")).tasks
    seen = {task.on: task.see for task in tasks}
    assert "more than before" in seen[("V1",)]
    assert ("more than before" in seen[("V2",)]) == is_seen
