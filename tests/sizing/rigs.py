"""Rigs made by chance for the tests of sizing, with things in them that nobody has read."""

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

AWG = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "2 AWG", "2/0 AWG")
METRIC = ("1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "16 mm2", "50 mm2")
FUSES = (1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30)
MAINS = (20, 30, 50, 80, 100, 150, 200)


@dataclass(frozen=True, slots=True)
class Made:
    """A rig made by chance: its text, and how often a value is unknown in it."""

    seed: int
    text: str


def made(seed: int, unknown: float = 0.06) -> Made:
    """The rig of a number."""
    return Made(seed, "\n".join(_Rig(seed, unknown).lines()) + "\n")


class _Rig:
    def __init__(self, seed: int, unknown: float) -> None:
        self.roof = Random(f"roof {seed}")
        """Chance of its own, so that what is drawn for a roof moves nothing else in a rig."""
        self.chance = Random(seed)
        self.unknown = unknown if self.chance.random() < 0.6 else 0.0
        self.sizes = METRIC if self.chance.random() < 0.25 else AWG
        self.volts = self.chance.choice((12, 12, 12, 24, 48))

    def lines(self) -> Iterator[str]:
        one = self.chance
        book = one.choice(("rv", "boat", "vehicle"))
        yield f'rig "Made {one.random():.6f}"'
        yield f"    system {self.volts} V"
        yield f"    rules {book}"
        yield f"    ambient {one.choice((30, 40, 50))} degC"
        yield f"battery B1 {one.choice(('flooded', 'agm', 'lithium'))}, 100 Ah, internal 5 mohm"
        yield f"fuse F1 {self.or_not(one.choice(MAINS), 'A')} class-t on B1+"
        yield "busbar D1 300 A"
        yield "busbar N1 300 A"
        yield f"wire F1.load to D1 {self.size(4)} red {self.length(1, 6)}"
        yield f"wire N1 to B1- {self.size(4)} black {self.length(1, 6)}"
        if one.random() < 0.4:
            yield "chassis G1"
            yield f"wire B1- to G1 {self.size(3)} bare {self.length(1, 4)}"
        for number in range(1, one.randint(1, 2) + 1):
            yield from self.panel(number)
        yield from self.others()

    def panel(self, number: int) -> Iterator[str]:
        one = self.chance
        total = f", {one.choice((30, 60, 100))} A in all" if one.random() < 0.5 else ""
        slots = self.or_not(one.choice((20, 30)), "A")
        yield f"panel P{number} 8 slots of {slots}{total}"
        own = f", fuse {self.or_not(one.choice(MAINS), 'A')} at D1" if one.random() < 0.7 else ""
        yield f"wire D1 to P{number} {self.size(3)} red {self.length(2, 25)}{own}"
        back = f"N{number}" if number == 1 else "N2"
        if number == 2:
            yield "busbar N2 100 A"
            yield f"wire N2 to N1 {self.size(3)} black {self.length(2, 25)}"
        for slot in range(1, one.randint(1, 4) + 1):
            yield from self.circuit(f"P{number}.{slot}", back)

    def circuit(self, place: str, back: str) -> Iterator[str]:
        one = self.chance
        yield f'circuit {place} "Run {place}" fuse {self.or_not(one.choice(FUSES), "A")}'
        yield f"    wire {self.size(0)} red {self.length(2, 40)}"
        if one.random() < 0.3:
            yield f"    splice Z{place.replace('.', 'x')}"
            yield f"    wire {self.size(0)} red {self.length(1, 20)}"
        for _ in range(one.randint(1, 2)):
            more = one.choice(("", "", ", intermittent", ", momentary", ", critical", ", 24 h/day"))
            draw = one.choice(
                ("0.2 A", "1 A", "3 A", "6 A", "12 A", "18 A", "15 W", "90 W", "250 W")
            )
            yield f'    load "Load {one.randint(1, 999)}" {self.or_not(draw, "")}{more}'
        if one.random() < 0.3:
            yield f"    return {self.size(0)} black {self.length(2, 40)} to {back}"
        else:
            yield f"    return to {back}"

    def others(self) -> Iterator[str]:
        one = self.chance
        if one.random() < 0.4:
            yield f"solar U1 {self.or_not(one.choice((10, 25, 40)), 'A')}, input 100 V"
            fuse = f", fuse {self.or_not(one.choice((15, 25, 40, 60)), 'A')} at D1"
            yield f"wire U1+ to D1 {self.size(2)} red {self.length(3, 20)}{fuse}"
            yield f"wire U1- to N1 {self.size(2)} black {self.length(3, 20)}"
            yield from self.sun_side()
        if one.random() < 0.4:
            yield f"inverter X1 {self.or_not(one.choice((300, 1000, 3000)), 'W')}, intermittent"
            fuse = f", fuse {self.or_not(one.choice((40, 100, 150, 300)), 'A')} at D1"
            yield f"wire D1 to X1+ {self.size(4)} red {self.length(2, 16)}{fuse}"
            yield f"wire X1- to N1 {self.size(4)} black {self.length(2, 16)}"
        if one.random() < 0.3:
            yield "alternator A1 60 A"
            yield f"wire A1+ to D1 {self.size(3)} red {self.length(3, 12)}, fuse 80 A at D1"
            yield f"wire A1- to N1 {self.size(3)} black {self.length(3, 12)}"

    def sun_side(self) -> Iterator[str]:
        """Strings of modules, with or without fuses and an isolator, on the controller."""
        one, kept = self.roof, self.chance
        if one.random() < 0.3:
            return
        self.chance = one
        label = f"open circuit 22.4 V, short circuit {self.or_not(one.choice((5.9, 9.8, 13)), 'A')}"
        if one.random() < 0.6:
            label += f", {'100 W' if ' 5.9' in label else '160 W'}, works at 18.2 V"
        if one.random() < 0.7:
            label += f", series fuse {self.or_not(one.choice((15, 20, 30)), 'A')}"
        strings, fused = one.randint(1, 4), one.random() < 0.6
        yield "busbar H1 200 A"
        yield "busbar H2 200 A"
        for number in range(1, strings + 1):
            yield f"array Y{number} {one.choice((1, 2))} modules in series, {label}"
            rating = self.or_not(one.choice((7.5, 10, 15, 20, 30)), "A")
            fuse = f", fuse {rating} at H1 rated 100 V" if fused else ""
            yield f"wire Y{number}+ to H1 {self.size(0)} red {self.length(3, 20)}{fuse}"
            yield f"wire Y{number}- to H2 {self.size(0)} black {self.length(3, 20)}"
        end = "H1"
        if one.random() < 0.5:
            yield "disconnect S7 80 A, rated 150 V"
            yield f"wire H1 to S7 {self.size(1)} red {self.length(1, 6)}"
            end = "S7"
        yield f"wire {end} to U1.in {self.size(1)} red {self.length(3, 25)}"
        yield f"wire H2 to U1.in- {self.size(1)} black {self.length(3, 25)}"
        self.chance = kept

    def size(self, least: int) -> str:
        return self.or_not(self.chance.choice(self.sizes[least:]), "")

    def length(self, low: int, high: int) -> str:
        feet = self.chance.randint(low, high)
        return self.or_not(f"{feet} ft" if self.sizes is AWG else f"{feet * 0.3:.1f} m", "")

    def or_not(self, value: object, unit: str) -> str:
        if self.chance.random() < self.unknown:
            return f"? {unit}".strip()
        return f"{value} {unit}".strip()
