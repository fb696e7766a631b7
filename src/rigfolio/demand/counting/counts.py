"""What loads put on every wire and device, counted source by source.

The tallies of single ways, the meshes with what is behind each of their exits, and what each source
gives in all. What is asked of them is in `rigfolio.demand.flows`.
"""

import math
from collections.abc import Hashable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from rigfolio.demand.counting.apart import OneAtATime
from rigfolio.demand.counting.bounds import SourceBounds, bounded_by, least_a
from rigfolio.demand.counting.openings import devices_left_open
from rigfolio.demand.counting.systems import Driven, Systems
from rigfolio.demand.counting.tally import Tally, count_load
from rigfolio.findings import Unknown
from rigfolio.model import Load, Rig
from rigfolio.network import Tree, Way
from rigfolio.operating import (
    Drawn,
    SizeOf,
    as_stated,
    copper_of,
    directions,
    homes_of,
    starters_of,
    user_of,
)
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.demand.counting.split import Fed, Settled
    from rigfolio.network import Exits, Stretch


class Counts:
    """All that runs from each source, as far as what each load draws is known.

    `own` is what each load draws with its own circuit on and nothing else, `expected` what it draws
    beside all that can be expected to run with it. `counted_from` is by load and edge the system
    from which the load is counted there, `instead` by load, source and edge what is on there while
    that load is, where others are heavier.
    """

    def __init__(
        self,
        study: Study,
        systems: Systems,
        drawn: tuple[Mapping[str, Drawn], Mapping[str, Drawn]],
        size_of: SizeOf = as_stated,
    ) -> None:
        self.size_of = size_of
        self.share = study.book.intermittent_share().value
        self.copper = copper_of(study)
        self.own = drawn[0]
        self.expected: dict[str, Drawn] = dict(drawn[1])
        homes = homes_of(study)
        self.homes = {load.about.name: (load, homes[load.about.name])
                      for load in study.rig.loads if load.about.name in homes}  # fmt: skip
        """Each load that a source serves, with the way that it runs by."""
        self.starters = starters_of(study)
        """What turns an engine over: of it nothing is counted."""
        self.limits_a = _limits_a(study.rig, systems.lone)
        """What each source adds at most [A].

        Without bound where that is not stated or not known, and where no other source helps.
        """
        self.unread = _unread(study.rig).difference(systems.lone)
        """The sources beside others of which nobody has read what they give."""
        self.tallies: dict[tuple[str, str], Tally] = {}
        """The worst of what runs through an edge, by source and edge."""
        self.carried: dict[tuple[str, str], float] = {}
        """What runs through an edge of a mesh, everything closed, by source and edge [A]."""
        self._is_directed = systems.are_several
        self.others: dict[tuple[str, str], list[Tally]] = {}
        self._bounds = SourceBounds(self.share)
        self._fed: dict[tuple[str, int, str], Fed] = {}
        self._settled: dict[Hashable, Settled | None] = {}
        self._sources: dict[str, list[str]] = {}
        self._whole: dict[str, dict[Exits | None, Tally]] = {}
        self._banked: dict[str, Fed] = {}
        self._left_open = devices_left_open(study.rig)
        self.system_of = systems.of
        self.counted_from: dict[tuple[str, str], int] = {}
        self.instead: dict[tuple[str, str, str], Tally] = {}
        self.on: list[tuple[Load, list[Tally]]] = []
        self.apart = OneAtATime(study.rig)

    def count(self, load: Load, way: Way, banks: Iterable[Tree]) -> None:
        """Count a load on every edge of a way; banks help a source that does not store.

        Of what turns an engine over only that it runs there is noted, and that nobody has read what
        it draws.
        """
        if load.about.name in self.starters:
            for tally in _on_way(self, load, way):
                tally.starts.add(user_of(load))
                if way.source.stores:
                    tally.miss(load)
            return
        bounded = bounded_by(way, load, () if way.source.stores else banks)
        bound_a = least_a(bounded)
        source = way.source.about.name
        # What runs a moment does not set the volts that the rest is judged at.
        on = [] if load.traits.is_moment else [_given_by(self, way)]
        on += _on_way(self, load, way)
        if way.source.limit_a is None and not way.source.stores:
            names = dict.fromkeys(name for one in way.every for name in one.single)
            on += [self._bounds.behind((source, name), bounded) for name in names]
        for stretch in _stretches(way):
            fed = self.fed(source, stretch)
            fed.bound_a = max(fed.bound_a, bound_a)
            fed.loads.append(load.about.name)
        if self.apart.parts(load):
            self.apart.waiting.append((load, on))
            return
        count_on(self, load, on)

    def parts(self, way: Way) -> Mapping[str, float]:
        """What each battery beside the source of a way gives of its current by the rules [-].

        Empty where the source is alone, and where a resistance is not known.
        """
        banked = way.banked
        if banked is None:
            return {}
        return self.fed(way.source.about.name, banked).parts(banked.exits)

    def part(self, way: Way) -> float:
        """What the source of a way gives of its current: less than all beside batteries [-]."""
        banked = way.banked
        if banked is None:
            return 1.0
        return self.fed(way.source.about.name, banked).part(banked.exits)

    def is_shared(self, source: str, edge: str) -> bool:
        """Whether batteries side by side share what runs through an edge, a source among them."""
        fed = self._banked.get(source)
        return fed is not None and edge in fed.mesh.names and (source, edge) in self.tallies

    def fill(self) -> None:
        """Count anew what all loads draw."""
        for _, on in self.on:
            for tally in on:
                tally.clear()
        for load, on in self.on:
            expected_a = self.expected[load.about.name].known_a
            comes_and_goes = load.traits.at_times
            for tally in on:
                tally.count(expected_a, comes_and_goes=comes_and_goes)
        self._settled.clear()
        for fed in self._fed.values():
            fed.forget()

    def given_a(self, source: str) -> float:
        """What a source gives to what can be expected of its loads, within its limit [A].

        What runs a moment is left aside.
        """
        return min(_all_given(self, source).expected_a(self.share), self.limits_a[source])

    def connected_a(self, source: str) -> float:
        """What a source gives with all on at once, whatever its limit, but for a moment's [A]."""
        return _all_given(self, source).connected_a

    def asked_a(self, source: str) -> float:
        """What can be expected of a source at one time, whatever it gives; no moment's load [A]."""
        return _all_given(self, source).expected_a(self.share)

    @property
    def is_meshed(self) -> bool:
        """Whether current splits anywhere on the way of a load or a charger."""
        return bool(self._fed)

    def fed(self, source: str, stretch: "Stretch") -> "Fed":
        """A mesh as a source feeds it, with all loads behind it."""
        key = (source, stretch.mesh.number, stretch.entry)
        if key not in self._fed:
            self._fed[key] = self.unloaded(stretch)
            if stretch.mesh.batteries:
                self._banked[source] = self._fed[key]
        return self._fed[key]

    def unloaded(self, stretch: "Stretch") -> "Fed":
        """A mesh that is fed, with no load behind it yet; also one of another net."""
        from rigfolio.demand.counting.split import Fed

        return Fed(stretch, self.copper, self.share, self.size_of, self._left_open, self._settled)

    def spread(self) -> None:
        """Count what meshes carry on their edges, once all loads behind them are counted."""
        for (source, _, _), fed in self._fed.items():
            self._spread(source, fed)

    def _spread(self, source: str, fed: "Fed") -> None:
        """Count what a mesh carries on its edges, each as it splits."""
        found: dict[str, list[Tally]] = {}
        for name, tally in fed.tallies():
            found.setdefault(name, []).append(tally)
        for name, tallies in found.items():
            key = (source, name)
            self._bounds.in_mesh(key, fed.bound_a)
            tallies.sort(key=lambda tally: -tally.demand_a(self.share))
            if key not in self.tallies:
                self.tallies[key], self.others[key] = tallies[0], tallies[1:]
                self._sources.setdefault(name, []).append(source)
                continue
            # By another way through a selector or a combiner the source feeds it for more loads.
            for tally in (self.tallies[key], *self.others.get(key, ())):
                tally.join(tallies[0])
        settled = fed.settled()
        for name, current_a in settled.current_a.items() if settled is not None else ():
            key = (source, name)
            self.carried[key] = self.carried.get(key, 0.0) + current_a

    def driven(self, edge: str) -> Iterator[Driven]:
        """What each source puts on an edge, by direction and by what is open, within its limit."""
        for source in self.sources(edge):
            fuses_a, unread = self._bounds.most_a((source, edge)), source in self.unread
            for tally in self.held(source, edge):
                bound_a = min(self.limits_a[source] * tally.part, fuses_a)
                yield Driven(source, tally, 0.0 if unread else bound_a, unread)

    def held(self, source: str, edge: str) -> Iterable[Tally]:
        """What may run through an edge from a source, by direction and by what is open."""
        key = (source, edge)
        return (self.tallies[key], *self.others.get(key, ()))

    def sources(self, edge: str) -> Iterable[str]:
        """The sources that put anything on an edge."""
        return self._sources.get(edge, ())


