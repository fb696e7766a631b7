"""What readings between solar modules and their controller say, apart from the network of a rig.

Light is no battery: what modules give is known within wide bounds only. So a fault is kept or
dropped by whether it may show what was read, and those that are kept share by how often they occur.
"""

from collections.abc import Iterator, Sequence
from typing import Literal

from rigfolio.books import figure, sun_figure
from rigfolio.model import Conductor, Reading, Source
from rigfolio.network import Edge, edge_name
from rigfolio.protection import daylight_a, daylight_v
from rigfolio.record import record, replace
from rigfolio.study import Study

RoofFaultKind = Literal[
    "nothing", "module", "shade", "open string", "open lead", "blown", "open switch", "turned"
]
Bounds = tuple[float, float]
_NOTHING_V = 1.0
"""What a meter may show between ends that nothing drives [V]."""
_DIODES = 3
"""Parts of a module that are bridged one by one where they give nothing (common practice)."""


@record
class RoofFault:
    """A fault between modules and their controller; `part` is an array, a wire or a device."""

    kind: RoofFaultKind
    part: str
    weight: float
    share: float = 0.0
    """How likely it is of all that may show what was read [-]."""


@record
class RoofRead:
    """A reading there and what it may be with nothing wrong, in its unit; None where not told."""

    reading: Reading
    expected: Bounds | None


@record
class Roof:
    """What was read there, and the faults that may show all of it, the likeliest first."""

    read: tuple[RoofRead, ...]
    faults: tuple[RoofFault, ...]


def parted(
    study: Study, readings: Sequence[Reading]
) -> tuple[tuple[Reading, ...], tuple[Reading, ...]]:
    """Readings on the sun side, and all others."""
    there = tuple(one for one in readings if _is_there(study, one))
    return there, tuple(one for one in readings if one not in there)


def roof_of(study: Study, readings: Sequence[Reading]) -> Roof:
    """What readings on the sun side say.

    Source
    ------
    Bayes' rule over single faults of which each shows what was read or does not (common practice).
    """
    asked = _RoofSearch(study, readings)
    sound = RoofFault("nothing", "", figure("weight", "nothing"))
    kept = [one for one in (sound, *asked.suspects()) if asked.shows_all(one)]
    if sound in kept:
        kept = [sound]
    read = tuple(RoofRead(one, asked.bounds(sound, one)) for one in readings)
    whole = sum(one.weight for one in kept)
    shared = [replace(one, share=one.weight / whole) for one in kept]
    return Roof(read, tuple(sorted(shared, key=lambda one: -one.share)))


def _is_there(study: Study, reading: Reading) -> bool:
    source = study.rig.by_name.sources.get(reading.part)
    if source is not None and source.traits.by_light:
        return reading.measure in ("voltage", "current")
    if reading.measure == "voltage":
        # A plus by itself is read against the minus beside it; a minus by itself tells nothing.
        other = reading.b or (reading.a if study.side.get(reading.a) == "+" else "")
        return {reading.a, other} <= study.sunlit
    device, wire = study.device(reading.part), study.rig.by_name.conductors.get(reading.part)
    end = device.line if device is not None else wire.a if wire is not None else ""
    return reading.measure == "current" and end in study.sunlit


