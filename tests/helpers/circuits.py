"""Rigs made up from a number, and the netlist that a circuit simulator is given for a rig.

Nothing here knows `rigfolio.study`: terminals, wires, devices, sources and loads are read from the
rig, and resistances from the tables of copper.
"""

import random
from collections.abc import Collection
from dataclasses import dataclass

import neospice

from rigfolio.books.conductors import cable_families, resistance_ohm_per_m
from rigfolio.books.loader import load_book
from rigfolio.model.graph import Conductor, Device, Load, Rig, Source

STIFF_OHM = 1e-5
_OPTIONS = ".options reltol=1e-10 abstol=1e-13 vntol=1e-12 itl1=1000"


def ohm(rig: Rig, wire: Conductor, *, least: bool = False) -> float:
    """Resistance at the ambient of a wire, which is never above what its insulation takes.

    In the cable that the rule book names, or the `least` that any has.
    """
    rated_c = wire.insulation_c or rig.insulation_c or load_book(rig.book).insulation_c().value
    ambient_c = wire.ambient_c if wire.ambient_c is not None else rig.ambient_c
    ambient_c = min(30.0 if ambient_c is None else ambient_c, rated_c)
    named = [load_book(rig.book).cable.name]
    names = [one.name for one in cable_families()] if least else named
    per_m = min(resistance_ohm_per_m(wire.size, ambient_c, name) for name in names)
    return per_m * wire.length_m / wire.count + wire.frame_ohm


def internal(source: Source) -> float:
    if source.internal_ohm:
        return source.internal_ohm
    return source.voltage_v / source.short_a if source.short_a else STIFF_OHM


def key(edge: Conductor | Device) -> str:
    """The name of a wire; the two terminals of a device."""
    return edge.name if isinstance(edge, Conductor) else f"{edge.line} {edge.load}"


def _battery_v(rig: Rig, terminal: str) -> float:
    """The highest battery that a terminal is wired to; a converter is made for it on its input."""
    pairs = [(w.a, w.b) for w in rig.conductors] + [(d.line, d.load) for d in rig.devices]
    near = {terminal}
    while more := {end for pair in pairs for end in pair if near & set(pair)} - near:
        near |= more
    return max(s.voltage_v for s in rig.sources if s.kind == "battery" and s.plus in near)


