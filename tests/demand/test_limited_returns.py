"""What returns to a source is what it gives: on every cut of its minus no more than its limit.

Kirchhoff's law of currents holds for each source by itself: what leaves its plus comes back to its
minus, by one wire or several.
"""

import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import study_from
from rigfolio.demand import flows_of

RIG = """rig "Two ways back" system 12 V, rules boat, insulation 105 degC
battery B1 agm, 400 Ah, internal 5 mohm
battery B3 agm, 80 Ah, internal 6 mohm
busbar N1 600 A
busbar N2 600 A
busbar N4 600 A
fuse F1 300 A, class T, interrupts 20 kA
wire B1+ to F1 120 mm2 red 0.3 m
wire F1 to N2 120 mm2 red 0.3 m
wire B1- to N1 120 mm2 black 0.5 m
dc-dc D1 {given} A, draws {drawn} A
wire B3+ to D1.in 50 mm2 red 2 m, fuse 200 A, class T, interrupts 20 kA at B3+
wire W1 D1.out to N2 35 mm2 red 1 m, fuse 150 A, midi, interrupts 2 kA at N2
wire W2 D1- to N4 50 mm2 black 0.3 m
wire W3 N4 to N1 {a} mm2 black {a_m} m
wire W4 N4 to N1 {b} mm2 black {b_m} m
wire W5 B3- to N4 50 mm2 black 1 m
{more}
{loads}
"""
WAY = "busbar N5 600 A\nwire W6 N4 to N5 {c} mm2 black {c_m} m\nwire W7 N5 to N1 {c} mm2 black 1 m"


@st.composite
def rigs(draw):
    def size():
        return draw(st.sampled_from([6, 10, 16, 25, 50]))

    def length():
        return draw(st.floats(0.5, 5.0).map(lambda one: round(one, 1)))

    given_a = draw(st.integers(2, 60))
    loads = [
        f"load L{n} {draw(st.integers(5, 90))} A, {draw(st.sampled_from(duties))}\n"
        f"wire N2 to L{n}+ 70 mm2 red 1 m, fuse 125 A, midi, interrupts 2 kA at N2\n"
        f"wire L{n}- to N1 70 mm2 black 1 m"
        for n in range(draw(st.integers(1, 4)))
    ]
    more = draw(st.booleans())
    text = RIG.format(
        given=given_a, drawn=given_a + draw(st.integers(1, 20)), a=size(), b=size(), a_m=length(),
        b_m=length(), more=WAY.format(c=size(), c_m=length()) if more else "",
        loads="\n".join(loads),
    )  # fmt: skip
    return text, given_a, ("W3", "W4", "W6") if more else ("W3", "W4")


duties = ["led", "intermittent", "intermittent"]


def returned(study, name, source):
    """The most that a source drives back through a wire [A]."""
    counts = flows_of(study).counts
    held = (one for one in counts.driven(name) if one.source == source)
    return max((min(one.tally.demand_a(counts.share), one.bound_a) for one in held), default=0.0)


@settings(max_examples=40, deadline=None, derandomize=True, database=None)
@given(rig=rigs())
def test_what_comes_back_to_a_limited_source_is_what_it_gives(rig):
    text, given_a, cut = rig
    study = study_from(text)
    back_a = sum(returned(study, name, "D1") for name in cut)
    out_a = returned(study, "W1", "D1")
    assert out_a <= given_a + 1e-9
    assert back_a == pytest.approx(out_a, rel=1e-6)
    assert returned(study, "W2", "D1") == pytest.approx(out_a, rel=1e-6)
    # What a source without a limit drives is not bounded by that of another one.
    assert returned(study, "W1", "B1") == 0.0


def test_what_a_house_draws_does_not_come_back_through_a_plug_for_a_small_charger():
    """Two wires of one gauge and length share alike: a half of 30 A each, by hand."""
    loads = (
        "load L0 200 A\nwire N2 to L0+ 120 mm2 red 1 m, fuse 250 A, class T, interrupts 20 kA at "
        "N2\nwire L0- to N1 120 mm2 black 1 m"
    )
    text = RIG.format(given=30, drawn=40, a=25, b=25, a_m=2, b_m=2, more="", loads=loads)
    study = study_from(text)
    for name in ("W3", "W4"):
        assert flows_of(study).demand(name).current_a == pytest.approx(15.0, rel=1e-6)
