"""Voltage drop from a source to a load and back, with the demand of all loads on the way.

It is counted from the posts of the source, or from the bar of the panel where the rule book counts
from there. All draw what they draw at the volts that are left to them, the internal resistance of
the source counted.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from rigfolio.books import Limit
from rigfolio.demand.counting import on_trial
from rigfolio.demand.flows import Flows, flows_of
from rigfolio.findings import Citation, Unknown
from rigfolio.model import Conductor, Load, Panel
from rigfolio.network import Edge, Way, edge_name, ends, resting_open, ways_to_close
from rigfolio.operating import Drawn, SizeOf, standing_of
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.units import Size

if TYPE_CHECKING:
    from rigfolio.demand.counting import Fed, Settled
    from rigfolio.network import Stretch


@record
class Drop:
    """The drop on one way [V]; `worst` is the wire that loses more than any other, `worst_v` [V].

    `bar` names the panel from whose bar it is counted; empty where it is counted from the posts of
    the source. It is infinite where the load pulls the voltage to collapse: no volts serve it then.
    """

    volts: float
    nominal_v: float
    way: Way
    worst: Conductor | None
    bar: str = ""
    worst_v: float = 0.0

    @property
    def origin(self) -> str:
        """In words, from where it is counted and what is on."""
        posts = f"the posts of `{self.way.source.about.name}`"
        start = f"the bar of `{self.bar}`" if self.bar else posts
        return f"counted from {start} and back, with all on that can be expected together"

    @property
    def share(self) -> float:
        """The drop as a share of the nominal voltage [-]."""
        return self.volts / self.nominal_v

    @property
    def collapses(self) -> bool:
        """Whether the load pulls the voltage to collapse."""
        return math.isinf(self.volts)


_Loss = tuple[float, float, Conductor | None]
"""What a wire or a mesh loses [V], what the wire in it that loses most does, and that wire."""
_Swap = tuple[Load, float]
"""A load that draws something else than it is expected to, and what that is [A]."""


class Drops:
    """Drops of a rig, for the sizes that it has or for others on trial."""

    def __init__(self, flows: Flows) -> None:
        self.flows = flows
        self.copper = flows.counts.copper
        self._known: dict[tuple[str, str, str], tuple[float, float | None]] = {}
        self._open: dict[tuple[int, str, str], tuple[frozenset[str], ...]] = {}

    def ohm(self, wire: Conductor, current_a: float, size: Size) -> float | None:
        """Resistance of a conductor, hot from its current [Ω]; None where the length is unknown."""
        return self.copper.ohm(wire, current_a, size)

    def of(self, load: Load, size_of: SizeOf | None = None) -> Drop | None:
        """The drop of a load from the source that serves it best; None where it is not known.

        With sizes on trial the load draws what it draws behind these, all others as before.
        """
        drawn = self._drawn(load, size_of)
        if isinstance(drawn.current_a, Unknown):
            return None
        nominal_v = self.flows.nominal_v(load.plus)
        ways = self.flows.ways.get(load.about.name, ())
        panel = self._bar_of(load)
        if panel is not None:
            ways = [_from_bar(way, load, panel) for way in ways]
        is_swapped = size_of is not None or load.about.name in self.flows.counts.starters
        swap = (load, drawn.current_a) if is_swapped else None
        drop = self._best(ways, drawn.current_a, nominal_v, size_of, swap, load=load.about.name)
        if drop is None:
            return None
        bar = panel.about.name if panel is not None else ""
        return replace(drop, volts=math.inf if drawn.collapses else drop.volts, bar=bar)

    def worst_of(self, load: Load) -> Conductor | None:
        """The wire between the posts and a load, out or back, that is known to lose most."""
        drawn_a = self.flows.expected[load.about.name].current_a
        if isinstance(drawn_a, Unknown):
            return None
        ways = standing_of(self.flows.ways.get(load.about.name, ()))
        losses = (self._losses(one, drawn_a, self.flows.counts.size_of, None)
                  for way in ways for one in way.every)  # fmt: skip
        known = [loss for each in losses for loss in each if loss is not None]
        return max(known, key=lambda loss: loss[1])[2] if known else None

    def starting(self, load: Load, current_a: float, size_of: SizeOf | None = None) -> Drop | None:
        """As `of`, while a load draws what it starts at beside all that runs with it."""
        nominal_v = self.flows.nominal_v(load.plus)
        ways = self.flows.ways.get(load.about.name, ())
        panel = self._bar_of(load)
        if panel is not None:
            ways = [_from_bar(way, load, panel) for way in ways]
        drop = self._best(ways, current_a, nominal_v, size_of, (load, current_a))
        bar = panel.about.name if panel is not None else ""
        return None if drop is None else replace(drop, bar=bar)

    def _bar_of(self, load: Load) -> Panel | None:
        """The panel from whose bar the drop of a load is counted; None where it is the source."""
        # What must work, and what has a limit of its own, is held against that from the source.
        if not self.flows.drops_from_bar or load.critical or load.drop_share is not None:
            return None
        circuit = self.flows.rig.by_name.circuits.get(load.circuit)
        panel = self.flows.rig.by_name.panels.get(circuit.panel) if circuit is not None else None
        return panel if panel is not None and panel.negative is not None else None

    def _drawn(self, load: Load, size_of: SizeOf | None) -> Drawn:
        home = self.flows.counts.homes.get(load.about.name)
        is_fixed = load.kind == "current" or isinstance(load.value, Unknown)
        if size_of is None or home is None or is_fixed:
            return self.flows.expected[load.about.name]
        return on_trial(self.flows.counts, load, home[1], size_of)

    def feeder(self, panel: Panel, size_of: SizeOf | None = None) -> Drop | None:
        """The drop between a source and a panel, out and back, with the panel's demand on it.

        A frame whose resistance is not stated takes nothing off it.
        """
        nominal_v = self.flows.nominal_v(panel.feed)
        kept = self._best(self.flows.feeders(panel), 0.0, nominal_v, size_of)
        alone = (self._best(self.flows.feeders(panel), 0.0, nominal_v, size_of, without=bond)
                 for bond in self._bonds)  # fmt: skip
        drops = [drop for drop in (kept, *alone) if drop is not None]
        return max(drops, key=lambda drop: drop.volts) if kept is not None else None

    @cached_property
    def _bonds(self) -> tuple[str, ...]:
        """Wires to frames whose resistance nobody has stated."""
        rig = self.flows.rig
        frames = {j.terminal for j in rig.junctions if j.traits.is_frame and j.ohm is None}
        return tuple(wire.name for wire in rig.conductors if frames & {wire.a, wire.b})

    def _best(
        self,
        ways: Iterable[Way],
        own_a: float,
        nominal_v: float,
        size_of: SizeOf | None,
        swap: _Swap | None = None,
        without: str = "",
        load: str = "",
    ) -> Drop | None:
        """The least drop; a source that comes and goes counts only where there is no other.

        Where a switch makes one of several ways it is the most of all its settings: the load has
        to bear each of them. What is on beside a `load` is what can be, where that is named.
        """
        sizes = size_of or self.flows.counts.size_of
        every = [one for way in ways for one in way.every]
        worst: Drop | None = None
        for number in sorted({number for one in every for number in one.settings}):
            here = standing_of(one for one in every if number in one.settings)
            drops = (self._along(one, own_a, nominal_v, sizes, swap, without, load) for one in here)
            known = [drop for drop in drops if drop is not None]
            best = min(known, key=lambda drop: drop.volts) if known else None
            if best is not None and (worst is None or best.volts > worst.volts):
                worst = best
        return worst

    def _along(
        self,
        way: Way,
        own_a: float,
        nominal_v: float,
        size_of: SizeOf,
        swap: _Swap | None,
        without: str,
        load: str,
    ) -> Drop | None:
        total_v = most_v = 0.0
        worst: Conductor | None = None
        for loss in self._losses(way, own_a, size_of, swap, without, load):
            if loss is None:
                return None
            lost_v, wire_v, wire = loss
            total_v += lost_v
            if wire_v > most_v:
                most_v, worst = wire_v, wire
        return Drop(total_v, nominal_v, way, worst, worst_v=most_v)

    def _losses(
        self,
        way: Way,
        own_a: float,
        size_of: SizeOf,
        swap: _Swap | None,
        without: str = "",
        load: str = "",
    ) -> Iterator[_Loss | None]:
        """What the wires and the meshes of a way lose; None for what is not known.

        A mesh may be taken `without` one of its wires, where all loads find a way then.
        """
        source = way.source.about.name
        edges: tuple[Edge, ...] = (*way.out, *way.back)
        for edge in edges:
            if not isinstance(edge, Conductor) or (way.stretches and way.is_meshed(edge.name)):
                continue
            size = size_of(edge)
            if isinstance(size, Unknown):
                if self.copper.is_judged(edge):
                    yield None
                continue
            carried_a, lost_v = self._carried(source, edge, size, swap, load)
            if own_a > carried_a:
                lost_v = _lost_v(self, edge, own_a, size)
            yield None if lost_v is None else (lost_v, lost_v, edge)
        for stretch in way.stretches:
            fed = self.flows.counts.fed(source, stretch)
            kept = fed.settled(size_of)
            if kept is None:
                yield None
                return
            if without in stretch.mesh.names:
                kept = fed.settled(size_of, frozenset({without})) or kept
            choices = (fed.settled(size_of, choice) for choice in _choices(self, stretch))
            is_on_top = swap is not None and swap[0].about.name in self.flows.counts.starters
            yield max(
                (
                    _lost_in(fed, stretch, settled, edges, own_a if is_on_top else 0.0)
                    for settled in (kept, *choices) if settled is not None
                ),
                key=lambda loss: loss[0],
            )  # fmt: skip

    def _carried(
        self, source: str, wire: Conductor, size: Size, swap: _Swap | None, load: str
    ) -> tuple[float, float | None]:
        """What runs through a wire outside meshes [A] and what that loses there [V]."""
        if swap is not None:
            carried_a = self.flows.from_source(source, wire.name, swap)
            return carried_a, _lost_v(self, wire, carried_a, size)
        if (load, source, wire.name) in self.flows.counts.instead:
            carried_a = self.flows.from_source(source, wire.name, beside=load)
            return carried_a, _lost_v(self, wire, carried_a, size)
        key = (source, wire.name, size.text)
        known = self._known.get(key)
        if known is None:
            carried_a = self.flows.from_source(source, wire.name)
            known = self._known[key] = carried_a, _lost_v(self, wire, carried_a, size)
        return known


def _lost_v(drops: Drops, wire: Conductor, current_a: float, size: Size) -> float | None:
    ohm = drops.ohm(wire, current_a, size)
    return None if ohm is None else ohm * current_a


def _choices(drops: Drops, stretch: "Stretch") -> tuple[frozenset[str], ...]:
    """What may stay open in a mesh of switches that rest open, while one of them feeds."""
    mesh = stretch.mesh
    resting = resting_open(drops.flows.rig) & mesh.names
    if not resting or mesh.batteries:
        return ()
    key = mesh.number, stretch.entry, stretch.exit
    if key not in drops._open:
        drops._open[key] = ways_to_close(mesh.edges, stretch.entry, stretch.exit, resting)
    return drops._open[key]


def _lost_in(
    fed: "Fed", stretch: "Stretch", settled: "Settled", edges: Sequence[Edge], on_top_a: float
) -> _Loss:
    """What a mesh loses on the way through it, with a start on top that is counted nowhere [A].

    The wire is one of the way where that is closed, else of all that carry something.
    """
    names = stretch.mesh.names
    inside = [e for e in edges if isinstance(e, Conductor) and e.name in names]
    if any(edge_name(e) not in settled.current_a for e in edges if edge_name(e) in names):
        inside = [e for e in stretch.mesh.edges if isinstance(e, Conductor)]
    lost = [
        (settled.ohms[e.name] * settled.current_a[e.name], e)
        for e in inside if e.name in settled.current_a
    ]  # fmt: skip
    wire_v, wire = max(lost, key=lambda one: one[0], default=(0.0, None))
    lost_v = fed.volts(settled, stretch.exits)
    if on_top_a:
        lost_v += on_top_a * fed.ohm(settled, stretch.exits)
    return lost_v, wire_v, wire


def _from_bar(way: Way, load: Load, panel: Panel) -> Way:
    """The part of a way from the bar of a panel to a load and back to its negative."""
    out = _until(way.out, load.plus, panel.bus)
    back = _until(way.back, load.minus, panel.negative or "")
    names = {edge_name(edge) for edge in (*out, *back)}
    stretches = tuple(one for one in way.stretches if one.mesh.names & names)
    others = tuple(_from_bar(one, load, panel) for one in way.others)
    return replace(way, out=out, back=back, stretches=stretches, others=others)


def _until(edges: tuple[Edge, ...], start: str, end: str) -> tuple[Edge, ...]:
    """The edges from a load up to a terminal; all of them where they do not lead there."""
    here = start
    for place, edge in enumerate(edges):
        if here == end:
            return edges[:place]
        one, two = ends(edge)
        here = two if here == one else one
    return edges


@once
def drops_of(study: Study) -> Drops:
    """Voltage drops of the loads and feeders of a rig."""
    return Drops(flows_of(study))


def allowed_drop_of(study: Study, load: Load) -> Limit:
    """The share of the system voltage that a load may lose, out and back [-]."""
    if load.drop_share is not None:
        return Limit(load.drop_share, Citation("as stated for this load", "seen"))
    return study.book.drop_share(
        critical=load.critical,
        intermittent=load.traits.at_times,
        system_v=study.nominal_v(load.plus),
    )
