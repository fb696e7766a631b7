"""Circuits expanded into the graph: slot fuse, wires out, loads, wires back."""

from collections.abc import Iterable, Mapping

from rigfolio.findings import UNKNOWN, Span
from rigfolio.model.asides import About, Assumption, Circuit, Panel, Problem
from rigfolio.model.draft import CircuitSaid, LoadSaid, RunSaid, SeriesSaid, WireFacts
from rigfolio.model.graph import Conductor, Device, Junction, Load
from rigfolio.model.names import Bare, Names, ends_of
from rigfolio.model.part_names import circuit_name, in_circuit, on_wire
from rigfolio.model.parts import conductor, inline_fuse, load_of
from rigfolio.model.returns import Back, Surroundings, WayOut, returned
from rigfolio.model.wire_names import JOIN, WireNames, stems, stub_name
from rigfolio.model.wires import in_position, ways_of
from rigfolio.record import replace


class Expansion:
    """What all circuits of a rig add to its graph.

    `same` are line ends of devices that turned out to be another terminal; `frame_minus` the minus
    of loads that were said elsewhere and are joined to the frame; `unnamed` the loads that have a
    label only.
    """

    def __init__(
        self,
        names: Names,
        called: WireNames,
        panels: Mapping[str, Panel],
        around: Surroundings,
    ) -> None:
        self.names = names
        self.called = called
        self.panels = panels
        self.around = around
        self.devices: list[Device] = []
        self.junctions: list[Junction] = []
        self.conductors: list[Conductor] = []
        self.loads: list[Load] = []
        self.circuits: list[Circuit] = []
        self.assumptions: list[Assumption] = []
        self.slots_used: dict[tuple[str, int], Span] = {}
        self.same: dict[str, str] = {}
        self.joined: dict[str, str] = {}
        self.unnamed: list[str] = []

    def expand(self, all_said: Iterable[CircuitSaid]) -> None:
        """Add every circuit, in the order of the text."""
        for number, (said, stem) in enumerate(stems(all_said)):
            _One(self, said, stem, number).run()