def count_on(counts: Counts, load: Load, on: list[Tally]) -> None:
    """Count a load wherever it is counted."""
    own, expected = counts.own[load.about.name], counts.expected[load.about.name]
    count_load(on, load, own, expected)
    counts.on.append((load, on))


def _given_by(counts: Counts, way: Way) -> Tally:
    """Where it is counted what the source of a way gives by its exits to a bank, or alone."""
    exits = way.banked.exits if way.banked is not None else None
    return counts._whole.setdefault(way.source.about.name, {}).setdefault(exits, Tally())


def _all_given(counts: Counts, source: str) -> Tally:
    """All that a source gives, of a bank its own part."""
    found = counts._whole.get(source, {})
    if list(found) == [None]:
        return found[None]
    whole = Tally()
    for exits, tally in found.items():
        whole.add_part(tally, 1.0 if exits is None else counts._banked[source].part(exits))
    return whole


def counted_a(counts: Counts, load: Load) -> float:
    """What is counted of a load [A]; nothing of what turns an engine over."""
    name = load.about.name
    return 0.0 if name in counts.starters else counts.expected[name].known_a


def _on_way(counts: Counts, load: Load, way: Way) -> list[Tally]:
    """Where it is counted what runs through the edges of a way and behind its meshes."""
    source, on = way.source.about.name, []
    senses: dict[str, float] = {}
    for one in way.every if counts._is_directed else ():
        senses = directions(load.plus, load.minus, one) | senses
    for name in dict.fromkeys(name for one in way.every for name in one.single):
        key = (source, name)
        if key not in counts.tallies:
            counts.tallies[key] = Tally(sense=senses.get(name, 0.0))
            counts._sources.setdefault(name, []).append(source)
        # A switch lets it run from one system or from another: on what they share it counts once.
        number = counts.system_of[source]
        if counts.counted_from.setdefault((load.about.name, name), number) == number:
            on.append(counts.tallies[key])
        else:
            counts.tallies[key].know(load)
    for stretch in _stretches(way):
        on.append(counts.fed(source, stretch).behind.setdefault(stretch.exits, Tally()))
    return on


def _stretches(way: Way) -> "Iterable[Stretch]":
    """The meshes that a load lies behind, by whichever of its ways it runs, each once."""
    found = {(one.mesh.number, one.entry, one.exits): one
             for each in way.every for one in each.stretches}  # fmt: skip
    return found.values()


def _unread(rig: Rig) -> frozenset[str]:
    found = (one for one in rig.sources if isinstance(one.limit_a, Unknown) and not one.stores)
    return frozenset(one.about.name for one in found)


def _limits_a(rig: Rig, lone: Iterable[str]) -> dict[str, float]:
    found: dict[str, float] = {}
    for source in rig.sources:
        name, limit_a = source.about.name, source.limit_a
        found[name] = limit_a if isinstance(limit_a, float) else math.inf
    for name in lone:
        # Nothing else gives what it does not: what its loads ask for is judged in full.
        found[name] = math.inf
    return found
