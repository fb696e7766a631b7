"""Where the probes of a meter go, and what they should show there."""

from collections.abc import Mapping
from functools import cached_property

from rigfolio.books import figure
from rigfolio.model import Circuit, Device, Load, Reading
from rigfolio.network import edge_name
from rigfolio.operating.meter import Scene
from rigfolio.operating.readings.bounds import Bounds
from rigfolio.operating.readings.test_points import MeterPoint, Unit
from rigfolio.study import Study
from rigfolio.wording import short_end, typed


class Probes:
    """The readings that can be taken on a rig, each with its bounds."""

    def __init__(self, study: Study) -> None:
        self.study, self.rig = study, study.rig

    def minus(self, circuit: Circuit) -> str:
        """Where the black probe goes for a slot: the handy end of the way back of its circuit.

        The bar of its panel; else the bar that its returns land on; else the minus of the source.
        """
        panel = self.study.panel(circuit.panel)
        own = panel.negative if panel is not None else None
        posts = {source.minus for source in self.rig.sources}
        if own and own not in posts:
            return own
        return self._bar(circuit) or own or self.source_minus(circuit.start)

    def _bar(self, circuit: Circuit) -> str:
        """The bar that the returns of a circuit land on; empty where they land on none."""
        index = self.rig.by_name
        wires = (index.conductors[name] for name in reversed(circuit.returns))
        landed = [wire.b for wire in wires]
        landed += [index.loads[name].minus for name in circuit.loads]
        bars = {one.terminal for one in self.rig.junctions if one.traits.is_bar}
        return next((end for end in landed if end in bars), "")

    def panel_minus(self, circuit: Circuit) -> str:
        """The bar of the panel of a circuit, to which the loss of its way back is read."""
        panel = self.study.panel(circuit.panel)
        return (panel.negative if panel is not None else None) or ""

    def source_minus(self, terminal: str) -> str:
        """The minus of a source that a terminal is joined to, a battery first; empty without."""
        return self._minuses.get(terminal, "")

    @cached_property
    def _minuses(self) -> Mapping[str, str]:
        """That minus of each terminal that is joined to a source."""
        found: dict[str, str] = {}
        for source in sorted(self.rig.sources, key=lambda source: not source.stores):
            if source.plus not in found:
                found |= dict.fromkeys(self.study.net.walk([source.plus]), source.minus)
        return found

    def volts(self, bounds: Bounds, a: str, b: str) -> MeterPoint:
        """Volts from one terminal to another."""
        return self.point(a, b, "V", _alive(bounds.volts(a, b)))

    def across(self, bounds: Bounds, load: Load) -> MeterPoint:
        """Volts at the terminals of a load."""
        low, high = _alive(bounds.volts(load.plus, load.minus))
        entry = f"{typed(load.about.name)} = "
        return MeterPoint(f"across {load.about}", load.plus, load.minus, "V", low, high, entry)

    def drop(self, bounds: Bounds, a: str, b: str, what: str = "along ") -> MeterPoint:
        """Volts lost along a way."""
        low, high = bounds.volts(a, b)
        bound = (min(low, 0.0), max(high, figure("sound", "joint_volt")))
        return self.point(a, b, "V", bound, what)

    def joint(self, device: Device) -> MeterPoint:
        """Volts lost over the contacts of a device."""
        bound = (0.0, figure("sound", "joint_volt"))
        what = f"{device.traits.contact or device.kind}, "
        return self.point(device.line, device.load, "V", bound, what)

    def amps(self, bounds: Bounds, device: Device) -> MeterPoint:
        """Amperes through a device."""
        name = device.about.name
        words = f"current through {name}"
        low, high = bounds.amps(edge_name(device))
        return MeterPoint(words, name, "", "A", low, high, f"{typed(name)} = ")

    def drawn(self, bounds: Bounds, load: Load) -> MeterPoint:
        """Amperes that a load draws, by a clamp round its own lead."""
        name = load.about.name
        low, high = bounds.drawn(name)
        return MeterPoint(f"current of {name}", name, "", "A", low, high, f"{typed(name)} = ")

    def point(
        self, a: str, b: str, unit: Unit, bound: tuple[float, float], what: str = ""
    ) -> MeterPoint:
        """A pair of terminals, what is read there, and its bounds."""
        words = f"{what}{short_end(self.rig, a)} to {short_end(self.rig, b)}"
        entry = " to ".join(typed(short_end(self.rig, end)) for end in (a, b))
        return MeterPoint(words, a, b, unit, *bound, f"{entry} = ")


def _alive(bound: tuple[float, float]) -> tuple[float, float]:
    """Bounds of volts between plus and minus: what is dead is never what is expected there [V]."""
    low, high = bound
    live_v = figure("sound", "live_volt")
    return (max(low, live_v), high) if high > live_v else bound


def probed(scene: Scene, reading: Reading, a: str, b: str) -> MeterPoint | None:
    """What a reading from `a` to `b` should show in a scene; None of what has no bounds.

    Parameters
    ----------
    scene : Scene
        The rig as it stands, with some loads on.
    reading : Reading
        Volts, or the amperes of a load or a device.
    a, b : str
        Where the red and the black probe go.
    """
    probes, bounds, side = Probes(scene.study), Bounds.of([scene]), scene.study.side
    if reading.measure == "voltage":
        is_drop = side.get(a) == side.get(b)
        return probes.drop(bounds, a, b) if is_drop else probes.volts(bounds, a, b)
    device = scene.study.device(reading.part)
    circuit = scene.study.circuit(reading.part)
    if circuit is not None:
        device = scene.study.device(circuit.device)
    load = scene.study.rig.by_name.loads.get(reading.part)
    if reading.measure != "current":
        return None
    if load is not None:
        return probes.drawn(bounds, load)
    return probes.amps(bounds, device) if device is not None else None
