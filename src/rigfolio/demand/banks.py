"""Banks: what each of batteries side by side gives, and what a day takes of them and gives."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from rigfolio.books import returned_share
from rigfolio.demand.charge_times import Charging, charging
from rigfolio.demand.day_use import DayUse
from rigfolio.demand.energy import DAY_S, Autonomy, autonomy
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load, Source
from rigfolio.network import Way, parallel_banks
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class SharedBank:
    """Batteries side by side, and the part of each of what their heaviest load draws [-].

    `parts` is empty where a resistance on the way is not known. They are taken to be all in.
    """

    batteries: tuple[Source, ...]
    load: Load
    parts: Mapping[str, float]


@once
def shared_banks(study: Study) -> tuple[SharedBank, ...]:
    """All banks of batteries side by side that serve a load."""
    return tuple(_found(study))


@once
def bank_leads(study: Study) -> tuple[tuple[Conductor, ...], ...]:
    """The wires that batteries side by side share by, those of one side of one bank together."""
    ways = (way for ways in flows_of(study).ways.values() for way in ways)
    meshes = {way.banked.mesh.names: way.banked.mesh for way in ways if way.banked is not None}
    sides: dict[tuple[frozenset[str], str], list[Conductor]] = {}
    for names, mesh in meshes.items():
        for edge in mesh.edges:
            if isinstance(edge, Conductor):
                sides.setdefault((names, study.polarity(edge)), []).append(edge)
    return tuple(map(tuple, sides.values()))


def _found(study: Study) -> Iterator[SharedBank]:
    flows, seen = flows_of(study), set[str]()
    for bank in parallel_banks(study.rig, study.net).values():
        first = bank[0].about.name
        if first in seen:
            continue
        seen.add(first)
        served = [pair for load in study.rig.loads for pair in _ways(study, load, bank)]
        if not served:
            continue
        load, way = max(served, key=lambda pair: (_drawn_a(pair[0], bank), pair[0].about.name))
        yield SharedBank(bank, load, flows.counts.parts(way))


def _ways(study: Study, load: Load, bank: tuple[Source, ...]) -> Iterator[tuple[Load, Way]]:
    """The way from the first battery of a bank to a load, where all of them serve it."""
    for way in flows_of(study).ways.get(load.about.name, ()):
        if way.banked is not None and way.source.about.name == bank[0].about.name:
            yield load, way


def _drawn_a(load: Load, bank: tuple[Source, ...]) -> float:
    drawn = load.current_a(bank[0].voltage_v)
    return 0.0 if isinstance(drawn, Unknown) else drawn


@record
class Shared:
    """What a source by light gives on a usual day [C], of which other banks have a share, too."""

    by: str
    charge_c: float
    banks: tuple[str, ...]


@record
class Balance:
    """What is used of banks in a day, and what comes into them on a usual one.

    `given` is what each source by light gives to these alone [C], `kept_c` what is left of it in
    the banks, `left_c` that less what is used. `lasts_s` is how long what is to be used of them,
    `usable_c`, bears what is short [s], None where that is not known. What is `shared` with other
    banks is not counted, for it comes in once and nobody says where; `at_times` charge, too, for
    nobody says how long.
    """

    banks: tuple[str, ...]
    use: DayUse
    given: tuple[tuple[str, float], ...]
    kept_c: float
    usable_c: float | None
    at_times: tuple[str, ...]
    shared: tuple[Shared, ...]

    @property
    def left_c(self) -> float:
        """What a day leaves over; below nought where it is short of it [C]."""
        return self.kept_c - self.use.known_c

    @property
    def lasts_s(self) -> float | None:
        """How long the banks bear what is short; None where nothing is, or nobody can tell [s]."""
        if self.usable_c is None or self.left_c >= 0.0:
            return None
        return self.usable_c / -self.left_c * DAY_S


def balances(study: Study) -> tuple[Balance, ...]:
    """The balance of a day of all banks that something charges, in the state that uses most.

    What a source gives comes in once: it counts for banks that it charges in some state without
    any other, and for none of those that it charges one or the other of.
    """
    most, resting = (_most_used(study, charged=each) for each in (True, False))
    every = charging(study)
    into = {banks: _given(every, banks) for banks in most}
    made: dict[tuple[str, ...], Balance] = {}
    for banks, one in most.items():
        # Where nothing comes in every day, nothing holds a combiner in: each bank is by itself.
        apart = [each for each in resting.values() if set(each.banks) <= set(banks)]
        near = [each for each in every if set(each.banks) & set(banks)]
        for part in (one,) if into[banks] else apart:
            for found in _balance(study, part, near, into):
                made.setdefault(part.banks, found)
    return tuple(made.values())


def _most_used(study: Study, *, charged: bool) -> Mapping[tuple[str, ...], Autonomy]:
    """The banks that are joined in any state, each in the state that uses most of them."""
    most: dict[tuple[str, ...], Autonomy] = {}
    for one in autonomy(study, charged=charged):
        if one.banks not in most or one.use.known_c > most[one.banks].use.known_c:
            most[one.banks] = one
    return most


def _given(every: Sequence[Charging], banks: Collection[str]) -> Mapping[str, float]:
    """What each source gives in a day to some banks and to none beside them [C]."""
    found: dict[str, float] = {}
    for one in every:
        if one.day_c is not None and set(one.banks) <= set(banks):
            found[one.by] = max(one.day_c, found.get(one.by, 0.0))
    return found


def _balance(
    study: Study, one: Autonomy, near: Sequence[Charging],
    into: Mapping[tuple[str, ...], Mapping[str, float]],
) -> Iterator[Balance]:  # fmt: skip
    own = into.get(one.banks, {})
    shared = tuple(_shared(one.banks, near, into))
    others = {each.by for each in shared}
    given = tuple(pair for pair in own.items() if pair[0] not in others)
    kinds = {study.rig.by_name.sources[name].chemistry for name in one.banks}
    back = [share.value for kind in kinds if (share := returned_share(kind)) is not None]
    if not near or (given and not back) or not (given or one.use.known_c):
        return
    kept_c = sum(charge_c for _, charge_c in given) / max(back, default=1.0)
    told = others | own.keys()
    at_times = tuple(dict.fromkeys(each.by for each in near if each.by not in told))
    yield Balance(one.banks, one.use, given, kept_c, one.usable_c, at_times, shared)


def _shared(
    banks: tuple[str, ...], near: Sequence[Charging],
    into: Mapping[tuple[str, ...], Mapping[str, float]],
) -> Iterator[Shared]:  # fmt: skip
    """What comes into some banks or into others, or into them together alone."""
    for name in dict.fromkeys(each.by for each in near if each.day_c is not None):
        if name in into.get(banks, {}):
            beside = [each for each in into if name in into[each] and not set(each) & set(banks)]
        else:
            beside = [each.banks for each in near if each.by == name]
        others = dict.fromkeys(one for each in beside for one in each if one not in banks)
        if others:
            most_c = max(each.day_c or 0.0 for each in near if each.by == name)
            yield Shared(name, most_c, tuple(others))
