"""Switches that make one of several ways at a time: where each has to stand for what to be fed.

How such a switch stands is a pair of its name and its position, `("SW3", "1")`; how several stand
a set of pairs, in which those that do not matter are left out.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from itertools import product

from rigfolio.model import Device, Load, Rig
from rigfolio.network.coils import contacts_of
from rigfolio.network.graph import Edge, Net, edge_name, is_way, net_among, net_of
from rigfolio.network.rooms import Rooms
from rigfolio.record import once

Stand = frozenset[tuple[str, str]]
_NONE: Stand = frozenset()
_MOST_WAYS = 64
"""How many choices are followed at one time; no panel has as many switches in one line."""
_MOST_SOURCES = 6
"""Of how many switches between sources all combinations are worked out; of more each position."""
_MOST_AT_ONCE = 8
"""Of how many switches that hang together every combination is tried: of more the heavier first."""


@once
def changeovers(rig: Rig) -> Mapping[str, tuple[Device, ...]]:
    """The ways of each such switch in the order of their positions, by its name."""
    return {name: tuple(ways) for name, ways in rig.poles.items() if ways[0].position}


def resting_position(ways: Iterable[Device]) -> str:
    """The position of a switch that it rests in; empty where that is none, or not said."""
    return next((one.position for one in ways if one.rests == "closed"), "")


@once
def usual_stand(rig: Rig) -> Stand:
    """How each stands while nobody says and nothing asks for it: as it rests, else off.

    One that cannot be turned off stands in its first position, and so does one that feeds a panel.
    """
    ways = changeovers(rig)
    found = dict[str, str]()
    for name, own in ways.items():
        rests = resting_position(own)
        if rests or _is_never_off(rig, own):
            found[name] = rests or own[0].position
    return frozenset(found.items())


def _is_never_off(rig: Rig, own: tuple[Device, ...]) -> bool:
    if not own[0].turns_off:
        return True
    fed = net_of(rig).without([one.plus for one in rig.sources], own)
    return any(panel.bus not in fed for panel in rig.panels)


def not_made(rig: Rig, stand: Stand, names: Collection[str] | None = None) -> frozenset[str]:
    """The ways that are open as some switches stand, as edges; of all others all, or of `names`."""
    return frozenset(
        edge_name(one)
        for name, own in changeovers(rig).items() if names is None or name in names
        for one in own if (name, one.position) not in stand
    )  # fmt: skip


def stand_in(rig: Rig, opened: Collection[str]) -> Stand:
    """How each stands where some edges are open, of all the ways that are not."""
    return frozenset(
        (name, one.position)
        for name, own in changeovers(rig).items()
        for one in own if edge_name(one) not in opened
    )  # fmt: skip


class _Doors:
    """The switches between rooms, and how those of several ways stand to pass each."""

    def __init__(self, rig: Rig, by_coil: Mapping[str, tuple[Stand, ...]]) -> None:
        self.by_coil = by_coil
        self.rooms = Rooms(net_of(rig), lambda edge: is_way(edge) or edge_name(edge) in by_coil)

    def stands(self, start: str, goals: Iterable[str]) -> tuple[Stand, ...]:
        """How switches may stand for a place to be joined to any of some goals, the fewest each."""
        ends = {self.rooms.of(goal) for goal in goals}
        if self.rooms.of(start) in ends:
            return (_NONE,)
        found: list[Stand] = []
        layer = [(self.rooms.of(start), _NONE)]
        seen = set(layer)
        while layer:
            further: dict[tuple[int, Stand], None] = {}
            for there, more in (one for each in layer for one in self._steps(*each)):
                if (there, more) in seen or any(one <= more for one in found):
                    continue
                if there in ends:
                    found.append(more)
                else:
                    further[there, more] = None
            layer = list(further)[:_MOST_WAYS]
            seen.update(layer)
        return tuple(found)

    def _steps(self, room: int, stand: Stand) -> Iterator[tuple[int, Stand]]:
        """The rooms next to one. Whoever has come by a way of a switch leaves by no other of it."""
        for way, there in self.rooms.doors(room):
            for asked in self._asked(way) if there != room else ():
                if _is_one(stand | asked):
                    yield there, stand | asked

    def _asked(self, way: Device) -> tuple[Stand, ...]:
        if way.position:
            return (frozenset({(way.about.name, way.position)}),)
        return self.by_coil[edge_name(way)]


@once
def _fed(rig: Rig) -> Mapping[str, tuple[Stand, ...]]:
    """For each load how switches may stand for it to be fed, by its name.

    What is behind the contact of a relay is fed as its coil is, whose own way may lead by contacts.
    """
    contacts, by_coil = contacts_of(rig), dict[str, tuple[Stand, ...]]()
    found = _fed_by(rig, by_coil)
    for _ in contacts:
        coils = ((edge, found[coil.about.name]) for edge, (_, coil) in contacts.items())
        held = {edge: stands for edge, stands in coils if stands and _NONE not in stands}
        if held == by_coil:
            break
        by_coil, found = held, _fed_by(rig, held)
    return found


def _fed_by(rig: Rig, by_coil: Mapping[str, tuple[Stand, ...]]) -> Mapping[str, tuple[Stand, ...]]:
    doors = _Doors(rig, by_coil)
    posts = [one for one in rig.sources if not one.traits.by_light]
    plus, minus = [one.plus for one in posts], [one.minus for one in posts]
    found = {}
    for load in rig.loads:
        back = doors.stands(load.minus, minus) or (_NONE,)
        both = (one | two for one, two in product(doors.stands(load.plus, plus), back))
        found[load.about.name] = tuple(dict.fromkeys(filter(_is_one, both)))
    return found


def _is_one(stand: Stand) -> bool:
    """Whether no switch stands in two positions."""
    return len({name for name, _ in stand}) == len(stand)


def stands_for(rig: Rig, load: Load) -> tuple[Stand, ...]:
    """How switches may stand for a load to be fed, the fewest of them each; none where it never is.

    One choice without a switch where none has a part in it.
    """
    if not changeovers(rig):
        return (_NONE,)
    return _fed(rig).get(load.about.name, (_NONE,))


def parted(rig: Rig, loads: Iterable[str]) -> Mapping[str, tuple[Stand, ...]]:
    """Those of some loads, by name, that are not fed however switches stand, each with its choices.

    None is among them that no switch parts, nor what is never fed.
    """
    if not changeovers(rig):
        return {}
    fed = _fed(rig)
    held = ((name, fed.get(name, ())) for name in loads)
    return {name: stands for name, stands in held if stands and _NONE not in stands}


def _fed_at(held: Mapping[str, tuple[Stand, ...]], stand: Stand) -> list[str]:
    """Those of some loads with their choices that are fed as switches stand, in their order."""
    return [name for name, stands in held.items() if any(one <= stand for one in stands)]


def stand_for(rig: Rig, on: Collection[str], held: Stand = _NONE) -> Stand:
    """How switches stand with some loads on, by name, each fed that can be beside those before it.

    What is `held` stands so. Those that no load asks for stand as they usually do.
    """
    found = held
    for load in rig.loads if changeovers(rig) else ():
        if load.about.name in on:
            choices = [found | one for one in stands_for(rig, load)]
            found = next(filter(_is_one, choices), found)
    names = {name for name, _ in found}
    return found | {one for one in usual_stand(rig) if one[0] not in names}


def stand_asked(rig: Rig, on: Collection[str]) -> Stand:
    """The same of those switches alone that some of the loads ask for."""
    if not changeovers(rig):
        return _NONE
    loads = (one for one in rig.loads if one.about.name in on)
    asked = {name for load in loads for one in stands_for(rig, load) for name, _ in one}
    return frozenset(one for one in stand_for(rig, on) if one[0] in asked) if asked else _NONE


def is_made(rig: Rig, way: Iterable[Edge], on: Collection[str]) -> bool:
    """Whether no switch on a way stands in another position with some loads on, by name."""
    ways = [one for one in way if is_way(one)]
    stand = stand_for(rig, on) if ways else _NONE
    return all((one.about.name, one.position) in stand for one in ways)


def heaviest(rig: Rig, loads: Iterable[str], weight: Callable[[str], float]) -> frozenset[str]:
    """Those of some loads, by name, that can be on at one time and weigh most together.

    Loads that no switch parts are always among them.
    """
    every = frozenset(loads)
    held = parted(rig, (one.about.name for one in rig.loads if one.about.name in every))
    left = every.difference(held)
    for group in _groups(held):
        left |= {*_fed_at(group, _best(group, weight))}
    return left


def together(rig: Rig, loads: Iterable[str], held: Stand = _NONE) -> tuple[str, ...]:
    """Those of some loads, by name, that can be on at one time, each beside those before it.

    What is `held` stands so. What no switch parts is among them.
    """
    every = tuple(dict.fromkeys(loads))
    waiting = parted(rig, every)
    stand = frozenset(one for one in held if one[0] in changeovers(rig))
    for stands in waiting.values():
        stand = next(filter(_is_one, (stand | one for one in stands)), stand)
    fed = _fed_at(waiting, stand)
    return tuple(name for name in every if name not in waiting or name in fed)


def turns_in(rig: Rig, loads: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Some loads by name in turns, each of those that can be on at one time; each load in one.

    What no switch parts is in all of them.
    """
    every = tuple(dict.fromkeys(loads))
    waiting = [*parted(rig, every)]
    always = [name for name in every if name not in waiting]
    turns: list[tuple[str, ...]] = []
    while waiting:
        fed = together(rig, waiting)
        turns.append(tuple(name for name in every if name in always or name in fed))
        waiting = [name for name in waiting if name not in fed]
    return tuple(turns) or ((every,) if every else ())


