"""What a meter shows at every test point while a panel is brought back live, stage by stage.

The stages go from harmless to full: ohms with all fuses out, the feed alone, each fuse from the
smallest, each load by itself, all that can run together, and what must stay on. Every figure comes
from the network of the rig; its tolerance from the state of the battery, what loads may draw beside
what is stated, and the meter.
"""

from collections.abc import Container, Iterable, Iterator
from functools import cached_property, lru_cache
from math import inf

from rigfolio.books import figure
from rigfolio.findings import Unknown
from rigfolio.isolation import Open, combiners, kept_loads, load_words
from rigfolio.model import DEVICES, Circuit, Device, Load, Panel
from rigfolio.network import Edge, edge_name, ends
from rigfolio.operating.bounds import Bounds
from rigfolio.operating.meter import drawn_at
from rigfolio.operating.panel_feed import PanelFeed, Selection, panel_feeds, selections
from rigfolio.operating.point import standing
from rigfolio.operating.test_points import Point, Stage, Step, Unit
from rigfolio.study import Study
from rigfolio.wording import circuits_in_order, rating_words, short_end


@lru_cache(maxsize=1)
def stages(study: Study) -> tuple[Stage, ...]:
    """All stages of a rig; of each, the steps of one panel stand together."""
    return _Stages(study).all()