class _One:
    """One circuit on its way into the graph.

    `stem` begins the names of its terminals, `number` is its turn in the text, `place` is what it
    is called itself.
    """

    def __init__(self, whole: Expansion, said: CircuitSaid, stem: str, number: int) -> None:
        self.whole = whole
        self.said = said
        self.stem = stem
        self.number = number
        self.place = self.cursor = self.device = ""
        self.wires = 0
        self.runs: list[Conductor] = []
        self.leads: list[Conductor] = []
        self.devices: list[Device] = []
        self.users: list[Load] = []
        self.unnamed: list[str] = []
        self.turned = ""
        """A switch before here that makes one of several ways: what goes on says from which."""

    def run(self) -> None:
        said = self.said
        panel = self.whole.panels.get(said.place.name) if said.place.tail else None
        self.place = circuit_name(self.stem, in_slot=panel is not None)
        start = self._slot(panel) if panel is not None else self._terminal()
        self.cursor = start or f"{self.stem}~0"
        begin = self.runs[0].a if self.runs else self.cursor
        for place, member in enumerate(said.members):
            after = said.members[place + 1] if place + 1 < len(said.members) else None
            self._member(place, member, after)
        way = WayOut(
            self.stem, self.place, said.span, begin, panel, tuple(self.runs), tuple(self.devices),
            tuple(self.users), self.whole.called.back(self.number, said.returns),
        )  # fmt: skip
        self._add(returned(way, self.whole.around, self.whole.names), panel, start)

    def _add(self, back: Back, panel: Panel | None, start: str) -> None:
        said, whole = self.said, self.whole
        whole.devices += self.devices
        whole.conductors += [*self.runs, *self.leads, *back.wires]
        whole.loads += back.loads
        whole.assumptions += back.assumptions
        whole.joined |= back.joined
        slot = int(start.rsplit(".", 1)[1]) if panel is not None and start else 0
        whole.circuits.append(
            Circuit(
                place=self.place, label=said.label, span=said.span, start=start,
                device=self.device, wires=tuple(wire.name for wire in self.runs),
                returns=tuple(wire.name for wire in back.wires),
                loads=(*(load.about.name for load in back.loads), *back.visited),
                panel=panel.about.name if panel is not None and slot else "", slot=slot,
                always_on=said.always_on,
                return_assumed=any(wire.assumed for wire in back.wires),
                note=said.note, condition=said.condition, found_a=said.found_a,
                marked_a=said.marked_a, stays=said.stays,
                beside=str(said.beside) if said.beside is not None else "",
            )
        )  # fmt: skip

    def _slot(self, panel: Panel) -> str:
        terminal = self.whole.names.resolve(self.said.place, self.said.span)
        if not isinstance(terminal, str):
            return ""
        key = (panel.about.name, int(terminal.rsplit(".", 1)[1]))
        if key in self.whole.slots_used:
            other = self.whole.slots_used[key]
            self.whole.names.problems.append(Problem("slot-twice", self.said.span, terminal, other))
            return terminal
        self.whole.slots_used[key] = self.said.span
        fuse = self.said.fuse
        self.device = terminal
        about = About(terminal, self.said.label, self.said.span)
        if fuse is None:
            made = Device(
                about, panel.holds, panel.bus, terminal, UNKNOWN, panel.interrupts_a, in_slot=True
            )
        else:
            made = inline_fuse(terminal, (panel.bus, terminal), fuse, "")
            about = replace(about, rated_v=fuse.rated_v)
            breaks_a = made.interrupts_a
            if breaks_a is None:
                breaks_a = panel.interrupts_a
            made = replace(made, about=about, in_slot=True, interrupts_a=breaks_a)
            if fuse.after_m:
                text = f"{self.stem}: its fuse is taken to sit in the slot, not along the wire"
                self.whole.assumptions.append(Assumption(text, fuse.span))
        self.devices.append(made)
        return terminal

    def _terminal(self) -> str:
        found = self.whole.names.resolve(self.said.place, self.said.span, onward=True)
        if found is None:
            return ""
        start = found if isinstance(found, str) else f"{found.key}.load"
        fuse = self.said.fuse
        if fuse is None:
            return start
        runs = [(at, m) for at, m in enumerate(self.said.members) if isinstance(m, RunSaid)]
        facts = runs[0][1].facts if runs else WireFacts(span=self.said.span)
        wire = self._called(runs[0][0]) if runs else f"{self.stem}{JOIN}1"
        if fuse.after_m:
            inlet = f"{self.stem}.in"
            stub = replace(facts, length_m=fuse.after_m, tag="")
            self.runs.append(conductor(stub_name(wire), (start, inlet), stub, self.place))
            start = inlet
        self.device = on_wire(wire, fuse.kind)
        self.devices.append(inline_fuse(self.device, (start, f"{self.stem}.out"), fuse, wire))
        return f"{self.stem}.out"

    def _called(self, at: int) -> str:
        """What a wire of the circuit is called, by its place among the members."""
        return self.whole.called.runs[self.number, at]

    def _member(
        self,
        at: int,
        member: RunSaid | LoadSaid | SeriesSaid | Junction,
        after: RunSaid | LoadSaid | SeriesSaid | Junction | None,
    ) -> None:
        _say_from(self, member)
        if isinstance(member, RunSaid):
            self._wire(at, member, after)
        elif isinstance(member, SeriesSaid) and member.traits.excludes:
            _positions(self, member)
        elif isinstance(member, LoadSaid):
            self._load(member)
        elif isinstance(member, SeriesSaid):
            self._series(member)
        else:
            self._joint(member)

    def _wire(self, at: int, member: RunSaid, after: object) -> None:
        self.wires += 1
        start = self._landing(member, onward=True) or self.cursor
        end = self._landing(member, onward=False)
        if not end and isinstance(after, Junction):
            end = after.terminal
        elif not end and isinstance(after, SeriesSaid) and after.about.name:
            end = f"{after.about.name}.{after.traits.common or 'line'}"
        end = end or f"{self.stem}~{self.wires}"
        self.runs.append(conductor(self._called(at), (start, end), member.facts, self.place))
        self.cursor = end

    def _landing(self, member: RunSaid, *, onward: bool) -> str:
        """Where a wire starts (`onward`) or ends by its own words; empty where it says nothing."""
        place = member.start if onward else member.end
        if place is None:
            return ""
        names = self.whole.names
        is_load = str(place) in self.whole.around.loads
        if is_load and not onward:
            return f"{place}+"
        found = names.resolve(place, member.facts.span, onward=onward)
        if isinstance(found, Bare):
            return names.meant(names.ends(found)[1 if onward else 0])
        return found or ""

    def _joint(self, joint: Junction) -> None:
        self.whole.junctions.append(joint)
        if self.cursor != joint.terminal:
            # A splice that no wire leads to: the circuit starts at it.
            self.whole.names.problems.append(
                Problem("splice-without-wire", joint.about.span, joint.about.name)
            )
            self.cursor = joint.terminal

    def _series(self, said: SeriesSaid) -> None:
        name = key = said.about.name
        if not name:
            before = self.unnamed.count(said.kind)
            self.unnamed.append(said.kind)
            name = in_circuit(self.place, said.kind, before)
            key = f"{self.stem}.{said.kind}" + (f"{before + 1}" if before else "")
        about = replace(said.about, name=name)
        if self.cursor != f"{key}.line":
            self.whole.same[f"{key}.line"] = self.cursor
        self.devices.append(
            Device(about, said.kind, self.cursor, f"{key}.load", said.rating_a,
                   said.interrupts_a, said.family, rating_span=said.rating_span,
                   resets_itself=said.resets_itself, rests=said.rests, found_a=said.found_a)
        )  # fmt: skip
        self.cursor = f"{key}.load"

    def _load(self, said: LoadSaid) -> None:
        name = f"{self.stem}:{len(self.users) + 1}"
        if not said.about.name:
            self.whole.unnamed.append(name)
        plus = self.cursor
        if said.lead_size is not None:
            facts = WireFacts(said.about.span, said.lead_size, length_m=said.lead_m)
            plus = f"{name}+"
            lead = conductor(f"{name}/lead", (self.cursor, plus), facts, self.place)
            self.leads.append(replace(lead, lead=True))
        always = said.always_on or self.said.always_on
        # The minus is a mark of the wire that the load hangs on, until the returns are known.
        load = load_of(said, (plus, self.cursor), name, self.place)
        self.users.append(replace(load, always_on=always))


