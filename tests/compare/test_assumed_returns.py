"""A return that nobody has stated lies beside the way out, however that is cut into pieces."""

from itertools import permutations

import pytest

from helpers.studies import study_from
from rigfolio.compare import work_between
from rigfolio.model import Rig

HEAD = """rig "Hut"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 20 mohm
panel P1 4 slots of 20 A, interrupts 5 kA
busbar N1 100 A
wire W1 B1+ to P1 16 mm2 red 30 cm, fuse 60 A at B1+, class T, interrupts 20 kA
wire W2 N1 to B1- 16 mm2 black 30 cm
circuit P1.1 "Lights" fuse 7.5 A
    wire W43 2.5 mm2 white 2 m
    splice Z1 "Box"
    wire W44 2.5 mm2 white 1 m
    load "Lights" 12 W, led
"""
MORE = {
    "box": '    wire W46 from Z1 2.5 mm2 white 1 m\n    load "Cool box" 30 W\n',
    "fan": '    wire W47 from Z1 2.5 mm2 white 3 m\n    load "Fan" 10 W\n',
    "radio": '    wire W48 from Z1 2.5 mm2 white 4 m\n    load "Radio" 10 W\n',
}
SETS = [(), ("box",), ("fan",), ("box", "fan"), ("box", "fan", "radio")]


def hut(*more: str, lights_m: str = "1 m") -> Rig:
    text = HEAD.replace("W44 2.5 mm2 white 1 m", f"W44 2.5 mm2 white {lights_m}")
    return study_from(text + "".join(MORE[one] for one in more)).rig


@pytest.mark.parametrize(
    ("was", "now"),
    [
        pair
        for pair in permutations(SETS, 2)
        if set(pair[0]) < set(pair[1]) or set(pair[0]) > set(pair[1])
    ],
)
def test_a_load_that_comes_or_goes_changes_no_return_but_its_own(
    was: tuple[str, ...], now: tuple[str, ...]
) -> None:
    gone, come = set(was) - set(now), set(now) - set(was)
    before, after = hut(*was), hut(*now)
    done = [one for one in work_between(before, after) if one.thing == "wire"]
    hard = [one for one in done if one.deed not in ("told", "label")]
    # Its way out and its way back, each once.
    assert sorted(one.deed for one in hard) == ["pull new"] * 2 * len(come) + ["remove"] * 2 * len(
        gone
    )


def test_a_return_that_is_assumed_grows_with_the_way_out() -> None:
    done = work_between(hut(), hut(lights_m="6 m"))
    hard = [(one.deed, one.before) for one in done if one.deed != "label"]
    assert hard == [("replace", "W44"), ("replace", "W44R")]
    # It was 2 m and 1 m to the lights, box or no box.
    (back,) = [one for one in work_between(hut("box"), hut(lights_m="6 m")) if one.before == "W44R"]
    assert (back.deed, back.facts[0]) == ("replace", "8 m, was 3 m")
