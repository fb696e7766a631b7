"""Where the black probe goes, and what may be lost over a sound joint: by the wiring, by hand.

More than 50 mV over a holder or a joint is a bad one (common practice); in millivolts a meter is
off by its two digits.
"""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import CLOSED
from rigfolio.operating.readings.bounds import Bounds
from rigfolio.operating.readings.probes import Probes
from rigfolio.study import Study

BOAT = """rig "T"
    system 12 V
    rules rv
    ambient 20 degC
charger C1 30 A
battery B1 agm, 100 Ah, internal 20 mohm
battery B2 agm, 100 Ah
busbar N1 100 A
busbar N2 100 A
panel P1 4 slots of 20 A, negative N1
panel P2 4 slots of 20 A
panel P3 4 slots of 20 A, negative B1-
wire C1+ to B1+ 8 AWG red 1 ft, fuse 40 A at B1+
wire C1- to N1 8 AWG black 1 ft
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire B1+ to P2 6 AWG red 1 ft, fuse 50 A at B1+
wire B1+ to P3 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire N2 to N1 6 AWG black 1 ft
"""
CIRCUIT = """circuit {} "Lamp" fuse 10 A
    wire 14 AWG red 10 ft, tag T1
    load "Lamp" 5 A
    return to {} 14 AWG black 10 ft
"""


def lamp(slot: str, back: str) -> Study:
    return study_from(BOAT + CIRCUIT.format(slot, back))


@pytest.mark.parametrize(
    ("slot", "back", "minus", "of_panel"),
    [
        # The bar of the panel is at hand, wherever its circuits come back.
        ("P1.1", "N2", "N1", "N1"),
        # Without one it is the bar that the lamp comes back to, else the post of the battery.
        ("P2.1", "N2", "N2", ""),
        ("P2.1", "B1-", "B1-", ""),
        # A post is no handy place beside a bar.
        ("P3.1", "N2", "N2", "B1-"),
        ("P3.1", "B1-", "B1-", "B1-"),
    ],
)
def test_the_black_probe_goes_to_the_handiest_end_of_the_way_back(
    slot: str, back: str, minus: str, of_panel: str
) -> None:
    study = lamp(slot, back)
    (circuit,) = study.rig.circuits
    probes = Probes(study)
    assert (probes.minus(circuit), probes.panel_minus(circuit)) == (minus, of_panel)


def test_the_minus_of_a_place_is_that_of_its_battery() -> None:
    probes = Probes(lamp("P1.1", "N1"))
    # The charger stands first in the text. A minus bar, and what is nowhere, has no source.
    told = {end: probes.source_minus(end) for end in ("P1", "C1+", "B2+", "N2", "X9")}
    assert told == {"P1": "B1-", "C1+": "B1-", "B2+": "B2-", "N2": "", "X9": ""}


def test_what_may_be_lost_over_a_joint_and_along_a_wire() -> None:
    study = lamp("P1.1", "N1")
    probes, device = Probes(study), study.device("P1.1")
    assert device is not None
    joint = probes.joint(device)
    assert (joint.words, joint.low, joint.high) == ("holder, P1 feed to P1.1", 0.0, 0.05)
    bounds = Bounds(study, frozenset({"Lamp"}), [CLOSED])
    # A foot of 6 AWG has 0.4 mohm: 5 A lose 2 mV there, either way round; a sound joint may lose
    # 50 mV all the same. 10 ft of 14 AWG have 26 to 30 mohm.
    for a, b in (("B1+/P1.fuse.load", "P1"), ("P1", "B1+/P1.fuse.load")):
        short = probes.drop(bounds, a, b)
        assert -0.006 < short.low <= 0.0
        assert short.high == 0.05
    plus = study.rig.loads[0].plus
    long = probes.drop(bounds, "P1.1", plus)
    assert long.low == 0.0
    assert 0.026 * 5.0 * 1.15 < long.high < 0.03 * 5.0 * 1.15 + 0.01
    assert (long.a, long.b, long.unit) == ("P1.1", plus, "V")


def test_amperes_are_read_in_a_fuse_and_round_the_lead_of_a_load() -> None:
    study = lamp("P1.1", "N1")
    probes, device = Probes(study), study.device("P1.1")
    assert device is not None
    bounds = Bounds(study, frozenset({"Lamp"}), [CLOSED])
    through = probes.amps(bounds, device)
    drawn = probes.drawn(bounds, study.rig.loads[0])
    assert (through.a, through.b, through.entry) == ("P1.1", "", "P1.1 = ")
    assert (drawn.a, drawn.b, drawn.entry) == ("Lamp", "", "Lamp = ")
    # 5 A, 15 % more or less, and the clamp.
    for point in (through, drawn):
        assert (point.low, point.high) == pytest.approx((5.0 * 0.85, 5.0 * 1.15), abs=0.04)
