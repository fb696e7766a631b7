"""The rig as a graph: terminals are nodes; conductors, devices, sources and loads are edges.

Terminals are named by text, as a person would name them at the panel: `B1+`, `F1.line`, `P1.3`.
Every object knows its place in the text and the word for its kind, of which `rigfolio.kinds`
tells the rest as its `traits`. A value that decides a check and is not known is `UNKNOWN`; one that
need not be given is None where it is not.
"""

from collections.abc import Hashable, Mapping
from typing import Literal

from rigfolio.findings import Span, Unknown
from rigfolio.kinds import (
    DEVICES,
    DUTIES,
    JUNCTIONS,
    SOURCES,
    DeviceKind,
    Duty,
    DutyKind,
    JunctionKind,
    SourceKind,
)
from rigfolio.model.asides import (
    About,
    AcBreaker,
    Acceptance,
    Assumption,
    Circuit,
    EndNames,
    Gap,
    Modules,
    Nameless,
    Panel,
    Photo,
    Problem,
    Remark,
    Slot,
    State,
)
from rigfolio.record import derived, record
from rigfolio.units import Size
from rigfolio.values import Colour

LoadKind = Literal["current", "power", "resistance"]


@record
class Source:
    """Something that can drive current; `limit_a` is None where nothing limits it but itself.

    Of a battery `cranking_a` is its cold cranking current, for 30 s at -18 °C, `hours_a` what it
    may give for hours, `cut_off_a` above what its own electronics switch it off [A], and
    `charge_least_c` below what they let nothing charge it [°C]. Of a converter `efficiency` is what
    it gives over what it draws [-], `input_v` what feeds it [V]; one that is `isolated` has two
    minuses. `unit` has several outputs.
    """

    about: About
    kind: str
    plus: str
    minus: str
    voltage_v: float
    limit_a: float | Unknown | None = None
    capacity_c: float | Unknown | None = None
    internal_ohm: float | Unknown | None = None
    short_a: float | Unknown | None = None
    chemistry: str = ""
    efficiency: float | None = None
    input_v: float | None = None
    isolated: bool = False
    cranking_a: float | None = None
    hours_a: float | None = None
    cut_off_a: float | None = None
    charge_least_c: float | None = None
    unit: str = ""
    modules: Modules | None = None
    lit: tuple[str, str] | None = None
    """Plus and minus of the input of a solar controller that modules are wired to."""
    input_most_v: float | Unknown | None = None
    """The most volts that that input bears [V]."""

    @property
    def traits(self) -> SourceKind:
        """What its kind is and does."""
        return SOURCES[self.kind]

    @property
    def part(self) -> str:
        """The name of the part in the hand: several outputs of one part are one."""
        return self.unit or self.about.name

    @property
    def stores(self) -> bool:
        """Whether it drives of itself, and is charged: a battery."""
        return SOURCES[self.kind].stores

    @property
    def inlet(self) -> str:
        """The terminal, and the load, by which it is fed; empty where it is not."""
        return f"{self.about.name}.in" if SOURCES[self.kind].has_input else ""

    @property
    def inlet_minus(self) -> str:
        """Where what it is fed with comes back: its own minus, if it has no other for that."""
        return f"{self.inlet}-" if self.isolated else self.minus

    @property
    def fed_by(self) -> tuple[str, str] | None:
        """Plus and minus of what feeds it beside its output; None where nothing does."""
        return (self.inlet, self.inlet_minus) if self.inlet else self.lit

    @property
    def terminals(self) -> tuple[str, ...]:
        """All of its terminals, those that feed it first."""
        inlet = (self.inlet,) if self.inlet else self.lit or ()
        return (*inlet, *((self.inlet_minus,) if self.isolated else ()), self.plus, self.minus)

    @property
    def has_input(self) -> bool:
        """Whether something is fed in by terminals of its own: what a converter or a box has."""
        return bool(self.inlet or self.lit)


