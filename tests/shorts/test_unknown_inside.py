"""A battery of which nobody knows what it has inside: no figure is below what any would give."""

import pytest

from helpers.home import RIGS
from helpers.studies import studied, study_from
from rigfolio.network import edge_name
from rigfolio.record import replace
from rigfolio.shorts.cut_off import own_cut_off
from rigfolio.shorts.faults import Faults
from rigfolio.study import Study

# From a bank as strong as any that is built to one that is all but gone [ohm].
INSIDE_OHM = (1e-4, 2e-3, 2e-2, 1.0, 1e3)
SLACK = 1.0 + 1e-6

TWO_BANKS = """
rig "M4" system 12 V, rules boat
battery B1 "Start" flooded, 90 Ah
battery B2 "House" lithium, 100 Ah, internal 5 mohm, cuts off above 100 A
busbar N1 250 A
combiner K1 120 A
wire B1- to N1 2/0 AWG black 2 ft
wire B2- to N1 2/0 AWG black 2 ft
wire B1+ to K1 2 AWG red 4 ft, fuse 125 A at B1+, interrupts 20 kA
wire B2+ to K1 2 AWG red 4 ft, fuse 125 A at B2+, interrupts 1 kA
disconnect S2 300 A
wire B1+ to S2 2/0 AWG red 3 ft, cranking
wire S2 to L1+ 2/0 AWG red 6 ft, cranking
wire L1- to B1- 2/0 AWG black 6 ft, cranking
load L1 "Starter" 300 A, momentary
"""


def with_inside(study: Study, name: str, ohm: float | None) -> Study:
    """The same rig, with something else inside one battery."""
    sources = tuple(
        replace(one, internal_ohm=ohm, short_a=None, cranking_a=None)
        if one.about.name == name
        else one
        for one in study.rig.sources
    )
    return Study(replace(study.rig, sources=sources), study.book.name)


def figures(faults: Faults, terminal: str) -> dict[str, float]:
    """All that is told to flow at the most in a fault, by part."""
    case = faults.coldest_at(terminal)
    if case is None or case.bound_a is None:
        return {}
    told = {"fault": case.bound_a}
    told |= {f"source {name}": amps for name, amps in case.sources}
    told |= {f"device {edge_name(one.device)}": one.current_a for one in case.blows}
    told |= {f"wire {wire.name}": amps for wire, amps in case.wires}
    for blow in case.blows:
        found = faults.interrupt(blow.device, (terminal,))
        if found is not None and found.bound_a is not None:
            told[f"breaks {edge_name(blow.device)}"] = found.bound_a
    return told


def assert_bounded(study: Study, name: str, places: list[str]) -> int:
    """No figure of a part exceeds what is told where nobody knows a battery; how many were held."""
    unknown, held = Faults(with_inside(study, name, None)), 0
    each = [Faults(with_inside(study, name, ohm)) for ohm in INSIDE_OHM]
    for place in places:
        bound = figures(unknown, place)
        for faults in each if bound else ():
            # A part that is left out carries next to nothing.
            least_a = 1e-5 * bound["fault"]
            for part, amps in figures(faults, place).items():
                assert amps <= bound.get(part, 0.0) * SLACK + least_a, (name, place, part)
                held += 1
    return held


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_nothing_exceeds_what_is_told_of_a_battery_nobody_knows(file):
    study = studied(file)
    places = [one.load for one in study.rig.devices if one.protects][::4]
    batteries = [one.about.name for one in study.rig.sources if one.stores]
    assert sum(assert_bounded(study, name, places) for name in batteries) > 0


def test_another_battery_gives_what_it_does_with_the_unknown_one_absent():
    study = study_from(TWO_BANKS)
    assert assert_bounded(study, "B1", ["S2.load", "K1.load", "B2+"]) > 0
    faults = Faults(study)
    fault = faults.at("S2.load")
    assert fault is not None
    alone = Faults(with_inside(study, "B1", 1e6)).coldest_at("S2.load")
    assert alone is not None
    assert alone.current_a is not None
    own = own_cut_off(study, fault)
    assert own is not None
    assert own.gives_a == pytest.approx((alone.current_a,), rel=1e-3)
    fuse = next(one for one in study.rig.devices if one.about.name == "B2+/K1 fuse")
    found = faults.interrupt(fuse, ("S2.load",))
    assert found is not None
    assert found.may is not True
