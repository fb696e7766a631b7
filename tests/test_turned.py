"""Every answer on a switch of several ways is that of plain switches, setting by setting."""

from functools import cache

import pytest

from helpers.studies import study_from
from helpers.turned_rigs import drawn_text, stands_of, with_plain_switches
from rigfolio.demand import drops_of, flows_of
from rigfolio.isolation.energised import CLOSED, Open, source_reach
from rigfolio.isolation.plans.orders import carried_out, isolate
from rigfolio.isolation.set_to import turned
from rigfolio.network import changeovers, edge_name, stands_for
from rigfolio.operating import operating
from rigfolio.operating.resting import worked
from rigfolio.protection import reach_of
from rigfolio.shorts import faults_of
from rigfolio.study import Study

SEEDS = range(30)


@cache
def rigs(seed):
    """A rig of that seed, and what it is in each setting."""
    study = study_from(drawn_text(seed))
    each = [(stand, Study(with_plain_switches(study.rig, stand), study.book.name))
            for stand in stands_of(study.rig)]  # fmt: skip
    return study, each


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_live_in_a_position_is_live_with_its_way_as_a_closed_switch(seed):
    study, each = rigs(seed)
    for stand, plain in each:
        state = turned(study.rig, CLOSED, stand)
        assert source_reach(study).alive(state) == source_reach(plain).alive(), stand


@pytest.mark.parametrize("seed", SEEDS)
def test_what_may_be_live_is_so_in_some_position(seed):
    study, each = rigs(seed)
    found = {}
    for _, plain in each:
        for end, by in source_reach(plain).alive().items():
            found.setdefault(end, set()).update(by)
    assert {end: set(by) for end, by in source_reach(study).alive().items()} == found


@pytest.mark.parametrize("seed", SEEDS)
def test_never_are_two_ways_of_one_switch_made(seed):
    study, _ = rigs(seed)
    loads = [one.about.name for one in study.rig.loads]
    sources = [one.about.name for one in study.rig.sources]
    for on in ([], *([name] for name in loads), loads):
        opened = worked(study, CLOSED, on, sources)
        for own in changeovers(study.rig).values():
            assert sum(edge_name(one) not in opened.edges for one in own) <= 1


@pytest.mark.parametrize("seed", SEEDS)
def test_a_load_alone_has_the_volts_that_it_has_behind_a_plain_switch(seed):
    study, each = rigs(seed)
    for load in study.rig.loads:
        name = load.about.name
        for stand, plain in each:
            if any(one <= stand for one in stands_for(study.rig, load)):
                own = operating(study, loads={name}, opened=turned(study.rig, CLOSED, stand))
                other = operating(plain, loads={name})
                assert own.across_v(load) == pytest.approx(other.across_v(load), rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_wire_carries_the_most_of_all_positions(seed):
    study, each = rigs(seed)
    for wire in study.rig.conductors:
        own = flows_of(study).demand(wire.name)
        every = [flows_of(plain).demand(wire.name) for _, plain in each]
        for what in ("current_a", "steady_a", "connected_a"):
            most = max(getattr(one, what) for one in every)
            assert getattr(own, what) == pytest.approx(most, rel=5e-3), (wire.name, what)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_load_loses_no_less_than_in_any_position(seed):
    study, each = rigs(seed)
    for load in study.rig.loads:
        own = drops_of(study).of(load)
        every = [drops_of(plain).of(load) for _, plain in each]
        most = max(one.volts for one in every if one is not None)
        assert own is not None
        assert most * (1 - 5e-3) <= own.volts <= most * 1.02, load.about.name


@pytest.mark.parametrize("seed", SEEDS)
def test_as_much_may_flow_into_a_wire_as_in_the_worst_position(seed):
    study, each = rigs(seed)
    for wire in study.rig.conductors:
        own = [one.current_a for one in reach_of(study).inflows(wire)]
        every = [[one.current_a for one in reach_of(plain).inflows(wire)] for _, plain in each]
        assert own == [max(one) for one in zip(*every, strict=True)], wire.name


@pytest.mark.parametrize("seed", SEEDS)
def test_a_short_drives_the_most_and_the_least_of_all_positions(seed):
    study, each = rigs(seed)
    for load in study.rig.loads:
        own = faults_of(study).at(load.plus)
        every = [faults_of(plain).at(load.plus) for _, plain in each]
        known = [one for one in every if one is not None]
        cold = [one.coldest.current_a for one in known]
        hot = [one.hottest.current_a for one in known]
        assert own.coldest.current_a == pytest.approx(max(cold))
        assert own.hottest.current_a == pytest.approx(min(hot))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_makes_dead_whatever_position_a_switch_is_turned_to(seed):
    study, each = rigs(seed)
    for load in study.rig.loads:
        opened = carried_out(study, isolate(study, load.plus))
        for stand, plain in each:
            names = {edge_name(one) for one in plain.rig.devices}
            off = {one.about.name for one in study.rig.devices if edge_name(one) in opened.edges}
            ways = {f"{name}-{at}" for name, at in stand if name in off}
            state = Open(frozenset((opened.edges | ways) & names), opened.sources)
            assert load.plus not in source_reach(plain).alive(state), (load.about.name, stand)
