"""What a meter shows at every test point while a panel is brought back live, stage by stage.

The stages go from harmless to full: ohms with all fuses out, the feed alone, each fuse from the
smallest, each load by itself, all that can run together, and what must stay on. Every figure comes
from the network of the rig; its tolerance from the state of the battery, what loads may draw beside
what is stated, and the meter.
"""

from collections.abc import Container, Iterable, Iterator
from math import inf

from rigfolio.books import figure
from rigfolio.findings import Unknown
from rigfolio.isolation import (
    Open,
    bank_joins,
    kept_names,
    lamp_words,
    side_by_side_words,
    unplugged,
)
from rigfolio.kinds import DEVICES
from rigfolio.model import Circuit, Device, Load, Panel, Rig, Source
from rigfolio.network import (
    closed_for_panels,
    edge_name,
    ends,
    parallel_switches,
    stand_asked,
)
from rigfolio.operating.readings.bounds import Bounds, LiveBounds
from rigfolio.operating.readings.in_use import InUse, slotted
from rigfolio.operating.readings.load_readings import (
    LoadReadings,
    on_words,
    running_together,
    taken,
    together_words,
)
from rigfolio.operating.readings.panel_feed import PanelFeed, made_feeds, supply_ends
from rigfolio.operating.readings.probes import Probes
from rigfolio.operating.readings.test_points import (
    FEED_ALONE,
    MeterPoint,
    Stage,
    StageStep,
    is_small,
)
from rigfolio.operating.wrong import drawn_at
from rigfolio.study import Study, as_it_is, once
from rigfolio.wording import capital, circuits_in_order, goes_words, load_words, turned_words

DEAD_AS_WIRED = "DEAD as wired"
"""What is told of something that must stay on and has no volts though nothing is broken."""

_ALONE = (
    "Only this load is on. The drop over the holder is read with both probes on the metal, on the "
    "finest range; more than a twentieth of a volt is a bad joint: redo it."
)


@once
def stages(study: Study, barred: frozenset[str] = frozenset()) -> tuple[Stage, ...]:
    """All stages of a rig with all readings; of each, the steps of one panel stand together.

    `barred` are the devices that stay out or off until something is mended: nothing is read of what
    lies behind them but ohms.
    """
    return stages_of(study, barred).all()


def stages_of(study: Study, barred: frozenset[str] = frozenset()) -> "Stages":
    """The stages of a rig, to be asked one by one; what several need is worked out once.

    A meter reads what is there: a wire that was found counts until another one is pulled.
    """
    return _stages(as_it_is(study), barred)


@once
def _stages(study: Study, barred: frozenset[str]) -> "Stages":
    return Stages(study, barred)


