"""Switches that make one of several ways: what is joined, which loads are on at one time."""

import pytest

from helpers.studies import study_from
from helpers.turned_rigs import (
    HEAD,
    JACK,
    LIGHTS,
    PAIR,
    PUMP,
    TWO_BANKS,
    drawn_text,
    stands_of,
    with_plain_switches,
)
from rigfolio.model import Rig
from rigfolio.network import (
    changeovers,
    edge_name,
    ends,
    heaviest,
    in_turn,
    net_of,
    path,
    stand_for,
    stands_for,
    turns_in,
)

SEEDS = range(40)
SET = {"a": 3, "b": 4, "c": 2, "rest": "rests off, "}


def rig_of(text: str) -> Rig:
    return study_from(text).rig


def terminals(rig: Rig) -> list[str]:
    return sorted({end for one in (*rig.conductors, *rig.devices) for end in ends(one)})


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_joined_is_joined_in_some_setting(seed):
    """A walk reaches what plain walks reach, each with every switch in one position."""
    rig = rig_of(drawn_text(seed))
    nets = [net_of(with_plain_switches(rig, stand)) for stand in stands_of(rig)]
    for start in terminals(rig):
        plain = {end for net in nets for end in net.walk([start])}
        assert net_of(rig).walk([start]).keys() == plain, start


@pytest.mark.parametrize("seed", SEEDS)
def test_no_way_leads_over_two_positions_of_one_switch(seed):
    rig = rig_of(drawn_text(seed))
    for start in terminals(rig):
        back = net_of(rig).walk([start])
        for end in back:
            made = [(e.about.name, e.position) for e in path(back, end)
                    if edge_name(e) and getattr(e, "position", "")]  # fmt: skip
            assert len({name for name, _ in made}) == len(set(made)), (start, end)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_load_is_fed_as_its_positions_say(seed):
    """In the settings that hold one of them, and in no other."""
    rig = rig_of(drawn_text(seed))
    for stand in stands_of(rig):
        net = net_of(with_plain_switches(rig, stand))
        plus = net.walk([one.plus for one in rig.sources])
        minus = net.walk([one.minus for one in rig.sources])
        for load in rig.loads:
            is_fed = load.plus in plus and load.minus in minus
            assert is_fed == any(one <= stand for one in stands_for(rig, load)), load.about.name


@pytest.mark.parametrize("seed", SEEDS)
def test_each_setting_in_turn_makes_one_way_and_every_way_has_its_turn(seed):
    rig = rig_of(drawn_text(seed))
    made = set()
    for opened in in_turn(rig):
        for own in changeovers(rig).values():
            closed = [edge_name(one) for one in own if edge_name(one) not in opened]
            assert len(closed) == 1
            made |= set(closed)
    assert made == {edge_name(one) for own in changeovers(rig).values() for one in own}


@pytest.mark.parametrize("seed", SEEDS)
def test_the_heaviest_are_the_heaviest_of_all_settings(seed):
    rig = rig_of(drawn_text(seed))
    weight = {load.about.name: float(number + 1) for number, load in enumerate(rig.loads)}
    found = heaviest(rig, weight, weight.__getitem__)
    most = max(
        sum(weight[one.about.name] for one in rig.loads
            if any(each <= stand for each in stands_for(rig, one)))
        for stand in stands_of(rig)
    )  # fmt: skip
    assert sum(weight[name] for name in found) == most
    stand = stand_for(rig, found)
    names = {one.about.name: one for one in rig.loads}
    assert all(any(each <= stand for each in stands_for(rig, names[name])) for name in found)


def test_what_hangs_on_two_positions_is_on_in_turns():
    rig = rig_of(HEAD + LIGHTS.format(n=1, **SET))
    names = [one.about.label for one in rig.loads]
    assert names == ["Anchor 1", "Steaming 1", "Masthead 1"]
    held = [one.about.name for one in rig.loads]
    assert turns_in(rig, held) == ((held[0],), (held[1], held[2]))


@pytest.mark.parametrize(
    ("part", "stands"),
    [
        (PUMP, [{"SP1": "1"}, {"SP1": "2"}]),
        (PAIR, [{"SA1": "1", "SB1": "1"}, {"SA1": "2", "SB1": "2"}]),
        (TWO_BANKS, [{"SS1": "1"}, {"SS1": "2"}]),
    ],
)
def test_one_load_may_be_fed_in_several_positions(part, stands):
    rig = rig_of(HEAD + part.format(n=1, **SET))
    assert [dict(one) for one in stands_for(rig, rig.loads[0])] == stands


def test_coils_of_up_and_down_exclude_each_other():
    rig = rig_of(HEAD + JACK.format(n=1, **SET))
    up, down = (one.about.name for one in rig.loads)
    assert heaviest(rig, (up, down), {up: 1.0, down: 2.0}.__getitem__) == {down}