@record
class Device:
    """A series device between two terminals; current may flow either way.

    `rests` is how it stands while nothing works it, `pole` its number among the ways that one
    handle opens. What `resets_itself` closes again once cool; `found_a` was found there [A].
    Of a way that excludes others `position` is where the handle stands while it is made, `called`
    what is written there; `turns_off` is whether the handle has a position in which none is made.
    """

    about: About
    kind: str
    line: str
    load: str
    rating_a: float | Unknown | None
    interrupts_a: float | Unknown | None = None
    family: str = ""
    in_slot: bool = False
    on_wire: str = ""
    resets_itself: bool = False
    rating_span: Span | None = None
    pole: str = ""
    rests: str = ""
    found_a: float | Unknown | None = None
    position: str = ""
    called: str = ""
    turns_off: bool = False

    @property
    def rests_open(self) -> bool:
        """Whether it waits to be closed: one of several ways where the text does not say which."""
        return self.rests == "open" or (bool(self.position) and not self.rests)

    @property
    def traits(self) -> DeviceKind:
        """What its kind is and does."""
        return DEVICES[self.kind]

    @property
    def fitted_family(self) -> str:
        """The family of its body: as stated, blade fuses in slots; empty where that is open."""
        return self.family or (self.traits.slot_family if self.in_slot else "")

    @property
    def protects(self) -> bool:
        """Whether it opens by itself on too much current."""
        return DEVICES[self.kind].protects


@record
class Junction:
    """A bar, a frame or a splice: one terminal where wires meet."""

    about: About
    kind: str
    rating_a: float | Unknown | None = None
    ohm: float | None = None
    """Of a frame, from where it is bonded to where a circuit comes back; None if not stated [Ω]."""
    ways: int = 0
    """How many wires it has screws or studs for; 0 where that is not said."""

    @property
    def traits(self) -> JunctionKind:
        """What its kind is and does."""
        return JUNCTIONS[self.kind]

    @property
    def terminal(self) -> str:
        """The one terminal."""
        return self.about.name


@record
class Conductor:
    """One wire from terminal `a` to terminal `b`; `length_m` is one way, along the wire.

    `count` is the number of equal conductors side by side. `assumed` marks a return that the text
    does not state, `lead` the short leads of a fixture. `found` is the size that was found there,
    `insulation` the type printed on it, `GXL`, and `ends` what is crimped to each: `ring M8`.
    """

    name: str
    a: str
    b: str
    size: Size | Unknown
    colour: Colour | Unknown | None
    length_m: float | Unknown
    span: Span
    size_span: Span
    circuit: str = ""
    insulation_c: float | None = None
    ambient_c: float | None = None
    bundle: int = 1
    engine_space: bool = False
    sheathed: bool = False
    count: int = 1
    cranking: bool = False
    assumed: bool = False
    lead: bool = False
    note: str = ""
    condition: str = ""
    insulation: str = ""
    ends: tuple[str, str] = ("", "")
    found: Size | Unknown | None = None
    tail_m: float | None = None
    breakout_m: float | None = None
    """Where it leaves the loom, along the panel from the middle of slot 1; `tail_m` hangs out."""
    frame_ohm: float = 0.0
    """What the metal of a frame adds to it that it bonds, as stated of the frame [Ω]."""
    length_unit: str = ""
    """The unit that its length is written in, `m` or `in`; empty where none is."""

    @property
    def size_is_awg(self) -> bool:
        """Whether its size is a gauge number."""
        return isinstance(self.size, Size) and self.size.awg is not None

    @property
    def is_in_feet(self) -> bool:
        """Whether its length is told in feet and inches: as it is written, else as its size is."""
        return self.length_unit in ("ft", "in") if self.length_unit else self.size_is_awg


@record
class Load:
    """A consumer between `plus` and `minus`. Of current, power and resistance one is given.

    `duty` is how it runs; `day_share` the part of a day that it runs [-]; `starts_at` the start
    current as a multiple of the running current [-].
    """

    about: About
    plus: str
    minus: str
    kind: LoadKind
    value: float | Unknown
    duty: Duty
    circuit: str = ""
    always_on: bool = False
    critical: bool = False
    drop_share: float | None = None
    day_share: float | None = None
    starts_at: float | None = None
    start_s: float | None = None
    """How long a start lasts, where that is said [s]."""
    nature: str = ""
    stated_w: float | None = None
    """The watts of the AC side, where it is an inverter [W]."""
    runs_on: bool = False
    """Whether the text says `continuous`: silence is taken for it, and is not it."""
    rest_a: float | Unknown | None = None
    """What it takes while it does not run [A]."""
    made_for_v: float | None = None
    """The volts that it is made for, where they are said [V]."""

    @property
    def traits(self) -> DutyKind:
        """What its duty says of it."""
        return DUTIES[self.duty]

    @property
    def times_at_start(self) -> float:
        """How many times what it draws in running it draws at its start; 1 if none is said [-]."""
        return self.starts_at or 1.0

    def current_a(self, volts: float) -> float | Unknown:
        """What it draws at a voltage [A]; watts and ohms are turned into amperes there."""
        if isinstance(self.value, Unknown):
            return self.value
        if self.kind == "power":
            return self.value / volts
        return volts / self.value if self.kind == "resistance" else self.value