class Netlist:
    """The lines of a netlist; every current that is wanted runs through a meter of 0 V.

    `limited` are sources that stand for a constant current, `blocked` those that are not there;
    what the simulator finds must bear that out, see `Simulated.bears_out`. `dead` are loads that
    nothing feeds; the simulator finds no point for a current that comes from nowhere. With `least`
    the wires are of the cable with the most copper.
    """

    def __init__(
        self,
        rig: Rig,
        on: Collection[str],
        limited: Collection[str],
        blocked: Collection[str],
        dead: Collection[str] = (),
        *,
        least: bool = False,
    ) -> None:
        self.rig, self.on, self.limited, self.blocked = rig, on, limited, blocked
        self.floor_v = 0.51 * min(source.voltage_v for source in rig.sources)
        self.nodes: dict[str, str] = {}
        self.meters: dict[str, str] = {}
        self.lines: list[str] = []
        first = next(source for source in rig.sources if source.about.name in on)
        self.nodes[first.minus] = "0"
        for wire in rig.conductors:
            self._meter(key(wire), wire.a, wire.b, ohm(rig, wire, least=least))
        for device in rig.devices:
            self._meter(key(device), device.line, device.load, 0.0)
        for source in rig.sources:
            if source.about.name in on:
                self._source(source)
        for load in rig.loads:
            if load.about.name not in dead:
                self._load(load)

    def solve(self) -> "Simulated":
        """The operating point by the simulator."""
        # So little that it cannot be seen, it keeps what hangs in the air from being singular.
        leaks = [
            f"rk{place} {node} 0 1e12"
            for place, node in enumerate(self.nodes.values()) if node != "0"
        ]  # fmt: skip
        text = "\n".join(["rig", _OPTIONS, *self.lines, *leaks, ".op", ".end", ""])
        return Simulated(self, neospice.dc(text))

    def node(self, terminal: str) -> str:
        return self.nodes.setdefault(terminal, f"n{len(self.nodes)}")

    def short(self, terminal: str, to: str) -> None:
        """A bolted fault, with a meter in it."""
        self._meter("fault", terminal, to, 0.0)

    def _meter(self, name: str, one: str, two: str, own_ohm: float) -> None:
        meter = f"vm{len(self.meters)}"
        self.meters[name] = meter
        start = self.node(one)
        if own_ohm:
            start = f"{meter}x"
            self.lines.append(f"r{meter} {self.node(one)} {start} {own_ohm!r}")
        self.lines.append(f"{meter} {start} {self.node(two)} 0")

    def _source(self, source: Source) -> None:
        name, plus, minus = source.about.name, self.node(source.plus), self.node(source.minus)
        place = f"s{len(self.lines)}"
        meter = f"v{place}"
        self.meters[name] = meter
        if name in self.limited:
            self.lines.append(f"i{place} {minus} {place}x {source.limit_a!r}")
        elif name in self.blocked:
            self.lines.append(f"r{place} {minus} {place}x 1e12")
        else:
            self.lines += [
                f"ve{place} {place}e {minus} {source.voltage_v!r}",
                f"r{place} {place}e {place}x {internal(source)!r}",
            ]
        self.lines.append(f"{meter} {place}x {plus} 0")

    def _load(self, load: Load) -> None:
        name, plus, minus = load.about.name, self.node(load.plus), self.node(load.minus)
        place = f"l{len(self.lines)}"
        self.meters[name] = f"v{place}"
        self.lines.append(f"v{place} {plus} {place} 0")
        converter = next(
            (s for s in self.rig.sources if f"{s.about.name}.in" == name and s.kind == "dc-dc"),
            None,
        )
        if converter is not None:
            self._converter(place, minus, converter, load)
        elif load.kind == "resistance":
            self.lines.append(f"r{place} {place} {minus} {load.value!r}")
        elif load.kind == "current":
            self.lines.append(f"i{place} {place} {minus} {load.value!r}")
        else:
            # The floor keeps the simulator off the other solution, that of very low voltage.
            volts = f"max(V({place},{minus}),{self.floor_v!r})"
            self.lines.append(f"b{place} {place} {minus} I={load.value!r}/{volts}")

    def _converter(self, place: str, minus: str, converter: Source, load: Load) -> None:
        if converter.about.name not in self.on:
            return
        share = (
            converter.limit_a * converter.voltage_v / (load.value * _battery_v(self.rig, load.plus))
        )
        out = f"V({self.node(converter.plus)},{self.node(converter.minus)})"
        given = f"{out}*i({self.meters[converter.about.name]})"
        volts = f"max(V({place},{minus}),{self.floor_v!r})"
        self.lines.append(f"b{place} {place} {minus} I={given}/{share!r}/{volts}")


@dataclass(frozen=True, slots=True)
class Simulated:
    """What the simulator found."""

    netlist: Netlist
    result: neospice.DCResult

    def volts(self, terminal: str) -> float:
        node = self.netlist.nodes[terminal]
        return 0.0 if node == "0" else self.result.voltage(node)

    def between(self, plus: str, minus: str) -> float:
        return self.volts(plus) - self.volts(minus)

    def current_a(self, key: str) -> float:
        return self.result.current(self.netlist.meters[key])

    def bears_out(self, source: Source) -> bool:
        """Whether a source of limited output does what it may, by its voltage and its current."""
        given_a, held_v = self.current_a(source.about.name), self.between(source.plus, source.minus)
        if source.about.name in self.netlist.limited:
            return held_v <= source.voltage_v + 1e-6
        if source.about.name in self.netlist.blocked:
            return held_v >= source.voltage_v - 1e-6
        return source.limit_a is None or -1e-5 <= given_a <= source.limit_a + 1e-5


GAUGES = ["18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2"]
HEAVY = ["4 AWG", "2 AWG", "1/0 AWG", "16 mm2", "35 mm2", "70 mm2"]


