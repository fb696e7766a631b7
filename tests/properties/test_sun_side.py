"""The sun side against sums of its own: volts in the cold, what comes back, what each wire carries.

Open-circuit volts add up in series and rise in the cold by the share on the label; short-circuit
currents add up in parallel (common practice). Nothing here asks the code how it adds.
"""

import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import found_by, rules_for, study_from
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Severity
from rigfolio.isolation.energised import Open, source_reach

_few = settings(derandomize=True, max_examples=30, deadline=None)


@st.composite
def roofs(draw):
    """Strings alike, the cold, the label, and what the controller bears."""
    return {
        "strings": draw(st.integers(1, 5)),
        "series": draw(st.integers(1, 4)),
        "open_v": draw(st.sampled_from([21.6, 22.4, 37.8])),
        "short_a": draw(st.sampled_from([3.0, 6.1, 9.4, 13.9])),
        "gains": draw(st.sampled_from([0.25, 0.29, 0.34])),
        "back_a": draw(st.sampled_from([10.0, 15.0, 20.0, 30.0])),
        "coldest_c": draw(st.sampled_from([-40, -20, 0, 10])),
        "bears_v": draw(st.sampled_from([30.0, 50.0, 75.0, 100.0, 150.0])),
        "fuse_a": draw(st.sampled_from([0, 10, 15, 25])),
    }


def written(roof):
    label = (
        f"{roof['series']} modules in series, open circuit {roof['open_v']} V, short circuit "
        f"{roof['short_a']} A, gains {roof['gains']} % a degree colder, series fuse "
        f"{roof['back_a']} A"
    )
    lines = [
        'rig "Roof"', "    rules vehicle", f"    coldest {roof['coldest_c']} degC",
        "battery B1 agm, 100 Ah, delivers 900 A", "busbar N1 200 A", "busbar N2 200 A",
        "busbar N3 200 A", f"solar U1 20 A, input {roof['bears_v']} V", "disconnect S1 200 A",
        "wire N2 to S1 2/0 AWG red 3 ft tag T0", "wire S1 to U1.in 2/0 AWG red 3 ft",
        "wire N3 to U1.in- 2/0 AWG black 3 ft tag T9",
        "wire U1+ to B1+ 8 AWG red 4 ft, fuse 30 A at B1+", "wire U1- to N1 8 AWG black 4 ft",
        "wire B1- to N1 2 AWG black 2 ft",
    ]  # fmt: skip
    fuse = f", fuse {roof['fuse_a']} A rated 300 V at N2" if roof["fuse_a"] else ""
    for number in range(1, roof["strings"] + 1):
        lines += [
            f"array Y{number} {label}",
            f"wire Y{number}+ to N2 2 AWG red 6 ft{fuse} tag T{number}",
            f"wire Y{number}- to N3 2 AWG black 6 ft",
        ]  # fmt: skip
    return "\n".join(lines) + "\n"


def dangers(roof, rules):
    """The rules among some by which a roof is a danger."""
    found = found_by(rules, study_from(written(roof)))
    return {one.rule for one in found if one.severity is Severity.DANGER}


@given(roofs())
@_few
def test_the_volts_of_the_coldest_morning(roof):
    colder_k = 25.0 - roof["coldest_c"]
    volts = roof["series"] * roof["open_v"] * (1.0 + roof["gains"] / 100.0 * colder_k)
    assert bool(dangers(roof, {"array-over-input"})) == (volts > roof["bears_v"])


@given(roofs())
@_few
def test_what_comes_back_into_a_string(roof):
    # Each of the others drives its own current, and no more than its fuse lets through; all of it
    # comes by the fuse of the string that it flows into.
    fuse_a = roof["fuse_a"] or float("inf")
    others_a = (roof["strings"] - 1) * min(roof["short_a"], fuse_a)
    is_told = bool(dangers(roof, {"array-fed-back"}))
    assert is_told == (min(others_a, fuse_a) > roof["back_a"])


@given(roofs())
@_few
def test_every_wire_carries_the_strings_behind_it(roof):
    study = study_from(written(roof))
    carried = {name: flows_of(study).demand(name).current_a for name in ("T0", "T1", "T9")}
    all_a = roof["strings"] * roof["short_a"]
    assert carried == pytest.approx({"T0": all_a, "T1": roof["short_a"], "T9": all_a})


@given(roofs())
@_few
def test_a_controller_runs_while_its_input_is_live(roof):
    study = study_from(written(roof))
    reach = source_reach(study)
    names = {f"Y{number}" for number in range(1, roof["strings"] + 1)}
    at_post = {
        state: set(reach.alive(state).get("B1+", ()))
        for state in (Open(), Open(frozenset({"S1"})), Open(sources=frozenset(names)))
    }
    assert list(at_post.values()) == [{"B1", "U1"}, {"B1"}, {"B1"}]
    assert names <= set(reach.alive(Open(frozenset({"S1"}))).get("S1.line", ()))


@given(roofs(), st.sampled_from(["series", "strings"]))
@_few
def test_more_modules_silence_no_danger(roof, what):
    every = rules_for(Severity.DANGER)
    assert dangers(roof, every) <= dangers(roof | {what: roof[what] + 1}, every)


LOOSE = """rig "Loose"
battery B1 agm, 100 Ah
busbar N1
solar U1 20 A, input 75 V
wire U1+ to B1+ 10 AWG red 4 ft, fuse 30 A at B1+
wire U1- to N1 10 AWG black 4 ft
wire B1- to N1 10 AWG black 4 ft
"""
IN_MINUS = """array Y1 open circuit 22 V, short circuit 6 A
disconnect S1 20 A
wire Y1+ to U1.in 10 AWG red 4 ft
wire Y1- to S1 10 AWG black 4 ft
wire S1 to U1.in- 10 AWG black 4 ft
"""


@pytest.mark.parametrize("more", ["", "wire U1.in to ? 10 AWG red 4 ft\n"])
def test_a_controller_whose_modules_are_not_told_may_run(more):
    study = study_from(LOOSE + more)
    assert set(source_reach(study).alive()["B1+"]) == {"B1", "U1"}


def test_an_isolator_in_the_minus_lead_parts_the_controller():
    reach = source_reach(study_from(LOOSE + IN_MINUS))
    opened = reach.alive(Open(frozenset({"S1"})))
    assert set(reach.alive()["B1+"]) == {"B1", "U1"}
    assert set(opened["B1+"]) == {"B1"}
    assert opened["Y1+"] == ("Y1",)
