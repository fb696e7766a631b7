"""What an ohmmeter shows on a dead rig, its fuses out: by hand."""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import CLOSED
from rigfolio.operating import Scene, Wrong

OPEN_OHM = 1e7
"""What stands for a joint that is open in the book of the trade."""
BENCH = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 100 mohm
load M1 "Heater" 1.2 ohm
load M2 "Lamp" 24 W
fuse F1 20 A on B1+
wire F1.load to M1+ 10 AWG red 10 ft tag T1
wire M1- to B1- 10 AWG black 1 in
wire M1+ to M2+ 10 AWG red 1 in
wire M2- to M1- 10 AWG black 1 in
"""


def scene(*on: str) -> Scene:
    return Scene(study_from(BENCH), CLOSED, frozenset(on))


@pytest.mark.parametrize(
    ("on", "ohm"),
    [
        ((), OPEN_OHM),
        (("M1",), 1.2),
        # 24 W at 12 V are 144 / 24 ohm; beside 1.2 ohm that makes 7.2 / 7.2.
        (("M2",), 6.0),
        (("M1", "M2"), 1.0),
    ],
)
def test_loads_that_are_on_stand_side_by_side(on: tuple[str, ...], ohm: float) -> None:
    assert scene(*on).ohms("M1+", "M1-") == pytest.approx(ohm, rel=1e-3)


def test_a_wire_has_its_copper_and_a_fuse_that_is_out_is_open() -> None:
    # 10 ft of 10 AWG have 10.2 mohm at 20 °C, stranded (ASTM B258 and IEC 60028), warm some more.
    one = scene("M1")
    assert 0.0102 < one.ohms("F1.load", "M1+") < 0.0125
    assert one.ohms("F1.line", "F1.load") == pytest.approx(OPEN_OHM)
    worn = Wrong(ohm=(("T1", 5.0),))
    assert one.ohms("F1.load", "M1+", worn) == pytest.approx(5.011, abs=0.002)
    # What is in the wire before it does not show across the load.
    assert one.ohms("M1+", "M1-", worn) == pytest.approx(1.2, rel=1e-3)


@pytest.mark.parametrize(("a", "b"), [("M1+", "X9"), ("X9", "M1+"), ("X9", "X8")])
def test_a_place_that_is_not_in_the_rig_is_open_to_all(a: str, b: str) -> None:
    assert scene("M1").ohms(a, b) == OPEN_OHM
