"""Loads that a switch keeps from being on at one time: which of them are counted on an edge."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.demand.counting.tally import Tally
from rigfolio.model import Load, Rig
from rigfolio.network import heaviest, parted
from rigfolio.operating import Drawn


class OneAtATime:
    """The loads of a rig that hang behind a switch that makes one of several ways.

    `waiting` are those that are to be counted, each with where it is.
    """

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.waiting: list[tuple[Load, list[Tally]]] = []

    def parts(self, load: Load) -> bool:
        """Whether a load is one of them."""
        return bool(parted(self.rig, [load.about.name]))

    def by_tally(self) -> Iterator[tuple[Tally, tuple[Load, ...]]]:
        """Each place where any of them is counted, with all that are."""
        found: dict[int, tuple[Tally, dict[str, Load]]] = {}
        for load, on in self.waiting:
            for tally in on:
                found.setdefault(id(tally), (tally, {}))[1][load.about.name] = load
        yield from ((tally, tuple(loads.values())) for tally, loads in found.values())

    def heaviest(
        self, loads: Sequence[Load], drawn: Mapping[str, Drawn]
    ) -> tuple[frozenset[str], frozenset[str]]:
        """Those that draw most of all that can be on together, and that draw most for hours."""
        every = {one.about.name: drawn[one.about.name].known_a for one in loads}
        steady = {one.about.name: 0.0 if one.traits.at_times else every[one.about.name]
                  for one in loads}  # fmt: skip
        counted, lasting = self._most(every, every), self._most(steady, steady)
        is_more = sum(steady[name] for name in lasting) > sum(steady[name] for name in counted)
        return counted, lasting if is_more else counted

    def beside(
        self, load: Load, loads: Sequence[Load], drawn: Mapping[str, Drawn]
    ) -> frozenset[str]:
        """Those that draw most of all that can be on with one, that one among them."""
        every = {one.about.name: drawn[one.about.name].known_a for one in loads}
        return self._most(every, every | {load.about.name: 1.0 + sum(every.values())})

    def _most(self, names: Iterable[str], drawn_a: Mapping[str, float]) -> frozenset[str]:
        return heaviest(self.rig, names, drawn_a.__getitem__)
