"""Finding a part of a rig by name gives what a search from the front would, in any rig."""

import copy
import pickle

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import RIGS
from helpers.studies import studied
from rigfolio.model.graph import Index
from rigfolio.record import fields_of, replace

NAMES = ["A1", "B1", "P1.3", "W2", ""]
OWN = {"conductors": "name", "circuits": "place"}
KINDS = Index.__match_args__


def name_of(kind, part):
    return getattr(part, OWN[kind]) if kind in OWN else part.about.name


def renamed(kind, part, name):
    if kind in OWN:
        return replace(part, **{OWN[kind]: name})
    return replace(part, about=replace(part.about, name=name))


@st.composite
def rigs(draw):
    """An example with some of its parts in any order, several of them under one name."""
    rig = draw(st.sampled_from(RIGS).map(lambda file: studied(file).rig))
    changed = {}
    for kind in KINDS:
        parts = draw(st.lists(st.sampled_from(getattr(rig, kind)), max_size=6))
        changed[kind] = tuple(renamed(kind, part, draw(st.sampled_from(NAMES))) for part in parts)
    return replace(rig, **changed)


def scanned(rig, kind, name):
    return next((part for part in getattr(rig, kind) if name_of(kind, part) == name), None)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(rigs())
def test_by_name_is_as_a_search_from_the_front(rig):
    for kind in KINDS:
        held = getattr(rig.by_name, kind)
        assert set(held) == {name_of(kind, part) for part in getattr(rig, kind)}
        for name in NAMES:
            assert held.get(name) is scanned(rig, kind, name)


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_part_of_an_example_is_found(file):
    rig = studied(file).rig
    assert rig.conductors
    assert rig.sources
    for kind in KINDS:
        for part in getattr(rig, kind):
            name = name_of(kind, part)
            assert getattr(rig.by_name, kind)[name] is scanned(rig, kind, name)
    assert all(rig.conductor(wire.name) is wire for wire in rig.conductors)
    names = {name for circuit in rig.circuits for name in circuit.loads}
    assert names
    assert names <= set(rig.by_name.loads)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(rigs())
def test_the_circuits_that_begin_with_a_device_are_those_of_a_search(rig):
    names = {circuit.device for circuit in rig.circuits} - {""}
    assert set(rig.begun) == names
    for name in names:
        assert rig.begun[name] == tuple(one for one in rig.circuits if one.device == name)


def test_what_is_not_there_is_no_part():
    rig = studied(RIGS[0]).rig
    for kind in KINDS:
        assert getattr(rig.by_name, kind).get("nobody") is None
        with pytest.raises(KeyError, match="nobody"):
            getattr(rig.by_name, kind)["nobody"]
    with pytest.raises(KeyError, match="nobody"):
        rig.conductor("nobody")


def test_what_was_found_is_no_part_of_the_value():
    fresh = replace(studied(RIGS[0]).rig)
    asked = replace(studied(RIGS[0]).rig)
    assert asked.by_name is asked.by_name
    assert asked == fresh
    assert repr(asked) == repr(fresh)
    assert pickle.dumps(asked) == pickle.dumps(fresh)
    assert len(fields_of(asked)) == len(fields_of(fresh))


def test_a_changed_rig_finds_its_own_parts():
    rig = studied(RIGS[0]).rig
    assert rig.by_name.devices
    for other in (replace(rig, devices=()), copy.copy(rig), pickle.loads(pickle.dumps(rig))):
        assert other.by_name is not rig.by_name
        assert set(other.by_name.devices) == {one.about.name for one in other.devices}