def _say_from(one: _One, member: RunSaid | LoadSaid | SeriesSaid | Junction) -> None:
    """Note a part behind one of several ways that does not say behind which."""
    if one.turned and not (isinstance(member, RunSaid) and member.start is not None):
        span = member.facts.span if isinstance(member, RunSaid) else member.about.span
        at = one.whole.names.series[one.turned].about.span
        way = ends_of(one.whole.names.series[one.turned])[0]
        problem = Problem("which-position", span, one.turned, at, near=way)
        one.whole.names.problems.append(problem)
    one.turned = ""


def _positions(one: _One, said: SeriesSaid) -> None:
    """A switch that makes one of several ways: what leads to it lands on its common end.

    Unless a wire says that it leads to one of the others: then it goes on from the common end.
    """
    name, whole = said.about.name, one.whole
    if whole.names.series.get(name) is not said:
        return
    common = f"{name}.{said.traits.common}"
    enters = common
    if one.cursor in ends_of(said):
        enters = one.cursor
    elif one.cursor != common:
        whole.same[common] = enters = one.cursor
    for number, (line, _) in enumerate(ways_of(said), start=1):
        shared = enters if common in whole.same else common
        way = Device(said.about, said.kind, line, shared, said.rating_a,
                     rating_span=said.rating_span)  # fmt: skip
        one.devices.append(in_position(way, said, number))
    one.turned = name if enters == common or common in whole.same else ""
    one.cursor = common
