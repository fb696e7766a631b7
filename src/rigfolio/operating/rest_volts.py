"""At what voltage each source stands while nobody has measured it, and how far that may be off."""

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TypeAlias

from rigfolio.books import figure
from rigfolio.isolation import source_reach
from rigfolio.model import Source
from rigfolio.network import Edge, edge_name, path
from rigfolio.operating.wrong import NOTHING_WRONG, Wrong, summed
from rigfolio.study import Study

Amiss: TypeAlias = tuple[frozenset[str], frozenset[str], frozenset[str], frozenset[str]]
"""Edges behind which a bank stands by itself, those behind which it rests; sources that give
nothing; banks that are flat, or take no charge."""
_SOUND: Amiss = (frozenset(), frozenset(), frozenset(), frozenset())

_BLOCK_V = 12.0
_CELLS = 4
"""Lithium cells in a block of 12 V."""


class RestVolts:
    """The sources that are on in a scene, sound or with something wrong in it.

    Parameters
    ----------
    study : Study
        The rig.
    sources : Sequence[Source]
        Those that are on.
    closed : Collection[str]
        The edges that are closed, by name.
    is_charging : bool
        Whether what charges is known to run.
    uncharged : frozenset[str]
        Names of the banks that it does not charge, whatever the text says.
    unsure : frozenset[str]
        Names of what charges of which nobody knows whether it runs: whether the sun shines.
    amiss : Amiss
        What is wrong, as far as it decides what a bank stands at.
    """

    def __init__(
        self, study: Study, sources: Sequence[Source], closed: Collection[str], *,
        is_charging: bool, uncharged: frozenset[str] = frozenset(),
        unsure: frozenset[str] = frozenset(), amiss: Amiss = _SOUND,
    ) -> None:  # fmt: skip
        self.study, self.sources, self.closed = study, sources, closed
        self.is_charging, self.uncharged, self.unsure = is_charging, uncharged, unsure
        self.amiss = amiss
        self._under = {_SOUND: self}
        self._shares: dict[str, tuple[float, float]] = {}

    def under(self, wrong: Wrong) -> "RestVolts":
        """The same sources with something wrong: what parts a bank leaves it in a state of its own.

        One that nothing charges any more rests, whatever part has failed on the way to it.
        """
        amiss = _SOUND if wrong == NOTHING_WRONG else self._amiss(wrong)
        if amiss not in self._under:
            self._under[amiss] = RestVolts(
                self.study, self.sources, self.closed, is_charging=self.is_charging,
                uncharged=self.uncharged, unsure=self.unsure, amiss=amiss,
            )  # fmt: skip
        return self._under[amiss]

    def share(self, source: Source) -> tuple[float, float]:
        """What a source stands at as a share of its nominal voltage, and how far that may be off.

        Of a battery that is from half full to full, and up to what its charger holds while it is
        charged; of a flat one what it would stand at. What charges stands at the volts that are
        stated; above them, where these are no more than those of its bank. A converter that charges
        none holds its own.
        """
        name = source.about.name
        if name not in self._shares:
            self._shares[name] = self._share(source)
        return self._shares[name]

    def _share(self, source: Source) -> tuple[float, float]:
        name = source.about.name
        if source.stores:
            charging = () if name in self.amiss[3] else self._charging.get(name, ())
            if not charging:
                return bank_at_rest(source)
            charged = self._bank_charged(source, charging)
            is_sure = any(one.about.name not in self.unsure for one in charging)
            return charged if is_sure else _either(charged, bank_at_rest(source))
        if name in source_reach(self.study).passes_on:
            return _of("supply")
        return _of("charging" if self._is_nominal(source) else "held")

    def _bank_charged(self, bank: Source, charging: Sequence[Source]) -> tuple[float, float]:
        """What a bank stands at under charge: from half full at rest to the most it is held at.

        That is what chargers hold at the most, or one of its own by the text, where that is more:
        once the bank is near full it comes to that.
        """
        rest, open_rest = bank_at_rest(bank)
        low, high = rest - open_rest, sum(_of("charging")) * _charged_as(bank) / bank.voltage_v
        # What states more than anything gives that feeds such a bank was mistyped.
        shares = (one.voltage_v / bank.voltage_v for one in charging if not self._is_nominal(one))
        high = max(high, *(one for one in shares if one <= figure("beyond", "share")), 0.0)
        return (low + high) / 2.0, (high - low) / 2.0

    def alike(self, source: Source) -> frozenset[str]:
        """The sources that stand higher or lower together with one, it among them.

        Banks that are joined come to the same; what charges is held by a regulator of its own.
        """
        if not source.stores:
            return frozenset((source.about.name,))
        banks = [one for one in self.sources if one.stores]
        return frozenset(one.about.name for one in self._joined([source], banks, self.amiss[0]))

    def _is_nominal(self, source: Source) -> bool:
        """Whether the volts of a source are those of its system and not what it holds."""
        reached = self.study.net.walk([source.plus])
        banks = [one for one in self.study.rig.sources if one.stores and one.plus in reached]
        levels = [(bank.voltage_v, sum(bank_at_rest(bank))) for bank in banks]
        levels = levels or [(self.study.rig.system_v, sum(_of("rest")))]
        least = figure("nominal", "least")
        return any(least * volts <= source.voltage_v <= most * volts for volts, most in levels)

    @cached_property
    def _charging(self) -> Mapping[str, Sequence[Source]]:
        """The banks that are charged, each with what charges it and runs.

        One that is said not to charge keeps those that are joined to it as low as it is.
        """
        if not self.is_charging:
            return {}
        _, resting, silent, _ = self.amiss
        banks = [one for one in self.sources if one.stores]
        beside = {name for one in banks if one.about.name in self.uncharged
                  for name in self.alike(one)}  # fmt: skip
        found: dict[str, list[Source]] = {}
        for source in self.sources:
            if source.stores or source.about.name in silent:
                continue
            for bank in self._joined([source], banks, resting):
                if bank.about.name not in beside:
                    found.setdefault(bank.about.name, []).append(source)
        return found

    def _joined(
        self, starts: Sequence[Source], banks: Sequence[Source], parting: Collection[str]
    ) -> Iterator[Source]:
        """The banks that are joined to some sources, out and back."""
        plus = self._walk([one.plus for one in starts], parting)
        minus = self._walk([one.minus for one in starts], parting)
        return (one for one in banks if one.plus in plus and one.minus in minus)

    def _walk(
        self, starts: Sequence[str], parting: Collection[str] = ()
    ) -> dict[str, tuple[Edge, str] | None]:
        return self.study.net.walk(
            starts, lambda edge: (name := edge_name(edge)) not in self.closed or name in parting
        )

    def _amiss(self, wrong: Wrong) -> Amiss:
        """What decides of a fault, or of several; nothing where all sources stay joined."""
        more = [(name, ohm) for name, ohm in summed(wrong.ohm).items() if name in self.closed]
        own, resting = (
            frozenset(name for name, ohm in more if ohm >= figure("parted", least))
            for least in ("own_ohm", "rest_ohm")
        )
        if not own & self._between:
            own = resting = frozenset()
        stores = {one.about.name: one.stores for one in self.sources}
        # What lets its input through goes on charging.
        weak = wrong.emf if not wrong.shunt_ohm else ()
        silent = frozenset(name for name, share in weak if not (stores.get(name, True) or share))
        flat = frozenset(name for name, share in weak if stores.get(name) and share < 1.0)
        return own, resting, silent, flat | frozenset(wrong.no_charge)

    @cached_property
    def _between(self) -> frozenset[str]:
        """The edges on one way between any two sources: without one of these none is parted."""
        found: set[str] = set()
        for ends in ([one.plus for one in self.sources], [one.minus for one in self.sources]):
            left = list(dict.fromkeys(ends))
            while left:
                way = self._walk([left[0]])
                found |= {edge_name(edge) for end in left if end in way for edge in path(way, end)}
                left = [end for end in left if end not in way]
        return frozenset(found)