class _Stages:
    def __init__(self, study: Study) -> None:
        self.study, self.rig = study, study.rig
        self.panels = self.rig.panels
        self.circuits = circuits_in_order(self.rig)
        self.loads = {load.about.name: load for load in self.rig.loads}
        self._held: dict[tuple[frozenset[str], tuple[Open, ...]], Bounds] = {}

    def all(self) -> tuple[Stage, ...]:
        """The stages that have anything to be read."""
        made = (
            self._ohms(), self._feed(), self._fuses(), self._each_load(), self._together(),
            self._kept(),
        )  # fmt: skip
        return tuple(stage for stage in made if stage.steps)

    @cached_property
    def _lit(self) -> tuple[tuple[Selection, Container[str]], ...]:
        """Every selection with the terminals that are live in it."""
        found = []
        for one in selections(self.study):
            names = standing(self.study, one.opened)
            posts = [s.plus for s in self.rig.sources if s.about.name in names]
            found.append((one, self.study.net.walk(posts, one.opened.bars)))
        return tuple(found)

    def _bounds(self, on: frozenset[str], end: str) -> Bounds:
        """Bounds with some loads on, in all selections in which a terminal is live."""
        opened = tuple(one.opened for one, live in self._lit if end in live)
        return self._bounds_in(on, opened or tuple(one.opened for one, _ in self._lit))

    def _bounds_in(self, on: frozenset[str], opened: tuple[Open, ...]) -> Bounds:
        if (on, opened) not in self._held:
            self._held[on, opened] = Bounds(self.study, on, opened)
        return self._held[on, opened]

    @cached_property
    def _feeds(self) -> tuple[tuple[Panel, str, Open, tuple[PanelFeed, ...]], ...]:
        """The ways to each panel by the selection that they take, in words."""
        found = []
        for panel in self.panels:
            every, done = panel_feeds(self.study, panel), set()
            for one, _ in self._lit:
                feeds = tuple(feed for feed in every if one.passes(feed))
                if feeds and feeds not in done:
                    done.add(feeds)
                    is_chosen = any(_is_selector(edge) for feed in feeds for edge in feed.way)
                    found.append((panel, one.words if is_chosen else "", one.opened, feeds))
        return tuple(found)

    def _ohms(self) -> Stage:
        steps = [
            Step(f"{_place(circuit)}, its loads on", tuple(self._ohm(circuit)), _of(circuit))
            for circuit in self.circuits
        ]
        returns = tuple(self._return_ohms())
        if returns:
            steps.insert(0, Step("the way back", returns))
        return Stage(
            "Ohms, all fuses out",
            "Every source off, every fuse out, every breaker off; prove that the panel is dead "
            "first. The switches of the loads are on. A reading near nothing is a short: find it "
            "before any fuse goes in. More than is listed is no fault where the load has "
            "electronics in it.",
            tuple(step for step in steps if step.points),
        )

    def _ohm(self, circuit: Circuit) -> Iterator[Point]:
        minus = self._minus(circuit)
        volts = self.study.volts.get(circuit.start, self.rig.system_v)
        amps = sum(drawn_at(self.loads[name], volts) for name in circuit.loads)
        if minus and amps > 0.0:
            low = figure("sound", "cold_share") * volts / amps
            yield self._point(circuit.start, minus, "ohm", (low, inf))

    def _return_ohms(self) -> Iterator[Point]:
        most = figure("sound", "return_ohm")
        for source in self.rig.sources:
            for panel in self.panels:
                if source.stores and panel.negative:
                    yield self._point(panel.negative, source.minus, "ohm", (0.0, most))

    def _feed(self) -> Stage:
        steps = []
        for panel, words, opened, feeds in self._feeds:
            bounds = self._bounds_in(frozenset(), (opened,))
            points = tuple(self._along(panel, feeds, bounds))
            if points:
                do = self._shut(panel, feeds, words)
                steps.append(Step(do, points, panel.about.name, "any load"))
        return Stage(
            "The feed alone",
            "All fuses of the panel stay out and its breakers off. Close the battery through a "
            "lamp or a small fuse first: a short then lights the lamp and burns nothing. The lamp "
            "stays dark, then it is closed for good.",
            tuple(steps),
        )

    def _shut(self, panel: Panel, feeds: Iterable[PanelFeed], setting: str) -> str:
        """What is out, and which slot of another panel brings the feed and so has to be in."""
        words = [f"feed of {panel.about}, all its {shut_words(self.study, panel.about.name)}"]
        slots = [d for feed in feeds for edge in feed.way if (d := _slotted(edge))]
        words += [f"{device.about}: {_goes_in(device)}" for device in dict.fromkeys(slots)]
        words += [setting] if setting else []
        return "; ".join(words)

    def _along(self, panel: Panel, feeds: Iterable[PanelFeed], bounds: Bounds) -> Iterator[Point]:
        """Volts at each terminal from the battery, or the slot that brings the feed, to a panel."""
        passed = list(dict.fromkeys(end for feed in feeds for end in feed.terminals()))
        slots = [d.load for feed in feeds for edge in feed.way if (d := _slotted(edge))]
        for end in passed[max(map(passed.index, slots), default=0) :]:
            minus = panel.negative or self._source_minus(end)
            if minus:
                yield self._volts(bounds, end, minus)

    def _fuses(self) -> Stage:
        steps = []
        kept = {load.about.name for load, _ in kept_loads(self.rig)}
        for circuit in sorted(self.circuits, key=self._rating):
            minus = self._minus(circuit)
            device = self.study.device(circuit.device)
            if device is None or not minus:
                continue
            waits = [name for name in circuit.loads if name not in kept]
            if circuit.always_on:
                waits = []
            labels = (self.loads[name].about.label or name for name in waits)
            steps.append(
                Step(
                    f"{_place(circuit)}, {_goes_in(device)}",
                    (self._volts(self._bounds(frozenset(), circuit.start), circuit.start, minus),),
                    _of(circuit),
                    "; ".join(dict.fromkeys(labels)),
                )
            )
        return Stage(
            "One fuse at a time",
            "From the smallest of each panel. The loads are switched off again: none may start "
            "but what has no switch or must stay on. No other slot may come alive: where one does, "
            "two circuits are joined.",
            tuple(steps),
        )

    def _rating(self, circuit: Circuit) -> tuple[int, float, int]:
        """Order of fuses: those of no panel, then each panel, the smallest first."""
        names = [panel.about.name for panel in self.panels]
        rank = names.index(circuit.panel) if circuit.panel in names else -1
        device = self.study.device(circuit.device)
        rating = device.rating_a if device is not None else None
        return (rank, rating if isinstance(rating, float) else inf, circuit.slot)

    def _each_load(self) -> Stage:
        steps = []
        for circuit in self.circuits:
            for name in circuit.loads:
                load = self.loads[name]
                if not isinstance(load.value, Unknown) and load.duty != "momentary":
                    points = tuple(self._of_load(circuit, load))
                    do = f"{circuit.place} on: {load_words(self.rig, load)}"
                    steps.append(Step(do, points, _of(circuit)))
        return Stage(
            "Each load by itself",
            "Only this load is on. The drop over the holder is read with both probes on the metal, "
            "on the finest range; more than a twentieth of a volt is a joint to be made again.",
            tuple(step for step in steps if step.points),
        )

    def _of_load(self, circuit: Circuit, load: Load) -> Iterator[Point]:
        bounds = self._bounds(frozenset({load.about.name}), circuit.start)
        yield self._across(bounds, load)
        device = self.study.device(circuit.device)
        if device is not None:
            yield self._amps(bounds, device)
            yield self._joint(device)
        back = self._minus(circuit)
        if back and back != load.minus:
            yield self._drop(bounds, load.minus, back, "return, ")

    def _together(self) -> Stage:
        on = self._running()
        held: dict[str, list[Point]] = {}
        for panel, words, opened, feeds in self._feeds:
            bounds = self._bounds_in(on, (opened,)) if words else self._bounds(on, panel.bus)
            # What turns on no selector is read in the first of its positions.
            place = words or next(iter(held), "")
            held.setdefault(place, []).extend(self._under_load(panel, feeds, bounds))
        names = f"on: {'; '.join(self._named(on))}"
        steps = []
        for number, (words, points) in enumerate(held.items()):
            do = "; ".join(x for x in (words, names if number == 0 else "all else as before") if x)
            steps.append(Step(do, tuple(dict.fromkeys(points))))
        return Stage(
            "All that can run together",
            "What runs for hours, and the largest of what runs now and then. Leave it on for a "
            "quarter of an hour, then feel every holder and terminal: warm is a joint to be made "
            "again.",
            tuple(step for step in steps if on and step.points),
        )

    def _under_load(
        self, panel: Panel, feeds: Iterable[PanelFeed], bounds: Bounds
    ) -> Iterator[Point]:
        """The bus of a panel, every part of its feed and the way back to where that begins."""
        minus = panel.negative or self._source_minus(panel.bus)
        if minus:
            yield self._volts(bounds, panel.bus, minus)
        for feed in feeds:
            for edge in feed.way:
                if isinstance(edge, Device):
                    yield self._joint(edge)
                    if edge.protects:
                        yield self._amps(bounds, edge)
                elif ends(edge)[0] != ends(edge)[1]:
                    yield self._drop(bounds, *ends(edge))
        for back in dict.fromkeys(feed.minus for feed in feeds):
            if minus and back != minus:
                yield self._drop(bounds, minus, back, "return, ")

    def _named(self, on: frozenset[str]) -> Iterator[str]:
        """What is on, circuit by circuit; loads by name only where others of it are off."""
        for circuit in self.circuits:
            here = [name for name in circuit.loads if name in on]
            words = _place(circuit)
            if here and set(here) != set(circuit.loads):
                labels = (self.loads[name].about.label or name for name in here)
                words += f": {', '.join(labels)}"
            if here:
                yield words

    def _running(self) -> frozenset[str]:
        """Loads that run for hours, and the largest one of the others."""
        held = {name for circuit in self.circuits for name in circuit.loads}
        known = [
            load for load in self.rig.loads
            if load.about.name in held and not isinstance(load.value, Unknown)
        ]  # fmt: skip
        steady = {one.about.name for one in known if one.duty in ("continuous", "cyclic")}
        rest = [one for one in known if one.duty == "intermittent"]
        largest = max(rest, key=lambda one: drawn_at(one, self._nominal_v(one)), default=None)
        return frozenset(steady | ({largest.about.name} if largest else set()))

    def _nominal_v(self, load: Load) -> float:
        return self.study.volts.get(load.plus, self.rig.system_v)

    def _kept(self) -> Stage:
        switches = [d for d in self.rig.devices if d.traits.parts_rig]
        shut = frozenset(edge_name(device) for device in switches)
        opened = Open(shut | combiners(self.rig))
        kept = kept_loads(self.rig)
        points = []
        if kept and switches:
            names = frozenset(load.about.name for load, _ in kept if load.duty != "momentary")
            bounds = self._bounds_in(names, (opened,))
            points = [
                self._across(bounds, load)
                for load, _ in kept
                if load.duty != "momentary" and isinstance(load.value, float)
            ]
        listed = ", ".join(dict.fromkeys(device.about.name for device in switches))
        return Stage(
            "What must stay on",
            "Then try it: press the test knob of a detector, lift the float of a bilge pump, pull "
            "the pin of a breakaway switch and put it back.",
            (Step(f"open or off: {listed}", tuple(points)),) if points else (),
        )

    def _minus(self, circuit: Circuit) -> str:
        panel = self.study.panel(circuit.panel)
        if panel is not None and panel.negative:
            return panel.negative
        return self._source_minus(circuit.start)

    def _source_minus(self, terminal: str) -> str:
        near = self.study.net.walk([terminal])
        held = [source for source in self.rig.sources if source.plus in near]
        held.sort(key=lambda source: not source.stores)
        return held[0].minus if held else ""

    def _volts(self, bounds: Bounds, a: str, b: str) -> Point:
        return self._point(a, b, "V", bounds.volts(a, b))

    def _across(self, bounds: Bounds, load: Load) -> Point:
        low, high = bounds.volts(load.plus, load.minus)
        name = load.about.label or load.about.name
        return Point(f"across {name}", load.plus, load.minus, "V", low, high, f"{name} = ")

    def _drop(self, bounds: Bounds, a: str, b: str, what: str = "along ") -> Point:
        low, high = bounds.volts(a, b)
        bound = (min(low, 0.0), max(high, figure("sound", "joint_volt")))
        return self._point(a, b, "V", bound, what)

    def _joint(self, device: Device) -> Point:
        bound = (0.0, figure("sound", "joint_volt"))
        what = f"{device.traits.contact or device.kind}, "
        return self._point(device.line, device.load, "V", bound, what)

    def _amps(self, bounds: Bounds, device: Device) -> Point:
        name = device.about.name
        words = f"current through {name}"
        low, high = bounds.amps(edge_name(device))
        return Point(words, name, "", "A", low, high, f"{name} = ")

    def _point(
        self, a: str, b: str, unit: Unit, bound: tuple[float, float], what: str = ""
    ) -> Point:
        words = f"{what}{short_end(self.rig, a)} to {short_end(self.rig, b)}"
        return Point(words, a, b, unit, *bound, f"{a} to {b} = ")


