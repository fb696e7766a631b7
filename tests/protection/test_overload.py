"""Shared wires that carry more than they may, out and back, at their limit and above it.

In a travel trailer 14 AWG bears 15 A: NFPA 70 Table 552.10(E)(1), as it stands in the book (from
memory).
"""

import pytest

from helpers.studies import study_from
from rigfolio.demand import flows_of
from rigfolio.protection.overload import (
    Overload,
    overload_back,
    overload_out,
    overloaded_of,
    too_much_back,
)
from rigfolio.protection.returns import start_shares

RIG = """rig "T"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
busbar D1 200 A
busbar N1 200 A
busbar N2 200 A
load M1 {0} A
load M2 {1} A
wire B1+ to D1 {out} red 2 ft, fuse {fuse} A at B1+, tag T1
wire N2 to N1 {back} black 2 ft, tag T2
wire N1 to B1- 2/0 AWG black 2 ft
wire D1 to M1+ 10 AWG red 2 ft
wire D1 to M2+ 10 AWG red 2 ft
wire M1- to N2 10 AWG black 2 ft
wire M2- to N2 10 AWG black 2 ft
"""
THIN, THICK = "14 AWG", "2 AWG"


@pytest.mark.parametrize(
    ("first", "second", "out", "back", "over"),
    [
        (10, 5, THIN, THIN, set()),
        (10, 5.1, THIN, THIN, {"T1", "T2"}),
        (10, 5.1, THIN, THICK, {"T1"}),
        (10, 5.1, THICK, THIN, {"T2"}),
        # Nobody has read which it is.
        (10, 5.1, "? AWG", "? AWG", set()),
    ],
)
def test_a_shared_wire_is_overloaded_above_its_limit(
    first: float, second: float, out: str, back: str, over: set[str]
) -> None:
    study = study_from(RIG.format(first, second, out=out, back=back, fuse=30))
    assert overloaded_of(study) == over


def test_a_wire_of_one_circuit_is_not_among_them() -> None:
    text = RIG.format(5, 5, out=THIN, back=THIN, fuse=30)
    text += 'circuit D1 "Heater" fuse 20 A\n    wire 14 AWG red 2 ft\n    load "Heater" 18 A\n'
    study = study_from(text + "    return to N1\n")
    assert all(study.rig.conductor(name).circuit == "" for name in ("T1", "T2"))
    # 5 + 5 + 18 = 28 A run through T1; by T2 come 10 A. What is the heater's own is told by itself.
    assert overloaded_of(study) == {"T1"}


def test_the_seconds_of_a_start_overload_no_cable_that_is_declared() -> None:
    text = RIG.format(150, 5, out=THIN, back=THIN, fuse=30)
    text = text.replace("load M1 150 A", 'load M1 "Starter" 150 A, momentary')
    text = text.replace("M1+ 10 AWG", "M1+ 2/0 AWG").replace(
        "M1- to N2 10 AWG", "M1- to N2 2/0 AWG"
    )
    declared = text.replace(", tag T2", ", cranking, tag T2")
    declared = declared.replace(", fuse 30 A at B1+, tag T1", ", cranking, tag T1")
    assert overloaded_of(study_from(declared)) & {"T1", "T2"} == set()
    assert overloaded_of(study_from(text)) & {"T1", "T2"} == {"T1", "T2"}


def test_what_a_start_brings_back_beside_its_cable_is_no_load_of_hours() -> None:
    text = RIG.format(150, 5, out="2/0 AWG", back=THIN, fuse=300)
    text = text.replace("load M1 150 A", 'load M1 "Starter" 150 A, momentary')
    text = text.replace("M1+ 10 AWG red 2 ft", "M1+ 2/0 AWG red 2 ft, cranking")
    text += "wire N2 to N1 2/0 AWG black 2 ft, cranking\n"
    study = study_from(text)
    assert "T2" not in overloaded_of(study)
    # Of 14 AWG and 2/0 side by side, 4,110 and 133,100 circular mils (ASTM B258), the thin one
    # takes 3 %: of 150 A for a moment, and of the 5 A that run for hours.
    assert start_shares(study)["T2"][0] == pytest.approx(150.0 * 0.03, rel=0.15)
    assert flows_of(study).demand("T2").current_a == pytest.approx(5.0 * 0.03, rel=0.15)