def _groups(held: Mapping[str, tuple[Stand, ...]]) -> list[dict[str, tuple[Stand, ...]]]:
    """Loads that have a switch in common, or hang together by others."""
    found: list[tuple[set[str], dict[str, tuple[Stand, ...]]]] = []
    for load, stands in held.items():
        names, group = {name for one in stands for name, _ in one}, {load: stands}
        for other in [one for one in found if one[0] & names]:
            found.remove(other)
            names, group = names | other[0], other[1] | group
        found.append((names, group))
    return [group for _, group in found]


def _best(group: Mapping[str, tuple[Stand, ...]], weight: Callable[[str], float]) -> Stand:
    """How the switches of some loads stand while those that are fed weigh most together."""
    places: dict[str, dict[str, None]] = {}
    for stand in (one for stands in group.values() for one in stands):
        for name, position in sorted(stand):
            places.setdefault(name, {})[position] = None
    if len(places) > _MOST_AT_ONCE:
        found = _NONE
        for name in sorted(group, key=weight, reverse=True):
            found = next(filter(_is_one, (found | one for one in group[name])), found)
        return found
    choices = [frozenset(zip(places, chosen, strict=True)) for chosen in product(*places.values())]
    return max(choices, key=lambda stand: sum(map(weight, _fed_at(group, stand))))


