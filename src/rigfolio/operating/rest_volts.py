"""At what voltage each source stands while nobody has measured it, and how far that may be off."""

from collections.abc import Collection, Sequence
from functools import cached_property

from rigfolio.books import figure
from rigfolio.isolation import source_reach
from rigfolio.model import Source
from rigfolio.network import edge_name
from rigfolio.study import Study

_BLOCK_V = 12.0
_CELLS = 4
"""Lithium cells in a block of 12 V."""


class RestVolts:
    """The sources that are on in a scene.

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
    """

    def __init__(
        self, study: Study, sources: Sequence[Source], closed: Collection[str], *,
        is_charging: bool, uncharged: frozenset[str] = frozenset(),
    ) -> None:  # fmt: skip
        self.study, self.sources, self.closed = study, sources, closed
        self.is_charging, self.uncharged = is_charging, uncharged

    def share(self, source: Source) -> tuple[float, float]:
        """What a source stands at as a share of its nominal voltage, and how far that may be off.

        Of a battery that is from half full to full, and up to what its charger holds while it is
        charged. What charges stands at the volts that are stated; above them, where these are no
        more than those of its bank. A converter that charges none holds its own.
        """
        name = source.about.name
        if source.stores:
            return _bank_charged(source) if name in self._charged else bank_at_rest(source)
        if name in source_reach(self.study).passes_on:
            return _of("supply")
        return _of("charging" if self._is_nominal(source) else "held")

    def alike(self, source: Source) -> frozenset[str]:
        """The sources that stand higher or lower together with one, it among them.

        Banks that are joined come to the same; what charges is held by a regulator of its own.
        """
        if not source.stores:
            return frozenset((source.about.name,))
        joined = self._joined([source.plus])
        return frozenset(
            one.about.name for one in self.sources if one.stores and one.plus in joined
        )

    def _is_nominal(self, source: Source) -> bool:
        """Whether the volts of a source are those of its system and not what it holds."""
        reached = self.study.net.walk([source.plus])
        banks = [one for one in self.study.rig.sources if one.stores and one.plus in reached]
        levels = [(bank.voltage_v, sum(bank_at_rest(bank))) for bank in banks]
        levels = levels or [(self.study.rig.system_v, sum(_of("rest")))]
        least = figure("nominal", "least")
        return any(least * volts <= source.voltage_v <= most * volts for volts, most in levels)

    @cached_property
    def _charged(self) -> frozenset[str]:
        """Banks that are joined to something that charges and runs."""
        if not self.is_charging:
            return frozenset()
        starts = [one.plus for one in self.sources if not one.stores]
        reached = self._joined(starts)
        banks = (one for one in self.sources if one.stores)
        return frozenset(one.about.name for one in banks if one.plus in reached) - self.uncharged

    def _joined(self, starts: Sequence[str]) -> Collection[str]:
        return self.study.net.walk(starts, lambda edge: edge_name(edge) not in self.closed)


def _of(group: str) -> tuple[float, float]:
    return figure(group, "share"), figure(group, "spread")


def _bank_charged(bank: Source) -> tuple[float, float]:
    """What a bank stands at under charge: from its least volts at rest to the most of its charger.

    Of a lithium bank both go by its cells: what charges 12 V holds four of them.
    """
    if bank.chemistry != "lithium":
        return _of("charged")
    rest, open_rest = bank_at_rest(bank)
    share, spread = _of("charging")
    blocks = _blocks(bank)
    low, high = rest - open_rest, (share + spread) * _BLOCK_V * blocks / bank.voltage_v
    return (low + high) / 2.0, (high - low) / 2.0


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
