"""The whole rig as bars and rungs, and what each bar is."""

from rigfolio.job import Job
from rigfolio.model import Conductor, Junction, Load, Rig, Source
from rigfolio.schematic.chains.circuits import idle_slots, with_circuits
from rigfolio.schematic.chains.edges import Edges, boxed
from rigfolio.schematic.chains.elements import FAR, Bar, BarKind, End, Graph, Rung, Thing
from rigfolio.schematic.chains.text_order import TextOrder
from rigfolio.schematic.chains.walks import Walks


def graph_of(job: Job) -> Graph:
    """Bars and rungs of a rig; nothing that is wired is left out."""
    rig = job.rig
    edges, order = Edges(rig), TextOrder()
    walks = Walks(rig, edges, order)
    rungs = walks.rungs()
    named = dict.fromkeys(r.a for r in rungs) | dict.fromkeys(r.b for r in rungs if r.b)
    named |= walks.bars | dict.fromkeys(edges.boxes.values())
    rungs = with_circuits(rig, rungs)
    rungs += idle_slots(rig, rungs, order)
    held = {rung.a for rung in rungs} | {rung.b for rung in rungs}
    rungs += [Rung(name, "", (), (name, name), End("stub", name)) for name in named
              if name not in held]  # fmt: skip
    bars = _Bars(job, edges)
    ordered = tuple(sorted(rungs, key=lambda rung: rung.key))
    return Graph({name: bars.bar(name) for name in named}, ordered)


class _Bars:
    """What each bar is: its kind, its sign, the parts that it belongs to."""

    def __init__(self, job: Job, edges: Edges) -> None:
        self.rig = job.rig
        self.side = job.study.side
        self.edges = edges
        self.depths = edges.depths(s.plus for s in _nearest(job.rig))

    def bar(self, name: str) -> Bar:
        """The bar at a node."""
        terminals = self.edges.within(name)
        panel = next((p for p in self.rig.panels if p.bus == name), None)
        things = self._things(name)
        kind = self._kind(name, things)
        sign = next((self.side[t] for t in terminals if t in self.side), "")
        if kind == "box":
            sign = ""
        minor = kind == "joint" and self._is_minor(name)
        depth = self.depths.get(name, FAR)
        return Bar(name, kind, terminals, sign, things, panel, minor, depth)

    def _kind(self, name: str, things: tuple[Thing, ...]) -> BarKind:
        junction = next((t for t in things if isinstance(t, Junction)), None)
        if boxed(name):
            return "box"
        if any(panel.bus == name for panel in self.rig.panels):
            return "panel"
        if junction is not None and not junction.traits.is_joint:
            return "frame" if junction.traits.is_frame else "bar"
        if not things and any(p.negative == name for p in self.rig.panels):
            return "bar"
        return "end" if self.edges.count(name) < 2 else "joint"

    def _things(self, name: str) -> tuple[Thing, ...]:
        rig, part = self.rig, boxed(name)
        if part:
            found: list[Thing] = [s for s in rig.sources if s.about.name == part]
            return (*found, *rig.poles.get(part, ()))
        own: list[Thing] = [j for j in rig.junctions if j.terminal == name]
        own += [s for s in rig.sources if name in (s.plus, s.minus)]
        own += [d for d in rig.devices if name in (d.line, d.load)]
        return tuple(own)

    def _is_minor(self, name: str) -> bool:
        """Whether everything that meets here belongs to one circuit."""
        circuits = set()
        for piece in self.edges.meeting(name):
            if isinstance(piece.thing, Source):
                return False
            if isinstance(piece.thing, Conductor | Load):
                circuits.add(piece.thing.circuit)
        return len(circuits) == 1 and circuits != {""}


def _nearest(rig: Rig) -> tuple[Source, ...]:
    """The sources that depths are counted from: batteries where there are any."""
    return tuple(source for source in rig.sources if source.stores) or rig.sources