@once
def in_turn(rig: Rig) -> tuple[frozenset[str], ...]:
    """Ways that are open, as edges, in a few settings of all these switches, one for each setting.

    Every load is fed in some of them by each of its ways, and every switch stands in each of its
    positions. Of those by which sources are parted from each other all combinations are among them.
    One setting without anything open where there is no such switch.
    """
    ways = changeovers(rig)
    wanted = [one for stands in _fed(rig).values() for one in stands] if ways else []
    wanted += [frozenset({(name, one.position)}) for name, own in ways.items() for one in own]
    parting = _parting_sources(rig)[:_MOST_SOURCES]
    pairs = [[(name, one.position) for one in ways[name]] for name in parting]
    wanted += [frozenset(chosen) for chosen in product(*pairs)]
    packed: list[Stand] = []
    for stand in sorted(dict.fromkeys(wanted), key=len, reverse=True):
        at = next((at for at, one in enumerate(packed) if _is_one(one | stand)), None)
        if at is None:
            packed.append(stand)
        else:
            packed[at] |= stand
    first = {name: own[0].position for name, own in ways.items()}
    whole = [frozenset((first | dict(stand)).items()) for stand in packed or [_NONE]]
    return tuple(dict.fromkeys(not_made(rig, stand) for stand in whole))


@once
def nets_in_turn(rig: Rig) -> tuple[Net, ...]:
    """The net of a rig in each of those settings, without what is open in it."""
    every: tuple[Edge, ...] = (*rig.conductors, *rig.devices)
    return tuple(
        net_among(edge for edge in every if edge_name(edge) not in opened)
        for opened in in_turn(rig)
    )


def _parting_sources(rig: Rig) -> list[str]:
    """The switches that have sources at several of their ends, by name."""
    net, found = net_of(rig), []
    posts = {end for one in rig.sources for end in (one.plus, one.minus)}
    for name, own in changeovers(rig).items():
        fed = [_reached(net, own, end, posts) for end in (own[0].load, *(d.line for d in own))]
        if len({one for one in fed if one}) > 1:
            found.append(name)
    return found


def _reached(net: Net, own: tuple[Device, ...], end: str, posts: Collection[str]) -> frozenset[str]:
    """Those of some posts that an end of a switch is joined to without it."""
    found = net.without([end], own)
    return frozenset(post for post in posts if post in found)