def _is_selector(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.traits.selects


def _slotted(edge: Edge) -> Device | None:
    return edge if isinstance(edge, Device) and edge.in_slot else None


def _place(circuit: Circuit) -> str:
    return f"{circuit.place} {circuit.label}".strip()


def _of(circuit: Circuit) -> str:
    """The panel of a circuit, or its place where it starts at none."""
    return circuit.panel or circuit.place


def fitted_words(device: Device | None) -> str:
    """Rating, colour word and kind of a protective device: `5 A tan fuse`, `5 A breaker`."""
    words = rating_words(device)
    if device is None or device.kind in words:
        return words
    return f"{words} {device.kind}"


def _goes_in(device: Device) -> str:
    """`5 A tan fuse in`, `5 A breaker on`."""
    return f"{fitted_words(device)} {device.traits.goes}"


def shut_words(study: Study, panel: str) -> str:
    """How the circuits of a panel are off: `fuses out`, `breakers off`, or both."""
    held = [study.device(c.device) for c in study.rig.circuits if c.panel == panel]
    kinds = {device.kind for device in held if device is not None}
    words = [traits.out for kind, traits in DEVICES.items() if kind in kinds and traits.out]
    return " and ".join(words) or DEVICES[study.rig.by_name.panels[panel].holds].out