class Stages:
    """The stages of a rig, each with all its readings."""

    def __init__(self, study: Study, barred: frozenset[str]) -> None:
        self.study, self.rig, self.panels = study, study.rig, study.rig.panels
        self.circuits, self.loads = circuits_in_order(self.rig), self.rig.by_name.loads
        self.live, self.probes = LiveBounds(study, barred), Probes(study)
        self.use = InUse(study, self.live, barred)
        self.singly = LoadReadings(study, self.live, self.probes)

    def all(self) -> tuple[Stage, ...]:
        """The stages that have anything to be read."""
        made = (self.ohms(), self.feed(), self.fuses(), self.each_load(), self.together(),
                self.kept())  # fmt: skip
        return tuple(stage for stage in made if stage.steps)

    def ohms(self) -> Stage:
        """The dead rig: no circuit is a short, and every minus leads back."""
        steps = [
            StageStep(
                _place(one), tuple(_ohm(self.study, self.probes, one)), _of(one), circuit=one.place
            )
            for one in self.circuits
        ]
        returns = tuple(_way_back_ohms(self))
        if returns:
            steps.insert(0, StageStep("the way back", returns))
        return Stage(
            "Ohms, all fuses out",
            "Every source off, every fuse out, every breaker off; prove that the panel is dead "
            "first. The switches of the loads are on. A reading near nothing is a short: find it "
            "before any fuse goes in. More than is listed is no fault where the load has "
            "electronics in it.",
            tuple(step for step in steps if step.points),
        )

    def at_rest(self, source: Source) -> MeterPoint:
        """Volts at the posts of a source with all off."""
        bounds = self.live.bounds(frozenset(), source.plus)
        return self.probes.volts(bounds, source.plus, source.minus)

    def feed(self) -> Stage:
        """Volts along the feed of each panel, nothing on."""
        steps = []
        for one in self.live.feeds:
            bounds = self.live.bounds_in(frozenset(), (one.opened,))
            points = taken(self.rig, self._along(one.panel, one.feeds, bounds), (), one.set_to)
            if points:
                fits = self.use.closed_for(one.feeds)
                do, of = _shut(self.study, one.panel, fits, one.words), one.panel.about.name
                points = points if one in self.use.feeds else ()
                steps.append(StageStep(do, points, of, "any load", fits=fits))
        steps += _supplies(self, {point.a for step in steps for point in step.points})
        return Stage(
            FEED_ALONE,
            "All fuses of the panel stay out and its breakers off. Close the battery first "
            f"{lamp_words()}. The lamp stays dark (capacitors of an inverter, charger or converter "
            "make it flash once), then it is closed for good. What charges stays off until the "
            "last reading, and shows the battery at its own terminals."
            f"{_switch_words(self.rig)}{self.use.dead_words()}{_side_by_side(self.study)}",
            tuple(steps),
        )

    def _along(
        self, panel: Panel, feeds: Iterable[PanelFeed], bounds: Bounds
    ) -> Iterator[MeterPoint]:
        """Volts at each terminal from the battery, or the slot that brings the feed, to a panel."""
        passed = list(dict.fromkeys(end for feed in feeds for end in feed.terminals()))
        slots = [d.load for feed in feeds for edge in feed.way if (d := slotted(edge))]
        for end in passed[max(map(passed.index, slots), default=0) :]:
            minus = panel.negative or self.probes.source_minus(end)
            if minus:
                yield self.probes.volts(bounds, end, minus)

    def fuses(self) -> Stage:
        """Volts at each slot as its fuse goes in."""
        return Stage(
            "One fuse at a time",
            "From the smallest of each panel. The loads are switched off again: none may start "
            "but what has no switch or must stay on. No other slot may come alive: where one does, "
            "two circuits are joined.",
            tuple(self.fuse_steps()),
        )

    def fuse_steps(self) -> Iterator[StageStep]:
        """The steps of that stage, each worked out as it is asked for."""
        kept = kept_names(self.rig)
        for circuit in sorted(self.use.guarded, key=lambda circuit: _rating(self.study, circuit)):
            minus = self.probes.minus(circuit)
            device = self.study.device(circuit.device)
            if device is None or not minus:
                continue
            waits = [] if circuit.always_on else [n for n in circuit.loads if n not in kept]
            labels = (str(self.loads[name].about) for name in waits)
            bounds = self.live.bounds(frozenset(), circuit.start)
            yield StageStep(
                f"{_place(circuit)}, {goes_words(device)}",
                taken(self.rig, [self.probes.volts(bounds, circuit.start, minus)], ()),
                _of(circuit),
                "; ".join(dict.fromkeys(labels)),
                circuit.place,
                (device,),
            )

    def each_load(self) -> Stage:
        """Every load by itself, also what runs a moment and what hangs on no circuit."""
        return Stage(
            "Each load by itself",
            f"{_ALONE}{unfed_words(self)}",
            tuple(step for step in self.load_steps() if step.points),
        )

    def load_steps(self) -> Iterator[StageStep]:
        """The steps of that stage, each worked out as it is asked for."""
        for circuit in self.use.guarded:
            for name in circuit.loads:
                load = self.loads[name]
                if not isinstance(load.value, Unknown):
                    for stand, points in self.singly.in_each(load):
                        do = f"{circuit.place} on: {on_words(self.study, load, stand)}"
                        yield StageStep(do, points, _of(circuit), "", circuit.place)
        for load in filter(self.use.is_run, self.singly.alone):
            for stand, points in self.singly.in_each(load):
                yield StageStep(on_words(self.study, load, stand), points, load.about.name)

    def together(self) -> Stage:
        """The feeds with all on that can run together."""
        on, largest = running_together(self.singly, self.use.run)
        held: dict[str, list[MeterPoint]] = {}
        for one in self.use.feeds:
            bounds = (
                self.live.bounds_in(on, (one.opened,))
                if one.words
                else self.live.bounds(on, one.panel.bus)
            )
            # What turns on no selector is read in the first of its positions.
            place = one.words or next(iter(held), "")
            loaded = self._under_load(one.panel, made_feeds(self.rig, one.feeds, on), bounds)
            held.setdefault(place, []).extend(taken(self.rig, loaded, on, one.set_to))
        names = f"on: {'; '.join(_named(self.rig, self.circuits, on))}"
        steps = []
        for number, (words, points) in enumerate(held.items()):
            do = "; ".join(x for x in (words, names if number == 0 else "all else as before") if x)
            steps.append(StageStep(do, tuple(dict.fromkeys(points))))
        alone = filter(self.use.is_run, self.singly.alone)
        return Stage(
            "All that can run together",
            together_words(self.rig, on, largest, alone),
            tuple(step for step in steps if on and step.points),
        )

    def _under_load(
        self, panel: Panel, feeds: Iterable[PanelFeed], bounds: Bounds
    ) -> Iterator[MeterPoint]:
        """The bus of a panel, every part of its feed and the way back to where that begins."""
        minus = panel.negative or self.probes.source_minus(panel.bus)
        if minus:
            yield self.probes.volts(bounds, panel.bus, minus)
        for feed in feeds:
            for edge in feed.way:
                if isinstance(edge, Device):
                    yield self.probes.joint(edge)
                    if edge.protects:
                        yield self.probes.amps(bounds, edge)
                elif ends(edge)[0] != ends(edge)[1]:
                    yield self.probes.drop(bounds, *ends(edge))
        for back in dict.fromkeys(feed.minus for feed in feeds):
            if minus and back != minus:
                yield self.probes.drop(bounds, minus, back, "return, ")

    def kept(self) -> Stage:
        """What must stay on, every switch open that parts the rig."""
        switches = [d for d in self.rig.devices if d.traits.parts_rig]
        apart = bank_joins(self.rig) | unplugged(self.rig)
        opened = Open(frozenset(map(edge_name, switches)) | apart)
        kept, dead, points = self.use.kept(), list[Load](), tuple[MeterPoint, ...]()
        if kept and switches:
            names = self.singly.running([one.about.name for one in kept], opened, kept_off=False)
            bounds = self.live.bounds_in(names, (opened,))
            set_to = {d.about.name: "off" if d.traits.selects else "open" for d in switches}
            found = [(load, self.probes.across(bounds, load)) for load in kept]
            dead = [load for load, point in found if is_small(point)]
            across = [one for load, one in found
                      if load not in dead and isinstance(load.value, float)]  # fmt: skip
            points = taken(self.rig, across, names, tuple(set_to.items()))
        listed = ", ".join(dict.fromkeys(device.about.name for device in switches))
        # No reading is asked of what is dead as it is wired: one that fits would call it right.
        steps = [*self.use.kept_dead_steps()]
        steps += [StageStep(f"{load_words(self.rig, load)}: {DEAD_AS_WIRED} with {listed} open or "
                            "off: mend the wiring first", ()) for load in dead]  # fmt: skip
        if points:
            steps.append(StageStep(f"open or off: {listed}", points))
        return Stage(
            "What must stay on",
            "Then try it: press the test knob of a detector, lift the float of a bilge pump, pull "
            "the pin of a breakaway switch and put it back.",
            tuple(steps),
        )


