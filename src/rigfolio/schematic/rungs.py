"""A rig sorted for a circuit diagram: parts, links between them, rows of circuits, returns."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from rigfolio.job import Job
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Panel, Rig, Slot, Source
from rigfolio.schematic.tree import Grower, Step, is_main, loads_of, owned_terminals

End = tuple[str, str]
"""The name of a part and one of its terminals."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One side of a place where a diagram goes on upon another page.

    Both sides have the same `key`; `is_out` says that this side leads to the other page, else it
    comes from there. `words` say what lies beyond, the fullest wording first. `is_flat` sets them
    on the wire, not beside its end; `narrow` as in `Canvas`.
    """

    key: str
    is_out: bool
    words: tuple[str, ...]
    is_flat: bool = False
    narrow: int = 0


@dataclass(frozen=True, slots=True)
class Part:
    """A part beside the rows: its things, and its terminals that face left and right.

    `kind` is that of the source, device or junction; `open` is an end of a wire that leads nowhere,
    `cut` a mark where the diagram goes on upon another page.
    """

    name: str
    kind: str
    things: tuple[Source | Device | Junction, ...]
    left: tuple[str, ...]
    right: tuple[str, ...]
    is_minus: bool = False
    cut: Cut | None = None


@dataclass(frozen=True, slots=True)
class Link:
    """A conductor between two parts; without one, both stand on the same terminal."""

    name: str
    a: End
    b: End
    wire: Conductor | None = None


@dataclass(frozen=True, slots=True)
class Strand:
    """A slot, or a circuit that starts elsewhere, with all that follows it.

    `origin` is where a circuit outside a panel starts, `device` its fuse where it begins with it.
    """

    name: str
    label: str
    steps: tuple[Step, ...]
    device: Device | None = None
    slot: int = 0
    circuits: tuple[Circuit, ...] = ()
    kept: Slot | None = None
    origin: End | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """A panel with some of its slots in order, or one circuit outside panels.

    `before` and `after` are where its bus comes from another page and goes on upon one.
    """

    strands: tuple[Strand, ...]
    panel: Panel | None = None
    main: Device | None = None
    before: Cut | None = None
    after: Cut | None = None


@dataclass(frozen=True, slots=True)
class Back:
    """Returns that end at one terminal: `root` is empty where nobody knows how they run."""

    root: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Scheme:
    """All that a circuit diagram shows; `owners` gives the part of each terminal outside rows.

    `bar_parts` are the bars as parts, for a page without rows. `bar_cuts` are the marks at the
    feet of bars, by terminal, and `stop_cuts` those at the ends of rows, by the name of the outlet.
    """

    parts: tuple[Part, ...]
    links: tuple[Link, ...]
    blocks: tuple[Block, ...]
    backs: tuple[Back, ...]
    bars: tuple[str, ...]
    frames: tuple[str, ...]
    owners: Mapping[str, str]
    bar_parts: tuple[Part, ...] = ()
    bar_cuts: Mapping[str, Cut] = field(default_factory=dict)
    stop_cuts: Mapping[str, Cut] = field(default_factory=dict)


def scheme_of(job: Job) -> Scheme:
    """The rig of a job sorted for its diagram; nothing is left out."""
    return _Sorter(job).scheme()


class _Sorter:
    def __init__(self, job: Job) -> None:
        self.job = job
        self.rig: Rig = job.rig
        self.owned = owned_terminals(job.rig)
        self.grower = Grower(job.rig, self.owned)
        self.far = _distances(job.rig, [s.plus for s in job.rig.sources])
        self.back_far = _distances(job.rig, [s.minus for s in job.rig.sources])

    def scheme(self) -> Scheme:
        rig = self.rig
        panels = tuple(self._panel(panel) for panel in rig.panels)
        loose = [self._loose(c) for c in rig.circuits if not (c.panel and c.slot)]
        direct = [self._direct(load) for load in rig.loads if self._is_left(load)]
        blocks = (
            *(Block((s,)) for s in loose if s.steps or s.device),
            *panels,
            *(Block((s,)) for s in direct if s is not None),
        )
        backs = tuple(
            Back(root if root in self.owned else "", steps)
            for block in blocks
            for strand in block.strands
            for root, steps in self.grower.back(loads_of(strand.steps))
        )
        parts = self._parts()
        frames = tuple(j.terminal for j in rig.junctions if j.kind == "chassis")
        origins = {s.origin[1] for b in blocks for s in b.strands if s.origin}
        bars = self._bars(backs, (*frames, *origins))
        links, extra = self._links(parts)
        kept = tuple(part for part in parts if part.name not in bars)
        shown = tuple(part for part in parts if part.name in bars)
        return Scheme((*kept, *extra), links, blocks, backs, bars, frames, self.owned, shown)

    def _panel(self, panel: Panel) -> Block:
        name = panel.about.name
        kept = {slot.number: slot for slot in self.rig.slots if slot.panel == name}
        devices = {d.about.name: d for d in self.rig.devices if d.in_slot}
        strands = []
        for number in range(1, panel.slots + 1):
            terminal = f"{name}.{number}"
            circuits = tuple(c for c in self.rig.circuits if c.panel == name and c.slot == number)
            label = " / ".join(c.label for c in circuits if c.label)
            strands.append(
                Strand(terminal, label, self.grower.out(terminal), devices.get(terminal), number,
                       circuits, kept.get(number))
            )  # fmt: skip
        main = next(
            (d for d in self.rig.devices
             if is_main(self.rig, d) and panel.feed in (d.line, d.load)), None,
        )  # fmt: skip
        return Block(tuple(strands), panel, main)

    def _loose(self, circuit: Circuit) -> Strand:
        """A circuit that starts at a terminal outside the slots."""
        device = next((d for d in self.rig.devices if d.about.name == circuit.device), None)
        if device is not None and device.line in self.owned:
            self.grower.drawn.add(device.about.name)
            steps = self.grower.out(device.load)
            origin: End | None = (self.owned[device.line], device.line)
            return Strand(circuit.place, circuit.label, steps, device, 0, (circuit,), None, origin)
        start = circuit.start
        for name in circuit.wires:
            wire = self.rig.conductor(name)
            end = next((end for end in (wire.a, wire.b) if end in self.owned), None)
            if end is not None and name not in self.grower.taken:
                start = end
                break
        steps = self.grower.out(start or f"{circuit.stem}~0", circuit)
        origin = (self.owned[start], start) if start in self.owned and steps else None
        return Strand(circuit.place, circuit.label, steps, None, 0, (circuit,), None, origin)

    def _is_left(self, load: Load) -> bool:
        inlets = {f"{s.about.name}.in" for s in self.rig.sources if s.kind == "dc-dc"}
        return load.about.name not in self.grower.drawn and load.about.name not in inlets

    def _direct(self, load: Load) -> Strand | None:
        """A load that wires reach without a circuit."""
        if load.about.name in self.grower.drawn:
            return None
        label = str(load.about)
        for wire in () if load.plus in self.owned else self.grower.wires_at(load.plus):
            far = wire.b if wire.a == load.plus else wire.a
            if far in self.owned:
                step = self.grower.along(wire, far)
                origin = (self.owned[far], far)
                return Strand(load.about.name, label, (step,), origin=origin)
        origin_here = None
        if load.plus in self.owned:
            origin_here = (self.owned[load.plus], load.plus)
        self.grower.drawn.add(load.about.name)
        more = () if load.plus in self.owned else self.grower.out(load.plus)
        return Strand(load.about.name, label, (Step(load), *more), origin=origin_here)

    def _bars(self, backs: tuple[Back, ...], frames: tuple[str, ...]) -> tuple[str, ...]:
        """Terminals that are drawn as a bar beside the rows: those that returns end at."""
        junctions = {j.terminal for j in self.rig.junctions}
        junctions |= {p.negative for p in self.rig.panels if p.negative}
        posts = {t for s in self.rig.sources for t in (s.plus, s.minus)}
        posts |= {t for d in self.rig.devices for t in (d.line, d.load)}
        roots = dict.fromkeys(back.root for back in backs if back.root)
        return tuple(r for r in roots if r in junctions - posts and r not in frames)

    def _parts(self) -> tuple[Part, ...]:
        parts = [self._source(source) for source in self.rig.sources]
        groups: dict[str, list[Device]] = {}
        for device in self.rig.devices:
            if device.about.name in (self.owned.get(device.line), self.owned.get(device.load)) or (
                device.line in self.owned
                and device.load in self.owned
                and not (
                    device.in_slot
                    or is_main(self.rig, device)
                    or device.about.name in {c.device for c in self.rig.circuits}
                )
            ):
                groups.setdefault(device.about.name, []).append(device)
        parts += [self._device(name, devices) for name, devices in groups.items()]
        for junction in self.rig.junctions:
            if junction.terminal in self.owned:
                ends = (junction.terminal,)
                parts.append(
                    Part(junction.about.name, junction.kind, (junction,), ends, ends,
                         junction.kind == "chassis" or self._is_minus(ends))
                )  # fmt: skip
        named = {part.name for part in parts}
        for panel in self.rig.panels:
            terminal = panel.negative
            if terminal and self.owned.get(terminal) == terminal and terminal not in named:
                named.add(terminal)
                parts.append(Part(terminal, "busbar", (), (terminal,), (terminal,), is_minus=True))
        return tuple(parts)

    def _source(self, source: Source) -> Part:
        left = (f"{source.about.name}.in",) if source.kind == "dc-dc" else ()
        return Part(
            source.about.name, source.kind, (source,), (*left, source.minus), (source.plus,)
        )

    def _device(self, name: str, devices: list[Device]) -> Part:
        lines = tuple(dict.fromkeys(d.line for d in devices))
        loads = tuple(dict.fromkeys(d.load for d in devices))
        is_minus = self._is_minus((*lines, *loads))
        far = self.back_far if is_minus else self.far
        most = len(far) + 1
        near_line = min(far.get(end, most) for end in lines)
        near_load = min(far.get(end, most) for end in loads)
        is_turned = near_load < near_line or (
            near_load == near_line and self._is_charged(loads) and not self._is_charged(lines)
        )
        left, right = (loads, lines) if is_turned else (lines, loads)
        return Part(name, devices[0].kind, tuple(devices), left, right, is_minus)

    def _is_charged(self, terminals: tuple[str, ...]) -> bool:
        """Whether a wire leads straight to a source that charges others."""
        posts = {s.plus for s in self.rig.sources if s.kind != "battery"}
        return any(
            (wire.a in terminals and wire.b in posts) or (wire.b in terminals and wire.a in posts)
            for wire in self.rig.conductors
        )

    def _is_minus(self, terminals: tuple[str, ...]) -> bool:
        sides = {self.job.study.side.get(terminal, "") for terminal in terminals}
        return "-" in sides and "+" not in sides

    def _links(self, parts: tuple[Part, ...]) -> tuple[tuple[Link, ...], tuple[Part, ...]]:
        """Wires between parts, joints of parts that share a terminal, and parts for loose ends."""
        links: list[Link] = []
        extra: dict[str, Part] = {}
        for part in parts:
            for terminal in dict.fromkeys((*part.left, *part.right)):
                owner = self.owned.get(terminal, part.name)
                if owner != part.name:
                    name = f"{owner}={part.name}.{terminal}"
                    links.append(Link(name, (owner, terminal), (part.name, terminal)))
        for wire in self.rig.conductors:
            if wire.name not in self.grower.taken:
                ends = [self._end(end, wire, extra) for end in (wire.a, wire.b)]
                links.append(Link(wire.name, ends[0], ends[1], wire))
        return tuple(links), tuple(extra.values())

    def _end(self, terminal: str, wire: Conductor, extra: dict[str, Part]) -> End:
        if terminal in self.owned:
            return self.owned[terminal], terminal
        is_minus = "-" in (self.job.study.side.get(wire.a, ""), self.job.study.side.get(wire.b, ""))
        name = f"open {terminal}"
        ends = (terminal,)
        extra.setdefault(name, Part(name, "open", (), ends, ends, is_minus))
        return name, terminal


def _distances(rig: Rig, starts: list[str]) -> dict[str, int]:
    """Steps from the nearest of some terminals, over conductors and devices."""
    next_to: dict[str, list[str]] = {}
    for one, two in (
        *((wire.a, wire.b) for wire in rig.conductors),
        *((device.line, device.load) for device in rig.devices),
    ):
        next_to.setdefault(one, []).append(two)
        next_to.setdefault(two, []).append(one)
    far = dict.fromkeys(starts, 0)
    waiting = list(far)
    for here in waiting:
        for there in next_to.get(here, ()):
            if there not in far:
                far[there] = far[here] + 1
                waiting.append(there)
    return far
