"""What a battery loses inside, by hand: P = U (E - R I)."""

import math

import pytest

from helpers.studies import study_from
from rigfolio.rule import judge

# Flooded, full and at rest: a maker's figure (seen).
FULL_V = 12.73


def _said(mohm, watts, count=1):
    lines = ['rig "Case"', "    system 12 V", "    rules boat", f"load M1 {watts} W"]
    for number in range(1, count + 1):
        lines += [
            f"battery B{number} flooded, 100 Ah, internal {mohm} mohm",
            f"wire B{number}+ to M1+ 4/0 AWG red 1 ft, fuse 400 A at B{number}+ class-t",
            f"wire M1- to B{number}- 4/0 AWG black 1 ft",
        ]
    return list(judge(study_from("\n".join(lines) + "\n"), ("voltage-collapse",)))


@pytest.mark.parametrize("watts", [1500, 2000, 2500, 3000, 3400])
def test_posts_below_their_end(watts):
    # 4/0: 0.0608 ohm per 1000 ft at 75 °C (NFPA 70 chapter 9 table 8, seen), a foot out and back:
    # 0.12 mohm beside 10 mohm.
    ohm = 10e-3 + 2.0 * 0.0608e-3
    current_a = (FULL_V - math.sqrt(FULL_V**2 - 4.0 * ohm * watts)) / (2.0 * ohm)
    posts_v = FULL_V - 10e-3 * current_a
    found = _said(10, watts)
    assert [one.headline for one in found if "by its own resistance" in one.headline] == (
        [found[0].headline] if posts_v < 10.5 else []
    )
    if posts_v < 10.5:
        assert dict(found[0].numbers)["posts_v"] == pytest.approx(posts_v, rel=2e-3)


def test_the_rig_that_was_passed():
    """3000 W on 100 Ah and 10 mohm: a full battery has 9.6 V left at its posts."""
    assert len(_said(10, 3000)) == 1


def test_beyond_the_most_that_it_gives():
    """E² / 4 R = 144 / 0.04 = 3600 W: beyond that nothing holds the volts."""
    assert "pulls the voltage to collapse" in _said(10, 3700)[0].headline


def test_quiet_with_banks_side_by_side():
    """Three of 10 mohm are 3.3 mohm: 1500 W take 137 A, and the posts stand at 11.5 V."""
    assert _said(10, 1500, count=3) == []