class Made:
    """The text of a rig made up from a number: banks, bars, panels, meshes, every kind of load."""

    def __init__(self, seed: int) -> None:
        self.any = random.Random(seed)
        # Every other rig has the wind where the rest have the sun: no draw of chance moves by it.
        self.free = "turbine" if seed % 2 else "solar"
        self.system_v = self.panel_v = self.any.choice([12.0, 12.0, 24.0, 48.0])
        self.lines = [f'rig "Made {seed}"', f"    system {self.system_v:g} V", "    rules vehicle",
                      f"    ambient {self.any.randint(10, 60)} degC"]  # fmt: skip
        for bar in ("A1", "A2", "N1"):
            self.lines.append(f"busbar {bar} 600 A")
        self.lines += ["chassis G1", "disconnect S1 300 A"]
        self._wire("G1 to N1", 1.0, HEAVY)
        self._wire("A1 to S1.line", 2.0, HEAVY)
        self._wire("S1.load to A2", 2.0, HEAVY)
        if self.any.random() < 0.4:
            self._wire("A1 to A2", 3.0, HEAVY, ", fuse 150 A at A1")
        self._banks()
        self._chargers()
        panels = self.any.randint(1, 3)
        for panel in range(1, panels + 1):
            self._panel(panel)
        if panels > 1 and self.any.random() < 0.4:
            self._wire("N11 to N12", 4.0, HEAVY)
        if self.any.random() < 0.4:
            self._converter(panels + 1)

    @property
    def text(self) -> str:
        return "\n".join(self.lines) + "\n"

    def _wire(self, ends: str, most_m: float, sizes: list[str], more: str = "") -> None:
        length_m = round(self.any.uniform(0.1, most_m), 2)
        twin = ", 2 conductors in parallel" if self.any.random() < 0.15 else ""
        self.lines.append(f"wire {ends} {self.any.choice(sizes)} {length_m} m{twin}{more}")

    def _banks(self) -> None:
        self.battery_v = 0.0
        for bank in range(1, self.any.randint(1, 3) + 1):
            volts = round(self.system_v * self.any.choice([1.0, 1.03, 1.066]), 2)
            self.battery_v = max(self.battery_v, volts)
            inside = self.any.choice(
                [
                    f"internal {self.any.randint(2, 20)} mohm",
                    f"delivers {self.any.randint(1, 5)} kA",
                ]
            )
            self.lines.append(f"battery B{bank} flooded, 200 Ah, {volts:.2f} V, {inside}")
            self._wire(f"B{bank}+ to A1", 1.5, HEAVY, f", fuse 200 A at B{bank}+")
            self._wire(f"N1 to B{bank}-", 1.5, HEAVY)

    def _chargers(self) -> None:
        for word, name in (("charger", "C1"), (self.free, "U1"), ("alternator", "D1")):
            if self.any.random() < 0.4:
                volts = self.system_v * self.any.choice([1.0, 1.1, 1.2])
                self.lines.append(f"{word} {name} {self.any.randint(5, 40)} A, {volts:.2f} V")
                self._wire(f"{name}+ to A1", 3.0, HEAVY, ", fuse 60 A at A1")
                self._wire(f"{name}- to N1", 3.0, HEAVY)

    def _panel(self, panel: int, feed: str = "A2", minus: str = "N1") -> None:
        self.lines += [f"panel P{panel} 12 slots of 30 A, negative N1{panel}",
                       f"busbar N1{panel} 200 A"]  # fmt: skip
        self._wire(f"{feed} to P{panel}", 5.0, HEAVY, f", fuse 100 A at {feed}")
        if self.any.random() < 0.2:
            self._wire(f"{feed} to P{panel}", 5.0, HEAVY, f", fuse 100 A at {feed}")
        self._wire(f"N1{panel} to {minus}", 5.0, HEAVY)
        for slot in range(1, self.any.randint(1, 5) + 1):
            self._circuit(panel, slot)

    def _circuit(self, panel: int, slot: int) -> None:
        self.lines.append(f'circuit P{panel}.{slot} "Circuit" fuse 15 A')
        self._run("wire")
        for branch in range(self.any.choice([0, 0, 1, 2])):
            name = f"Z{panel}{slot}{branch}"
            self.lines.append(f"    splice {name}")
            self._run("wire")
            self._load()
            self._run(f"wire from {name}")
        self._load()
        back = self.any.random()
        if back < 0.3:
            self.lines.append("    return to G1")
        elif back < 0.6:
            self._run("return")

    def _run(self, word: str) -> None:
        length_m = round(self.any.uniform(0.3, 9.0), 2)
        self.lines.append(f"    {word} {self.any.choice(GAUGES)} {length_m} m")

    def _load(self) -> None:
        volts = self.panel_v
        watts = round(self.any.uniform(0.2, 2.5) * volts, 1)
        draws = self.any.choice(
            [f"{watts} W", f"{watts / volts:.3f} A", f"{volts**2 / watts:.3f} ohm"]
        )
        self.lines.append(f'    load "Load" {draws}')

    def _converter(self, panel: int) -> None:
        out_v = self.any.choice([12.0, 24.0])
        limit_a = self.any.randint(20, 60)
        drawn_a = limit_a * out_v / self.battery_v / self.any.choice([0.85, 0.93])
        self.lines.append(
            f"dc-dc E1 {limit_a} A from {self.battery_v:g} V to {out_v:g} V, draws {drawn_a:.3f} A"
        )
        self._wire("A2 to E1.in", 3.0, HEAVY, ", fuse 80 A at A2")
        self._wire("E1- to N1", 3.0, HEAVY)
        self.panel_v = out_v
        self._panel(panel, "E1.out", "E1-")