@pytest.mark.parametrize(
    ("fuse", "back", "bears_a"),
    [
        (15, THIN, None),
        (16, THIN, 15.0),
        (16, "? AWG", None),
    ],
)
def test_a_return_is_told_where_a_fuse_lets_more_come_back_than_it_bears(
    fuse: float, back: str, bears_a: float | None
) -> None:
    study = study_from(RIG.format(5, 5, out=THICK, back=back, fuse=fuse))
    limit = too_much_back(study, study.rig.conductor("T2"))
    assert (None if limit is None else limit.value) == bears_a
    # A wire of the plus side is no return.
    assert too_much_back(study, study.rig.conductor("T1")) is None


def test_a_return_of_a_battery_without_a_fuse_is_told_elsewhere() -> None:
    text = RIG.format(5, 5, out=THICK, back=THIN, fuse=99).replace(", fuse 99 A at B1+", "")
    study = study_from(text)
    assert too_much_back(study, study.rig.conductor("T2")) is None


@pytest.mark.parametrize(
    ("size", "fuse", "out_a", "back_a"),
    [
        # 15.1 A on 14 AWG: the fuse on the way lets them through, or opens first.
        (THIN, 30, 15.1, None),
        (THIN, 15, None, 15.1),
        (THICK, 30, None, None),
        ("? AWG", 15, None, None),
    ],
)
def test_what_loads_ask_of_a_wire_is_told_where_no_fuse_opens_first(
    size: str, fuse: float, out_a: float | None, back_a: float | None
) -> None:
    study = study_from(RIG.format(10, 5.1, out=size, back=size, fuse=fuse))
    out, back = (study.rig.conductor(name) for name in ("T1", "T2"))
    told = [overload_out(study, out), overload_back(study, back)]
    assert [one and (one.demand_a, one.limit.value) for one in told] == [
        a and (pytest.approx(a), 15.0) for a in (out_a, back_a)
    ]
    # Each is asked of its own side.
    assert (overload_out(study, back), overload_back(study, out)) == (None, None)


@pytest.mark.parametrize(("length", "is_told"), [("3 in", False), ("?", False), ("20 ft", True)])
def test_the_short_leads_of_a_fixture_are_left_to_its_maker(length: str, is_told: bool) -> None:
    # 18 AWG bears 6 A by the same table; what the maker of a lamp puts on it is his to answer for.
    text = RIG.format(5, 5, out=THICK, back=THICK, fuse=30)
    text += 'circuit D1 "Lamp" fuse 15 A\n    wire 10 AWG red 2 ft\n'
    text += f'    load "Lamp" 10 A, leads 18 AWG {length}\n    return to N1\n'
    study = study_from(text)
    found = [overload_out(study, wire) for wire in study.rig.conductors if wire.lead]
    told = [one for one in found if one is not None]
    assert all(isinstance(one, Overload) for one in told)
    assert [(one.demand_a, one.limit.value) for one in told] == [(10.0, 6.0)] * is_told


@pytest.mark.parametrize(
    ("starter", "other", "share_a"), [(150, 5, 4.5), (150, 400, 4.5), ("?", 400, None)]
)
def test_only_what_cranks_is_counted_as_a_start(
    starter: object, other: float, share_a: float | None
) -> None:
    # However much the other draws, it is no start; of what nobody knows no share is told.
    text = RIG.format(starter, other, out="2/0 AWG", back=THIN, fuse=300)
    text = text.replace(f"load M1 {starter} A", f'load M1 "Starter" {starter} A, momentary')
    text = text.replace("M1+ 10 AWG red 2 ft", "M1+ 2/0 AWG red 2 ft, cranking")
    found = start_shares(study_from(text + "wire N2 to N1 2/0 AWG black 2 ft, cranking\n"))
    told = {name: (share, load.about.name) for name, (share, load) in found.items()}
    wanted = {} if share_a is None else {"T2": (pytest.approx(share_a, rel=0.15), "M1")}
    assert told == wanted