def _side_by_side(study: Study) -> str:
    """What is minded before batteries are joined that stand side by side."""
    words = side_by_side_words(study)
    return f" {capital(words)}." if words else ""


def _switch_words(rig: Rig) -> str:
    """How switches stand that nobody would leave so: which stay open, which are closed."""
    words = [f" {name} stays open." for name in sorted(parallel_switches(rig))]
    words += [f" Close {name}, which rests open." for name in closed_for_panels(rig)]
    return "".join(words)


def unfed_words(whole: Stages) -> str:
    """What is not read, since nothing feeds it while the tow vehicle is away."""
    names = [load_words(whole.rig, load) for load in whole.singly.unfed]
    listed = "; ".join(dict.fromkeys(names))
    return f" Dead with the tow vehicle unplugged, and so not read: {listed}." if names else ""


def _way_back_ohms(whole: Stages) -> Iterator[MeterPoint]:
    """From the minus of each panel to that of each battery that it is joined to, each pair once."""
    most = figure("sound", "return_ohm")
    near = {panel.negative: whole.study.net.walk([panel.negative])
            for panel in whole.panels if panel.negative}  # fmt: skip
    pairs = dict.fromkeys(
        (minus, source.minus)
        for source in whole.rig.sources
        for minus, joined in near.items()
        if source.stores and source.minus in joined
    )
    for a, b in pairs:
        yield whole.probes.point(a, b, "ohm", (0.0, most))


