"""Less copper never turns a finding into silence, and never into something that nobody knows.

A gauge thinner than the thinnest row of a table is bounded by that row: what is a danger there is a
danger in anything thinner.
"""

import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import found_by
from rigfolio.findings import Severity

GAUGES = ["10", "12", "14", "16", "18", "20", "22", "24"]
DANGERS = {"fuse-over-wire", "unprotected-wire", "wire-overloaded", "return-too-thin",
           "return-overloaded", "wrong-fuse-found", "no-battery-fuse"}  # fmt: skip


def text(book, gauge, fuse, found, amperes):
    has_found = f", found {found} A" if found else ""
    return f"""rig "Thin"
    system 12 V
    rules {book}
    insulation 105 degC
battery B1 flooded, 100 Ah
fuse F1 50 A on B1+
panel P1 6 slots of 40 A
busbar N1 100 A
wire F1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG white 1 ft
circuit P1.1 "Lamp" fuse {fuse}{has_found}
    wire {gauge} AWG blue 1 ft
    load "Lamp" {amperes} A
    return {gauge} AWG white 1 ft
"""


def dangers(study):
    return {one.rule for one in found_by(DANGERS, study) if one.severity is Severity.DANGER}


@settings(max_examples=60)
@given(
    st.sampled_from(["rv", "boat", "vehicle"]),
    st.sampled_from(["?", "5 A", "10 A", "15 A", "20 A", "30 A"]),
    st.sampled_from([0, 5, 10, 20, 30]),
    st.sampled_from([1, 4, 9, 14]),
)
def test_thinner_copper_keeps_every_danger(study_of, book, fuse, found, amperes):
    before: set[str] = set()
    for gauge in GAUGES:
        now = dangers(study_of(text(book, gauge, fuse, found, amperes)))
        # What flows back is told once: by the fuses, or by the loads where these let less through,
        # or by the one that was found where that lets too much through.
        back = {"return-too-thin", "wrong-fuse-found"}
        same = {"return-overloaded": back, "wire-overloaded": {"fuse-over-wire"}}
        kept = (one in now or same.get(one, set()) & now for one in before)
        assert all(kept), (gauge, before, now)
        before = now


@pytest.mark.parametrize("book", ["rv", "boat", "vehicle"])
def test_a_wire_like_a_hair_behind_a_large_fuse_is_a_danger(study_of, book):
    assert "fuse-over-wire" in dangers(study_of(text(book, "24", "40 A", 0, 1)))
