"""Bars and rungs: the rig as terminals where things meet and chains of things between them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from rigfolio.job import Job
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Panel, Rig, Slot, Source

Thing = Conductor | Device | Source | Load | Junction | Slot | Circuit
BarKind = Literal["busbar", "frame", "panel", "joint", "box", "end"]
EndKind = Literal["open", "frame", "there", "slot", "cut", "resumed", "stub"]

_NO_SPAN = 10**9


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing of a rung with its terminals, as the rung is read from left to right."""

    thing: Thing
    a: str
    b: str

    def turned(self) -> "Piece":
        """The same thing read from the other side."""
        return Piece(self.thing, self.b, self.a)

    @property
    def is_symbol(self) -> bool:
        """Whether it drives or draws current; a rung holds one such thing at most."""
        return isinstance(self.thing, Source | Load)


@dataclass(frozen=True, slots=True)
class End:
    """How a rung ends that leads to no bar: what is drawn there, and the terminal."""

    kind: EndKind
    terminal: str


@dataclass(frozen=True, slots=True)
class Rung:
    """A series chain from the bar `a` to the bar `b`, or to a free `end` where `b` is empty.

    `ports` are the terminals that it lands on; `slot` is the panel and the number it starts in.
    """

    a: str
    b: str
    pieces: tuple[Piece, ...]
    ports: tuple[str, str]
    end: End | None = None
    slot: tuple[str, int] | None = None
    key: tuple[int, int] = (_NO_SPAN, 0)

    @property
    def symbol(self) -> Piece | None:
        """Its source or load."""
        return next((piece for piece in self.pieces if piece.is_symbol), None)


@dataclass(frozen=True, slots=True)
class Bar:
    """A terminal, or all terminals of a part with more than two, where rungs meet.

    `sign` is `+`, `-` or empty. `things` are the parts that it belongs to: a junction, a source, a
    device; `panel` the panel whose bus it is. `is_minor` says that it lies within one circuit.
    """

    name: str
    kind: BarKind
    terminals: tuple[str, ...]
    sign: str = ""
    things: tuple[Thing, ...] = ()
    panel: Panel | None = None
    is_minor: bool = False
    depth: int = _NO_SPAN
    """How many things lie between it and the nearest battery."""

    @property
    def is_box(self) -> bool:
        """Whether it is a selector or a converter."""
        return self.kind == "box"


@dataclass(frozen=True, slots=True)
class Graph:
    """All bars by name and all rungs, in the order of the text."""

    bars: dict[str, Bar]
    rungs: tuple[Rung, ...]


def graph_of(job: Job) -> Graph:
    """Bars and rungs of a rig; nothing that is wired is left out."""
    return _Builder(job).graph()


