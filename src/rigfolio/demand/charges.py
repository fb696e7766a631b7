"""What charging sources drive into the batteries through every wire and device."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from rigfolio.demand.counts import Counts
from rigfolio.model import Rig, Source
from rigfolio.network import Tree


@dataclass(slots=True)
class Charge:
    """What charging sources drive through one edge into batteries [A].

    Sun comes on top of either; what runs from shore and what runs from an engine do not run
    together.
    """

    sun_a: float = 0.0
    shore_a: float = 0.0
    engine_a: float = 0.0
    sources: list[str] = field(default_factory=list)

    @property
    def together_a(self) -> float:
        """The most of it at one time [A]."""
        return self.sun_a + max(self.shore_a, self.engine_a)

    def add(self, source: Source, limit_a: float) -> None:
        """Count one source."""
        self.sources.append(source.about.name)
        together = source.traits.charges_with
        if together == "sun":
            self.sun_a += limit_a
        elif together == "engine":
            self.engine_a += limit_a
        else:
            self.shore_a += limit_a


def charges_of(rig: Rig, trees: Iterable[Tree], counts: Counts) -> dict[str, Charge]:
    """What charging sources drive through each edge, once on every edge that they use."""
    charges: dict[str, Charge] = {}
    for tree in trees:
        if not tree.source.stores and isinstance(tree.source.limit_a, float):
            for name, limit_a in _driven(rig, tree, tree.source.limit_a, counts).items():
                charges.setdefault(name, Charge()).add(tree.source, limit_a)
    return charges


def _driven(rig: Rig, tree: Tree, limit_a: float, counts: Counts) -> dict[str, float]:
    """What a source at its limit drives through each edge on its way to any battery [A]."""
    used: dict[str, float] = {}
    for battery in rig.sources:
        if battery.stores and battery.plus in tree.out and battery.minus in tree.back:
            way = tree.way(tree.out, battery.plus, battery.minus)
            used |= dict.fromkeys(way.single(), limit_a)
            for stretch in way.stretches:
                fed = counts.fed(tree.source.about.name, stretch)
                for name, most_a in fed.most(limit_a, stretch.exit).items():
                    used[name] = max(used.get(name, 0.0), most_a)
    return used