class _RoofSearch:
    def __init__(self, study: Study, readings: Sequence[Reading]) -> None:
        self.study, self.readings = study, readings
        self.arrays = [one for one in study.rig.sources if one.traits.by_light]

    def suspects(self) -> Iterator[RoofFault]:
        """All faults that one part there can have."""
        for array in self.arrays:
            name = array.about.name
            yield RoofFault("module", name, figure("weight", "module"))
            yield RoofFault("shade", name, figure("weight", "shade"))
            yield RoofFault("open string", name, figure("weight", "open"))
            yield RoofFault("turned", name, figure("weight", "reversed"))
        for wire in self.study.rig.conductors:
            if wire.a in self.study.sunlit:
                yield RoofFault("open lead", wire.name, figure("weight", "open"))
        there = (one for one in self.study.rig.devices if one.line in self.study.sunlit)
        for name, device in {one.about.name: one for one in there}.items():
            kind: RoofFaultKind = "blown" if device.protects else "open switch"
            yield RoofFault(kind, name, figure("weight", kind.removeprefix("open ")))

    def shows_all(self, fault: RoofFault) -> bool:
        """Whether a fault may show everything that was read; what is not told rules out nothing."""
        for one in self.readings:
            bounds = self.bounds(fault, one)
            if bounds is not None and not bounds[0] <= one.value <= bounds[1]:
                return False
        return True

    def bounds(self, fault: RoofFault, reading: Reading) -> Bounds | None:
        """What a reading may be with a fault; None where a label does not tell."""
        if reading.measure == "voltage":
            return self._volts(fault, reading)
        return self._amps(fault, reading)

    def _volts(self, fault: RoofFault, reading: Reading) -> Bounds | None:
        ends = self._ends(reading)
        plus, minus = (self.study.net.walk([end], self._opened(fault, reading)) for end in ends)
        found: list[Bounds] = []
        # What is read at the ends of a string is read with the string by itself.
        alone = [one for one in self.arrays if {one.plus, one.minus} == set(ends)]
        for array in alone or self.arrays:
            is_on = array.plus in plus and array.minus in minus
            is_turned = array.plus in minus and array.minus in plus
            if not (is_on or is_turned) or _is(fault, "open string", array):
                continue
            bounds = daylight_v(self.study, array)
            if bounds is None:
                return None
            low, high = _with_dead(fault, array, bounds)
            is_back = is_turned != _is(fault, "turned", array)
            found.append((-high, -low) if is_back else (low, high))
        if not found:
            return -_NOTHING_V, _NOTHING_V
        return min(low for low, _ in found), max(high for _, high in found)

    def _ends(self, reading: Reading) -> tuple[str, str]:
        """Where red and black go; black to the minus beside a lone terminal."""
        source = self.study.rig.by_name.sources.get(reading.part)
        if reading.b or source is None:
            return reading.a, reading.b or self._minus_beside(reading.a)
        return source.plus, source.minus

    def _minus_beside(self, end: str) -> str:
        """The minus of the input that a terminal is the plus of, else of an array on its lead."""
        own = (one.lit for one in self.study.rig.sources if one.lit and end == one.lit[0])
        for _, minus in own:
            return minus
        near = self.study.net.walk([end])
        return next((one.minus for one in self.arrays if one.plus in near), "")

    def _opened(self, fault: RoofFault, reading: Reading) -> "_Opened":
        names = {name for name, position in reading.set_to if position == "open"}
        return _Opened({*names, fault.part})

    def _amps(self, fault: RoofFault, reading: Reading) -> Bounds | None:
        own = next((one for one in self.arrays if one.about.name == reading.part), None)
        if own is None:
            return self._through(fault, reading)
        bounds = daylight_a(own)
        if bounds is None:
            return None
        low, high = bounds
        usual_a = self._light(fault) * high
        if _is(fault, "open string", own):
            return 0.0, figure("meter", "ampere")
        if _is(fault, "shade", own):
            return 0.0, usual_a or high
        return max(low, usual_a), high

    def _light(self, fault: RoofFault) -> float:
        """The least light on every string by what those read gave, as a share of the most."""
        shares = [0.0]
        for one in self.readings:
            array = self.study.rig.by_name.sources.get(one.part)
            bounds = daylight_a(array) if array in self.arrays and array is not None else None
            if one.measure == "current" and bounds is not None and not _is(fault, "shade", array):
                shares.append(one.value / bounds[1])
        return max(shares) * sun_figure("light", "share").value

    def _through(self, fault: RoofFault, reading: Reading) -> Bounds | None:
        """What a clamp shows round a wire or at a device while the sun charges."""
        if fault.part == reading.part:
            return 0.0, figure("meter", "ampere")
        known = [daylight_a(one) for one in self.arrays]
        return 0.0, sum(one[1] for one in known if one is not None)


class _Opened:
    """Tells edges that are open, by name."""

    def __init__(self, names: set[str]) -> None:
        self.names = names

    def __call__(self, edge: Edge) -> bool:
        if isinstance(edge, Conductor):
            return edge.name in self.names
        return edge_name(edge) in self.names or edge.about.name in self.names


def _is(fault: RoofFault, kind: RoofFaultKind, array: Source | None) -> bool:
    return array is not None and fault.kind == kind and fault.part == array.about.name


def _with_dead(fault: RoofFault, array: Source, bounds: Bounds) -> Bounds:
    """Volts of an array of which some modules, or parts of one, give nothing."""
    modules = array.modules
    if not _is(fault, "module", array) or modules is None:
        return bounds
    part = 1.0 / (_DIODES * modules.series)
    return bounds[0] * part, bounds[1] * (1.0 - part)
