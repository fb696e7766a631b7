"""Circuits expanded into the graph: slot fuse, wires out, loads, wires back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rigfolio.findings import UNKNOWN, Span
from rigfolio.model.draft import (
    CircuitSaid,
    LoadSaid,
    ReturnSaid,
    RunSaid,
    SeriesSaid,
    WireFacts,
)
from rigfolio.model.graph import (
    About,
    Assumption,
    Circuit,
    Conductor,
    Device,
    DeviceKind,
    Junction,
    Load,
    Panel,
    Problem,
)
from rigfolio.model.names import Names
from rigfolio.model.parts import conductor, inline_fuse, load_of
from rigfolio.record import replace
from rigfolio.values import Place


@dataclass(slots=True)
class Expansion:
    """What all circuits of a rig add to its graph."""

    names: Names
    panels: Mapping[str, Panel]
    negative: str | None
    frames: frozenset[str]
    devices: list[Device] = field(default_factory=list)
    junctions: list[Junction] = field(default_factory=list)
    conductors: list[Conductor] = field(default_factory=list)
    loads: list[Load] = field(default_factory=list)
    circuits: list[Circuit] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)
    slots_used: dict[tuple[str, int], Span] = field(default_factory=dict)

    def expand(self, all_said: Iterable[CircuitSaid]) -> None:
        """Add every circuit, in the order of the text."""
        seen: dict[str, int] = {}
        for said in all_said:
            place = str(said.place)
            seen[place] = seen.get(place, 0) + 1
            name = place if seen[place] == 1 else f"{place}-{seen[place]}"
            _One(self, said, name).run()


@dataclass(slots=True)
class _One:
    """One circuit on its way into the graph."""

    whole: Expansion
    said: CircuitSaid
    name: str
    cursor: str = ""
    device: str = ""
    runs: list[Conductor] = field(default_factory=list)
    backs: list[Conductor] = field(default_factory=list)
    users: list[Load] = field(default_factory=list)

    def run(self) -> None:
        said = self.said
        panel = self.whole.panels.get(said.place.name)
        slot = 0
        if panel is not None and said.place.tail:
            start = self._slot(panel)
            slot = int(start.rsplit(".", 1)[1]) if start else 0
        else:
            start = self._terminal()
            panel = None
        self.cursor = start or f"{self.name}~0"
        self._members()
        self._returns(panel)
        self.whole.conductors += [*self.runs, *self.backs]
        self.whole.loads += self.users
        self.whole.circuits.append(
            Circuit(
                place=self.name, label=said.label, span=said.span, start=start or "",
                device=self.device, wires=tuple(wire.name for wire in self.runs if not wire.lead),
                returns=tuple(wire.name for wire in self.backs),
                loads=tuple(load.about.name for load in self.users),
                panel=panel.about.name if panel and slot else "", slot=slot,
                always_on=said.always_on,
                return_assumed=any(wire.assumed for wire in self.backs),
                note=said.note, condition=said.condition,
            )
        )  # fmt: skip

    def _slot(self, panel: Panel) -> str:
        terminal = self.whole.names.resolve(self.said.place, self.said.span)
        if not isinstance(terminal, str):
            return ""
        number = int(terminal.rsplit(".", 1)[1])
        key = (panel.about.name, number)
        if key in self.whole.slots_used:
            other = self.whole.slots_used[key]
            self.whole.names.problems.append(Problem("slot-twice", self.said.span, terminal, other))
            return terminal
        self.whole.slots_used[key] = self.said.span
        fuse = self.said.fuse
        kind: DeviceKind = "breaker" if panel.breakers else "fuse"
        self.device = terminal
        about = About(terminal, self.said.label, self.said.span)
        if fuse is None:
            made = Device(about, kind, panel.bus, terminal, UNKNOWN, in_slot=True)
        else:
            said = inline_fuse(terminal, (panel.bus, terminal), fuse, "")
            about = replace(about, rated_v=fuse.rated_v)
            made = replace(said, about=about, in_slot=True)
        self.whole.devices.append(made)
        return terminal

    def _terminal(self) -> str:
        found = self.whole.names.resolve(self.said.place, self.said.span, onward=True)
        if found is None:
            return ""
        start = found if isinstance(found, str) else f"{found.key}.load"
        if self.said.fuse is None:
            return start
        fuse = self.said.fuse
        if fuse.after_m:
            facts = next((m.facts for m in self.said.members if isinstance(m, RunSaid)), None)
            facts = facts or WireFacts(span=self.said.span)
            stub = conductor(
                f"{self.name}/0", (start, f"{self.name}.in"),
                replace(facts, length_m=fuse.after_m, tag=""), self.name,
            )  # fmt: skip
            self.runs.append(stub)
            start = f"{self.name}.in"
        self.device = f"{self.name}.fuse"
        self.whole.devices.append(
            inline_fuse(self.device, (start, f"{self.name}.out"), fuse, f"{self.name}/1")
        )
        return f"{self.name}.out"

    def _members(self) -> None:
        for place, member in enumerate(self.said.members):
            if isinstance(member, RunSaid):
                after = self.said.members[place + 1 : place + 2]
                joint = next((m for m in after if isinstance(m, Junction)), None)
                self._wire(member, joint)
            elif isinstance(member, LoadSaid):
                self._load(member)
            elif isinstance(member, SeriesSaid):
                self._series(member)
            else:
                self._joint(member)

    def _wire(self, member: RunSaid, joint: Junction | None) -> None:
        names = self.whole.names
        number = len([wire for wire in self.runs if not wire.lead and wire.name[-2:] != "/0"]) + 1
        name = member.facts.tag or f"{self.name}/{number}"
        start = self.cursor
        if member.start is not None:
            found = names.resolve(member.start, member.facts.span, onward=True)
            start = found if isinstance(found, str) else start
        end = f"{self.name}~{number}"
        if member.end is not None:
            found = names.resolve(member.end, member.facts.span)
            if found is not None:
                end = found if isinstance(found, str) else f"{found.key}.line"
        elif joint is not None:
            end = joint.terminal
        self.runs.append(conductor(name, (start, end), member.facts, self.name))
        self.cursor = end

    def _joint(self, joint: Junction) -> None:
        self.whole.junctions.append(joint)
        if self.cursor != joint.terminal:
            # A splice that no wire leads to: the circuit starts at it.
            self.whole.names.problems.append(
                Problem("splice-without-wire", joint.about.span, joint.about.name)
            )
            self.cursor = joint.terminal

    def _series(self, said: SeriesSaid) -> None:
        name = said.about.name or f"{self.name}.{said.kind}"
        about = replace(said.about, name=name)
        self.whole.devices.append(
            Device(about, said.kind, self.cursor, f"{name}.load", said.rating_a,
                   said.interrupts_a, said.family, rating_span=said.rating_span)
        )  # fmt: skip
        self.cursor = f"{name}.load"

    def _load(self, said: LoadSaid) -> None:
        name = f"{self.name}:{len(self.users) + 1}"
        plus = self.cursor
        if said.lead_size is not None:
            facts = WireFacts(said.about.span, said.lead_size, length_m=said.lead_m)
            plus = f"{name}+"
            lead = conductor(f"{name}/lead", (self.cursor, plus), facts, self.name)
            self.runs.append(replace(lead, lead=True))
        always = said.always_on or self.said.always_on
        load = load_of(said, (plus, f"{self.cursor}-"), name, self.name)
        self.users.append(replace(load, always_on=always))

    def _returns(self, panel: Panel | None) -> None:
        if not self.users:
            return
        said = self.said.returns
        own = [one for one in said if one.facts is not None]
        to = next((one.to for one in said if one.to is not None), None)
        target = self._target(panel, to)
        if any(one.unknown for one in said):
            self.whole.names.problems.append(Problem("return-unknown", said[0].span, self.name))
            self._nowhere()
        elif target is None:
            if to is None:
                self.whole.names.problems.append(
                    Problem("return-not-plain", self.said.span, self.name)
                )
            self._nowhere()
        elif own:
            self._own_returns(own, target)
        elif target in self.whole.frames:
            self._frame(target)
        else:
            self._mirror(target, stated=bool(said))

    def _target(self, panel: Panel | None, to: Place | None) -> str | None:
        if to is not None:
            found = self.whole.names.resolve(to, self.said.span)
            return found if isinstance(found, str) else None
        if panel is not None and panel.negative is not None:
            return panel.negative
        return self.whole.negative

    def _nowhere(self) -> None:
        self.users = [replace(load, minus=f"{load.about.name}-") for load in self.users]

    def _frame(self, target: str) -> None:
        self.users = [replace(load, minus=target) for load in self.users]
        self.whole.assumptions.append(
            Assumption(
                f"{self.name}: its loads are joined to {target} where they stand; that joint and "
                "the frame are taken to have no resistance",
                self.said.span,
            )
        )

    def _own_returns(self, own: list[ReturnSaid], target: str) -> None:
        here = f"{self.name}-"
        self.users = [replace(load, minus=here) for load in self.users]
        for number, one in enumerate(own, 1):
            assert one.facts is not None  # noqa: S101
            there = target if number == len(own) else f"{self.name}-{number}-"
            name = one.facts.tag or f"{self.name}/{number}R"
            self.backs.append(conductor(name, (here, there), one.facts, self.name))
            here = there

    def _mirror(self, target: str, *, stated: bool) -> None:
        runs = [wire for wire in self.runs if not wire.lead]
        starts = {wire.a for wire in runs[:1]}
        devices = {d.load: d.line for d in self.whole.devices}
        for wire in runs:
            inside = any(load.minus == f"{wire.b}-" for load in self.users)
            onward = any(other.a == wire.b for other in runs)
            switched = any(line == wire.b for line in devices.values())
            if not (inside or onward or switched):
                continue
            begin = wire.a
            while begin in devices and begin not in starts:
                begin = devices[begin]
            back = replace(
                wire, name=f"{wire.name}R", a=f"{wire.b}-",
                b=target if wire.a in starts else f"{begin}-", colour=None, assumed=True,
            )  # fmt: skip
            self.backs.append(back)
        self._behind_switches(devices)
        if not runs:
            self.users = [replace(load, minus=target) for load in self.users]
        what = "is taken to return" if not stated else "returns"
        self.whole.assumptions.append(
            Assumption(
                f"{self.name} {what} to {target} with the same wire beside each wire out",
                self.said.span,
            )
        )

    def _behind_switches(self, devices: Mapping[str, str]) -> None:
        """A switch is in the plus wire only: a load behind it returns from before it."""
        ends = {wire.b for wire in self.runs}
        moved = []
        for load in self.users:
            begin = load.minus[:-1]
            while begin in devices and begin not in ends:
                begin = devices[begin]
            moved.append(replace(load, minus=f"{begin}-"))
        self.users = moved