def _of(group: str) -> tuple[float, float]:
    return figure(group, "share"), figure(group, "spread")


def _either(one: tuple[float, float], two: tuple[float, float]) -> tuple[float, float]:
    """Middle and spread of what is as often the one as the other.

    Source
    ------
    Variance of a mixture: the mean of the variances and the square of half the way (statistics).
    """
    apart = one[0] - two[0]
    # A spread is two deviations; so the square of half the way counts four times.
    return (one[0] + two[0]) / 2.0, math.sqrt((one[1] ** 2 + two[1] ** 2) / 2.0 + apart**2)


def _charged_as(bank: Source) -> float:
    """The volts by name that a charger goes by: of lithium 12 V for each four cells [V]."""
    return _BLOCK_V * _blocks(bank) if bank.chemistry == "lithium" else bank.voltage_v


def bank_at_rest(bank: Source) -> tuple[float, float]:
    """What a bank stands at from half full to full, as a share of its volts: middle and spread [-].

    A lithium bank has the volts of its cells, whatever the text says or leaves out: 12 V are read
    as four cells of 3.2 V. One of 48 V that is said to be so may have fifteen.
    """
    if bank.chemistry != "lithium":
        return figure("rest", "share"), figure("rest", "spread")
    cells = figure("lithium", "nominal_v") * _blocks(bank) / bank.voltage_v
    return figure("lithium", "share") * cells, figure("lithium", "spread") * cells


def _blocks(bank: Source) -> float:
    """The blocks of four cells that make a lithium bank; below 12 V its cells as a part of one."""
    if bank.voltage_v >= _BLOCK_V:
        return round(bank.voltage_v / _BLOCK_V)
    return max(round(_CELLS * bank.voltage_v / figure("lithium", "nominal_v")), 1) / _CELLS