@dataclass(slots=True)
class _Builder:
    job: Job
    rig: Rig = field(init=False)
    edges: list[Piece] = field(default_factory=list)
    at: dict[str, list[int]] = field(default_factory=dict)
    boxes: dict[str, str] = field(default_factory=dict)
    forced: dict[str, None] = field(default_factory=dict)
    splices: dict[str, Junction] = field(init=False)
    files: dict[str, int] = field(default_factory=dict)
    bare: dict[str, list[Circuit]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Edges and what is a bar by its nature."""
        self.rig = self.job.rig
        self.splices = {j.terminal: j for j in self.rig.junctions if j.kind == "splice"}
        for junction in self.rig.junctions:
            if junction.kind != "splice":
                self.forced[junction.terminal] = None
        for panel in self.rig.panels:
            self.forced[panel.bus] = None
            if panel.negative:
                self.forced[panel.negative] = None
        for circuit in self.rig.circuits:
            first = (*circuit.wires, *circuit.loads)[:1]
            if not circuit.device and first:
                self.bare.setdefault(first[0], []).append(circuit)
        self._box()
        for piece in _edges_of(self.rig):
            number = len(self.edges)
            self.edges.append(piece)
            for terminal in (piece.a, piece.b):
                self.at.setdefault(self.node(terminal), []).append(number)

    def _box(self) -> None:
        """Terminals of parts with more than two, each part as one node."""
        for source in self.rig.sources:
            if source.kind == "dc-dc":
                for end in (f"{source.about.name}.in", source.plus, source.minus):
                    self.boxes.setdefault(end, f"box {source.about.name}")
        for device in self.rig.devices:
            if device.kind == "selector":
                for end in (device.line, device.load):
                    self.boxes.setdefault(end, f"box {device.about.name}")

    def node(self, terminal: str) -> str:
        """The node of a terminal."""
        return self.boxes.get(terminal, terminal)

    def is_bar(self, node: str) -> bool:
        """Whether rungs end here."""
        return (
            node in self.forced or node.startswith("box ") or len(self.at.get(node, ())) > 2
        )  # fmt: skip

    def graph(self) -> Graph:
        """Chains, cut anew until each holds one source or load and none is a ring."""
        while True:
            rungs = self._rungs()
            cuts = [cut for rung in rungs if (cut := self._cut(rung))]
            if not cuts:
                break
            self.forced |= dict.fromkeys(cuts)
        named = dict.fromkeys(r.a for r in rungs) | dict.fromkeys(r.b for r in rungs if r.b)
        named |= dict.fromkeys(self.forced) | dict.fromkeys(self.boxes.values())
        depths = self._depths()
        rungs = [self._begun(rung) for rung in rungs]
        rungs += self._idle_slots(rungs)
        held = {rung.a for rung in rungs} | {rung.b for rung in rungs}
        rungs += [Rung(name, "", (), (name, name), End("stub", name)) for name in named
                  if name not in held]  # fmt: skip
        ordered = tuple(sorted(rungs, key=lambda rung: rung.key))
        return Graph({name: self._bar(name, depths) for name in named}, ordered)

    def _begun(self, rung: Rung) -> Rung:
        """A rung with the names of the circuits that begin on it without a fuse."""
        pieces: list[Piece] = []
        for piece in rung.pieces:
            thing = piece.thing
            name = thing.name if isinstance(thing, Conductor) else ""
            name = thing.about.name if isinstance(thing, Load) else name
            for circuit in self.bare.pop(name, ()):
                pieces.append(Piece(circuit, piece.a, piece.a))
            pieces.append(piece)
        return replace(rung, pieces=tuple(pieces))

    def _cut(self, rung: Rung) -> str:
        """A terminal inside a rung that has to be a bar; empty where there is none."""
        symbols = [n for n, piece in enumerate(rung.pieces) if piece.is_symbol]
        if len(symbols) > 1:
            return self.node(rung.pieces[symbols[0]].b)
        if rung.a == rung.b and len(rung.pieces) > 1:
            return self.node(rung.pieces[len(rung.pieces) // 2].a)
        return ""

    def _rungs(self) -> list[Rung]:
        used: set[int] = set()
        rungs: list[Rung] = []
        bars = [node for node in self.at if self.is_bar(node)]
        ends = [node for node in self.at if not self.is_bar(node) and len(self.at[node]) == 1]
        rest = [node for node in self.at if not self.is_bar(node)]
        for node in (*bars, *ends, *rest):
            for number in self.at[node]:
                if number not in used:
                    rungs.append(self._walk(node, number, used))
        return rungs

    def _walk(self, start: str, number: int, used: set[int]) -> Rung:
        """The chain from a node along an edge to the next bar or to where nothing follows."""
        pieces: list[Piece] = []
        here = start
        while True:
            used.add(number)
            piece = self.edges[number]
            pieces.append(piece if self.node(piece.a) == here else piece.turned())
            here = self.node(pieces[-1].b)
            onward = [n for n in self.at[here] if n not in used]
            if self.is_bar(here) or here == start or not onward:
                break
            if here in self.splices:
                pieces.append(Piece(self.splices[here], here, here))
            number = onward[0]
        ports = (pieces[0].a, pieces[-1].b)
        key = min(self._key(piece.thing) for piece in pieces)
        rung = Rung(start, here, tuple(pieces), ports, key=key, slot=self._slot(pieces[0]))
        if self._slot(pieces[-1].turned()) and not rung.slot:
            rung = turned(replace(rung, slot=self._slot(pieces[-1].turned())))
        if here == start and len(pieces) == 1:
            return replace(rung, b="", end=End("there", ports[1]))
        if here == start or self.is_bar(here):
            return rung
        return replace(rung, b="", end=End("open", ports[1]))

    def _slot(self, piece: Piece) -> tuple[str, int] | None:
        """Panel and number of the slot that a chain starts in."""
        device = piece.thing
        if not (isinstance(device, Device) and device.in_slot):
            return None
        for panel in self.rig.panels:
            name, _, number = device.about.name.rpartition(".")
            figure = number.partition("-")[0]
            if name == panel.about.name and figure.isdigit() and piece.a == panel.bus:
                return name, int(figure)
        return None

    def _idle_slots(self, rungs: Sequence[Rung]) -> Iterator[Rung]:
        """Slots that no device stands in."""
        taken = {rung.slot for rung in rungs}
        kept = {(slot.panel, slot.number): slot for slot in self.rig.slots}
        circuits = {(c.panel, c.slot) for c in self.rig.circuits}
        for panel in self.rig.panels:
            for number in range(1, panel.slots + 1):
                place = (panel.about.name, number)
                if place in taken:
                    continue
                use = "no fuse" if place in circuits else "not listed"
                slot = kept.get(place) or Slot(*place, "spare", panel.about.span, f"~{use}")
                piece = Piece(slot, panel.bus, f"{place[0]}.{number}")
                yield Rung(panel.bus, "", (piece,), (piece.a, piece.b), End("slot", piece.b),
                           place, self._key(panel))  # fmt: skip

    def _key(self, thing: Thing | Panel) -> tuple[int, int]:
        """Place in the text."""
        span = thing.span if isinstance(thing, Conductor | Slot | Circuit) else thing.about.span
        return self.files.setdefault(span.file, len(self.files)), span.start

    def _depths(self) -> dict[str, int]:
        """How many things lie between each node and a battery, sources and loads left out."""
        posts = [s for s in self.rig.sources if s.kind == "battery"] or self.rig.sources
        far = dict.fromkeys((self.node(s.plus) for s in posts), 0)
        queue = list(far)
        for node in queue:
            for number in self.at.get(node, ()):
                piece = self.edges[number]
                if piece.is_symbol:
                    continue
                for end in (self.node(piece.a), self.node(piece.b)):
                    if end not in far:
                        far[end] = far[node] + 1
                        queue.append(end)
        return far

    def _bar(self, name: str, depths: dict[str, int]) -> Bar:
        terminals = tuple(t for t, box in self.boxes.items() if box == name) or (name,)
        panel = next((p for p in self.rig.panels if p.bus == name), None)
        things = self._things(name)
        junction = next((t for t in things if isinstance(t, Junction)), None)
        kind: BarKind = "joint"
        if name.startswith("box "):
            kind = "box"
        elif panel is not None:
            kind = "panel"
        elif junction is not None and junction.kind != "splice":
            kind = "frame" if junction.kind == "chassis" else "busbar"
        elif not things and any(p.negative == name for p in self.rig.panels):
            kind = "busbar"
        elif len(self.at.get(name, ())) < 2:
            kind = "end"
        side = self.job.study.side
        sign = next((side[t] for t in terminals if t in side), "")
        if kind == "box":
            sign = ""
        minor = kind == "joint" and self._is_minor(name)
        return Bar(name, kind, terminals, sign, things, panel, minor, depths.get(name, _NO_SPAN))

    def _things(self, name: str) -> tuple[Thing, ...]:
        rig = self.rig
        if name.startswith("box "):
            part = name.removeprefix("box ")
            found: list[Thing] = [s for s in rig.sources if s.about.name == part]
            return (*found, *(d for d in rig.devices if d.about.name == part))
        own: list[Thing] = [j for j in rig.junctions if j.terminal == name]
        own += [s for s in rig.sources if name in (s.plus, s.minus)]
        own += [d for d in rig.devices if name in (d.line, d.load)]
        return tuple(own)

    def _is_minor(self, name: str) -> bool:
        """Whether everything that meets here belongs to one circuit."""
        circuits = set()
        for number in self.at.get(name, ()):
            thing = self.edges[number].thing
            if isinstance(thing, Source):
                return False
            if isinstance(thing, Conductor | Load):
                circuits.add(thing.circuit)
        return len(circuits) == 1 and circuits != {""}


def _edges_of(rig: Rig) -> Iterator[Piece]:
    """Everything with two terminals; parts drawn as one box and unwired pins are left out."""
    inlets = {f"{s.about.name}.in" for s in rig.sources if s.kind == "dc-dc"}
    wired = {end for wire in rig.conductors for end in (wire.a, wire.b)}
    wired |= {end for load in rig.loads for end in (load.plus, load.minus)}
    plugs = {d.about.name for d in rig.devices if d.kind == "connector"
             and not {d.line, d.load}.isdisjoint(wired)}  # fmt: skip
    for device in rig.devices:
        if device.kind == "selector":
            continue
        if device.kind == "connector" and {device.line, device.load}.isdisjoint(wired):
            if device.about.name in plugs:
                continue
            plugs.add(device.about.name)
        yield Piece(device, device.line, device.load)
    for wire in rig.conductors:
        yield Piece(wire, wire.a, wire.b)
    for source in rig.sources:
        if source.kind != "dc-dc":
            yield Piece(source, source.plus, source.minus)
    for load in rig.loads:
        if load.about.name not in inlets:
            yield Piece(load, load.plus, load.minus)


def turned(rung: Rung) -> Rung:
    """The same rung read from its other end; only one between two bars has another."""
    pieces = tuple(piece.turned() for piece in reversed(rung.pieces))
    return replace(rung, a=rung.b, b=rung.a, pieces=pieces, ports=(rung.ports[1], rung.ports[0]))