def _supplies(whole: Stages, read: Container[str]) -> Iterator[StageStep]:
    """Volts at every source and plus bar that no feed of a panel is read at.

    A charger that is off shows the battery there: its fuse is whole and its two leads are not
    swapped. What stands first on the way of a converter comes first.
    """
    held: dict[str, list[MeterPoint]] = {}
    for one in supply_ends(whole.study):
        minus = one.minus or whole.probes.source_minus(one.plus)
        if one.plus not in read and minus and not whole.live.stays_dead(one.plus):
            bounds = whole.live.bounds(frozenset(), one.plus)
            held.setdefault(one.of, []).append(whole.probes.volts(bounds, one.plus, minus))
    for name, points in held.items():
        index = whole.rig.by_name
        part = index.sources.get(name) or index.junctions[name]
        do = f"{part.about}, with what charges still off"
        yield StageStep(do, taken(whole.rig, points, ()), name, is_plain=True)


def _ohm(study: Study, probes: Probes, circuit: Circuit) -> Iterator[MeterPoint]:
    """The ohms of a dead circuit; none where no minus is found, or nothing is on it."""
    minus = probes.minus(circuit)
    volts = study.nominal_v(circuit.start)
    loads = [study.rig.by_name.loads[name] for name in circuit.loads]
    amps = sum(drawn_at(load, volts) for load in loads)
    unread = any(isinstance(load.value, Unknown) for load in loads)
    if minus and (amps > 0.0 or unread):
        # Of a load that nobody knows only a short is told: no more than a way back may have.
        least = figure("sound", "return_ohm")
        low = least if unread else figure("sound", "cold_share") * volts / amps
        yield probes.point(circuit.start, minus, "ohm", (low, inf))


def _shut(study: Study, panel: Panel, fits: Iterable[Device], setting: str) -> str:
    """What is out, and which slot of another panel brings the feed and so has to be in."""
    words = [f"feed of {panel.about}, all its {shut_words(study, panel.about.name)}"]
    words += [f"{device.about}: {goes_words(device)}" for device in fits]
    words += [setting] if setting else []
    return "; ".join(words)


def _rating(study: Study, circuit: Circuit) -> tuple[int, float, int]:
    """Order of fuses: those of no panel, then each panel, the smallest first."""
    names = [panel.about.name for panel in study.rig.panels]
    rank = names.index(circuit.panel) if circuit.panel in names else -1
    device = study.device(circuit.device)
    rating = device.rating_a if device is not None else None
    return (rank, rating if isinstance(rating, float) else inf, circuit.slot)


def _named(rig: Rig, circuits: Iterable[Circuit], on: frozenset[str]) -> Iterator[str]:
    """What is on, circuit by circuit, and how switches stand for it.

    Loads by name only where others of the circuit are off.
    """
    for circuit in circuits:
        here = [name for name in circuit.loads if name in on]
        words = _place(circuit)
        if here and set(here) != set(circuit.loads):
            labels = (str(rig.by_name.loads[name].about) for name in here)
            words += f": {', '.join(labels)}"
        if here:
            yield words
    yield from turned_words(rig, stand_asked(rig, on))


def _place(circuit: Circuit) -> str:
    return f"{circuit.place} {circuit.label}".strip()


def _of(circuit: Circuit) -> str:
    """The panel of a circuit, or its place where it starts at none."""
    return circuit.panel or circuit.place


def shut_words(study: Study, panel: str) -> str:
    """How the circuits of a panel are off: `fuses out`, `breakers off`, or both."""
    held = [study.device(c.device) for c in study.rig.circuits if c.panel == panel]
    kinds = {device.kind for device in held if device is not None}
    words = [traits.out for kind, traits in DEVICES.items() if kind in kinds and traits.out]
    return " and ".join(words) or DEVICES[study.rig.by_name.panels[panel].holds].out