@record
class Index:
    """The parts of a rig by name, its circuits by place; of several of one name the first."""

    conductors: Mapping[str, Conductor]
    circuits: Mapping[str, Circuit]
    panels: Mapping[str, Panel]
    devices: Mapping[str, Device]
    sources: Mapping[str, Source]
    loads: Mapping[str, Load]
    junctions: Mapping[str, Junction]


@record
class Rig:
    """The whole rig. `where` tells what each terminal is called, `coldest_c` how cold it gets.

    `nameless` wires have no name in the text; no W number above `used_to` was ever given.
    """

    name: str
    span: Span
    system_v: float
    book: str
    ambient_c: float | None
    insulation_c: float | None
    revised: str
    revision: str
    paper: str
    note: str
    sources: tuple[Source, ...]
    devices: tuple[Device, ...]
    junctions: tuple[Junction, ...]
    panels: tuple[Panel, ...]
    conductors: tuple[Conductor, ...]
    loads: tuple[Load, ...]
    circuits: tuple[Circuit, ...]
    slots: tuple[Slot, ...]
    states: tuple[State, ...]
    ac: tuple[AcBreaker, ...]
    assumptions: tuple[Assumption, ...]
    problems: tuple[Problem, ...]
    where: Mapping[str, EndNames]
    digest: str = ""
    gaps: tuple[Gap, ...] = ()
    coldest_c: float | None = None
    sun_share: float | None = None  # hours of full sun as a share of the day [-]
    remarks: tuple[Remark, ...] = ()
    photos: tuple[Photo, ...] = ()
    accepted: tuple[Acceptance, ...] = ()
    nameless: tuple[Nameless, ...] = ()
    used_to: int = 0
    used_at: Span | None = None

    @derived
    def answers(self) -> dict[Hashable, object]:
        """What `record.once` keeps with it."""
        return {}

    def conductor(self, name: str) -> Conductor:
        """The conductor of a name; KeyError where there is none."""
        return self.by_name.conductors[name]

    @derived
    def by_name(self) -> Index:
        """What bears a name, to be found without a search."""
        return Index(
            {wire.name: wire for wire in reversed(self.conductors)},
            {circuit.place: circuit for circuit in reversed(self.circuits)},
            {panel.about.name: panel for panel in reversed(self.panels)},
            {device.about.name: device for device in reversed(self.devices)},
            {source.about.name: source for source in reversed(self.sources)},
            {load.about.name: load for load in reversed(self.loads)},
            {junction.about.name: junction for junction in reversed(self.junctions)},
        )

    @derived
    def begun(self) -> Mapping[str, tuple[Circuit, ...]]:
        """The circuits that begin with a device, in the order of the text, by its name."""
        found: dict[str, tuple[Circuit, ...]] = {}
        for circuit in self.circuits:
            if circuit.device:
                found[circuit.device] = (*found.get(circuit.device, ()), circuit)
        return found

    @derived
    def seated(self) -> Mapping[str, tuple[Device, ...]]:
        """The devices that the text puts on each wire, by its name; wires without any left out."""
        found: dict[str, tuple[Device, ...]] = {}
        for device in self.devices:
            if device.on_wire:
                found[device.on_wire] = (*found.get(device.on_wire, ()), device)
        return found

    @derived
    def poles(self) -> Mapping[str, tuple[Device, ...]]:
        """All that is one device in the hand, by its name: poles, pins, the banks of a selector."""
        found: dict[str, tuple[Device, ...]] = {}
        for device in self.devices:
            found[device.about.name] = (*found.get(device.about.name, ()), device)
        return found
