"""A fuse that is enough behind the copper that is proposed stays in."""

from helpers.studies import study_from
from rigfolio.sizing import sizes
from rigfolio.sizing.fuses import duty_of
from rigfolio.units import is_over

STRIP = """rig "Wagon"
    system 24 V
    rules rv
battery B1 gel, 110 Ah, internal 5 mohm
fuse F1 40 A midi on B1+
panel P1 4 slots of 20 A
busbar N1 100 A
wire F1.load to P1 10 mm2 red 1 m
wire N1 to B1- 10 mm2 black 1 m
circuit P1.1 "Strip" fuse 3 A
    wire {size} mm2 yellow 45 m
    load "Strip" 48 W, led, 4 h/day
"""


def proposed(size: str):
    found = sizes(study_from(STRIP.format(size=size)))
    return next(one for one in found if one.place == "P1.1")


def test_the_fuse_of_a_load_that_takes_a_power_through_thin_wire():
    """By hand: 90 m of 0.75 mm2 have some 2.3 ohm when warm (19 mohm mm2/m).

    I (24 V - 2.3 ohm I) = 48 W gives I = 2.7 A, which for hours asks for 2.7 / 0.8 = 3.4 A: more
    than 3 A. 90 m of 2.5 mm2 have 0.7 ohm: I = 2.14 A, which asks for 2.7 A.
    """
    as_it_is = study_from(STRIP.format(size="0.75"))
    device = as_it_is.rig.by_name.devices[as_it_is.rig.by_name.circuits["P1.1"].device]
    assert is_over(duty_of(as_it_is, device).needed_a, 3.0)
    one = proposed("0.75")
    assert [(fuse.has_a, fuse.fit_a) for fuse in one.fuses] == [(3.0, 3.0)]
    assert {round(wire.fit.area_m2 * 1e6, 2) for wire in one.wires} == {2.5}
    (left,) = proposed("2.5").fuses
    assert (left.has_a, left.fit_a) == (3.0, 3.0)
