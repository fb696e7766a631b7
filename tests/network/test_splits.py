"""Current in meshes: one split serves all batteries that stand side by side."""

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.judgement import understood
from rigfolio.network import Split, Splits, edge_name
from rigfolio.operating import ways_of

_few = settings(derandomize=True, max_examples=40, deadline=None)
LEADS = "".join(
    f"battery B{n} agm, 100 Ah, internal 4 mohm\n"
    f"wire B{n}+ to A1 2 AWG red 3 ft, fuse 100 A at B{n}+\n"
    f"wire N1 to B{n}- 2 AWG black 3 ft\n"
    for n in range(1, 5)
)
TEXT = f"""\
rig "Bank" system 12 V, rules rv
busbar A1
busbar N1
panel P1 6 slots of 20 A
{LEADS}wire A1 to P1 6 AWG red 5 ft, fuse 60 A at A1
circuit P1.1 "Lamp" fuse 5 A
    wire   14 AWG red 3 ft
    return 14 AWG black 3 ft to N1
    load "Lamp" 6 W
"""
STUDY = understood("bank.rig", text=TEXT).study
WAYS = tuple(way for ways in ways_of(STUDY).of.values() for way in ways)


@_few
@given(st.data())
def test_a_bank_splits_alike_wherever_it_is_entered(data):
    splits, mesh = Splits(), WAYS[0].banked.mesh
    size = len(mesh.edges)
    values = data.draw(st.lists(st.floats(1e-4, 10.0), min_size=size, max_size=size))
    ohms = dict(zip(map(edge_name, mesh.edges), values, strict=True))
    opened = data.draw(st.sampled_from(["", *ohms]))
    closed = {name: ohm for name, ohm in ohms.items() if name != opened}
    inside = {one.about.name: data.draw(st.floats(1e-4, 0.1)) for one in mesh.batteries}
    assert {way.source.about.name for way in WAYS} == set(inside)
    for way in WAYS:
        stretch, posts = way.banked, (way.source.plus, way.source.minus)
        shared = splits.of(mesh, stretch.entry, closed, inside).between({stretch.exits: 1.0})
        own = Split(mesh, stretch.entry, closed, inside).between({stretch.exits: 1.0})
        assert shared.part == pytest.approx(own.part, abs=1e-9)
        assert shared.given == pytest.approx(own.given, abs=1e-9)
        assert shared.lost(stretch.exits, posts) == pytest.approx(own.lost(stretch.exits, posts))


def test_where_two_edges_are_open_a_battery_may_be_cut_off_from_the_others():
    mesh = WAYS[0].banked.mesh
    inside = dict.fromkeys([one.about.name for one in mesh.batteries], 0.004)
    cut = {"A1/B1+", "B1-/N1"}
    closed = {name: 0.01 for name in map(edge_name, mesh.edges) if name not in cut}
    own, other = (way for way in WAYS if way.source.about.name in ("B1", "B2"))
    splits = Splits()
    assert not splits.of(mesh, own.banked.entry, closed, inside).reaches("A1")
    assert splits.of(mesh, other.banked.entry, closed, inside).reaches("A1")
