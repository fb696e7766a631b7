"""Hazards of fuses and wires: what does not protect, and what is not protected."""

import re
from collections.abc import Iterator

from mutations.edits import (
    Example,
    Mutant,
    device_rated,
    is_plus,
    sized,
    stated,
    with_facts,
)
from mutations.hazard import hazard
from rigfolio.model.graph import Conductor
from rigfolio.protection.returns import returns_of
from rigfolio.units import Size

FUSES = "fuse|breaker"
INLINE = re.compile(r",\s*(?:fuse|breaker) .*?(?=\s*(?:#|$|, ))")


def too_much_a(area_m2: float) -> float:
    """A device that is far too large for some copper in any book [A].

    Some one and a half times what the most generous table allows: 54 A for 16 AWG, where 33 CFR
    183.425 Table 5 gives 25 A at 105 °C and 183.455 half as much again for the device (seen).
    """
    return 45.0 * (area_m2 * 1e6) ** 0.7


def area_m2(wire: Conductor) -> float:
    return wire.size.area_m2 * wire.count if isinstance(wire.size, Size) else 0.0


def up(current_a: float) -> str:
    return f"{current_a * 1.1 + 10.0:.0f} A"


@hazard("fuse far too large", "fuse-over-wire", "unprotected-wire", "fuse-over-slot")
def fuse_too_large(example: Example) -> Iterator[Mutant]:
    for number, name, _, wires in example.rated():
        row = example.rows[number]
        plus = [wire for wire in wires if is_plus(example, wire) and area_m2(wire)]
        if plus:
            rating = up(min(too_much_a(area_m2(wire)) for wire in plus))
            yield example.changed(name, {number: device_rated(row, rating)})


@hazard("fuse bridged with a bar", "no-battery-fuse", "unprotected-wire", "fuse-over-wire")
def fuse_bridged(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements(FUSES):
        head = re.match(r'(?:fuse|breaker)(\s+\S+\s+"[^"]*"\s+)', row)
        assert head
        bar = f"shunt{head[1]}900 A" + "".join(re.findall(r" on \S+", row))
        yield example.changed(name, {number: bar})


@hazard("wire fuse left out", "unprotected-wire", "no-battery-fuse", "fuse-over-wire",
        "fuse-too-far")  # fmt: skip
def inline_fuse_gone(example: Example) -> Iterator[Mutant]:
    for number, row in example.wires():
        if INLINE.search(row):
            yield example.changed(row.strip(), {number: INLINE.sub("", row, count=1)})


@hazard("circuit without a fuse", "fuse-over-wire", "unprotected-wire", "not-surveyed")
def circuit_fuse_gone(example: Example) -> Iterator[Mutant]:
    # In a slot it is a fuse that nobody has read; elsewhere it is none.
    for number, row, circuit in example.circuits():
        bare = re.sub(r"\s(?:fuse|breaker) [\d.]+ A(?:\s*,?\s*interrupts \S+ k?A| terminal-cube)?",
                      "", row, count=1)  # fmt: skip
        yield example.changed(circuit.place, {number: bare})


@hazard("fuse far along its wire", "fuse-too-far", "unprotected-wire", "no-battery-fuse",
        "fuse-over-wire")  # fmt: skip
def inline_fuse_moved(example: Example) -> Iterator[Mutant]:
    for number, row in example.wires():
        match = INLINE.search(row)
        if match:
            metric = re.search(r"[\d.]+ m\b", row) is not None
            long, after = ("40 m", "20 m") if metric else ("120 ft", "60 ft")
            moved = re.sub(r" at (\S+)", rf" {after} from \1", row)
            moved = re.sub(r"\b[\d.]+ (?:m|ft)\b", long, moved, count=1)
            yield example.changed(row.strip(), {number: moved})


@hazard("fuse far from its post", "fuse-too-far", "unprotected-wire", "no-battery-fuse")
def post_fuse_moved(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements(FUSES):
        match = re.search(r" on (\S+)", row)
        if match:
            off = row.replace(match[0], "", 1)
            far = f"wire {match[1]} to {name}.line 4 AWG red 12 ft"
            yield example.changed(name, {number: off}, [far])


@hazard("plus wire too thin", "fuse-over-wire", "unprotected-wire", "wire-overloaded",
        "no-battery-fuse", "fuse-too-far")  # fmt: skip
def wire_too_thin(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        ratings = [rated for _, _, rated, wires in example.rated() if wire in wires]
        thin = "0.75 mm2" if not wire.size_is_awg else "18 AWG"
        if (
            is_plus(example, wire)
            and not wire.cranking
            and max(ratings, default=0.0) > too_much_a(0.82e-6)
        ):
            yield example.changed(wire.name, sized(example, wire, thin))


@hazard("thinner wire found than belongs there", "wrong-wire-found", every=2)
def thinner_found(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        number = example.row(wire.span)
        if is_plus(example, wire) and area_m2(wire) > 1.1e-6:
            found = "18 AWG" if wire.size_is_awg else "0.75 mm2"
            row = with_facts(example.rows[number], f"found {found}")
            yield example.changed(wire.name, {number: row})


@hazard("wire thinner than any may be", "wire-below-least", every=3)
def below_least(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        if "least_gauge" in example.study.book.limits and wire.size_span.start >= wire.span.start:
            yield example.changed(wire.name, sized(example, wire, "22 AWG"))


@hazard("return too thin", "return-too-thin", "return-overloaded")
def return_too_thin(example: Example) -> Iterator[Mutant]:
    rated = {name: rating for _, name, rating, _ in example.rated()}
    for wire in stated(example):
        back = returns_of(example.study).get(wire.name)
        let_a = sum(rated.get(one.about.name, 0.0) for one in back.by) if back else 0.0
        if let_a > too_much_a(0.82e-6):
            thin = "0.75 mm2" if not wire.size_is_awg else "18 AWG"
            yield example.changed(wire.name, sized(example, wire, thin))


@hazard("thinner wire further on", "fuse-over-wire")
def step_down(example: Example) -> Iterator[Mutant]:
    # Before 18 AWG no more than 28 A at 105 °C and 40 °C: one and a half times 20 A of
    # 33 CFR 183.425 Table 5, corrected (seen); 15 A in the other books.
    most_a = 28.0 if example.study.book.name == "boat" else 15.0
    for _, row, circuit in example.circuits():
        rating = re.search(r"(?:fuse|breaker) ([\d.]+) A", row)
        if rating and float(rating[1]) > most_a and circuit.wires:
            wires = [example.study.rig.conductor(name) for name in circuit.wires]
            last = max(example.row(wire.span) for wire in wires)
            old = example.rows[last]
            thin = re.sub(r"[\d./]+ (?:AWG|mm2)", "18 AWG", old, count=1)
            yield example.changed(circuit.place, {last: f"{old}\n{thin}"})


@hazard("second battery without a fuse", "no-battery-fuse", "unprotected-wire", "fuse-over-wire")
def second_battery(example: Example) -> Iterator[Mutant]:
    minus = example.study.rig.sources[0].minus
    for end in bars(example):
        yield example.changed(end, {}, [
            'battery B9 "Added" flooded, 100 Ah, delivers 900 A',
            f"wire B9+ to {end} 6 AWG red 9 ft",
            f"wire B9- to {minus} 2 AWG black 9 ft",
        ])  # fmt: skip


def bars(example: Example) -> list[str]:
    """The panels and bars of the plus side at the volts of a 12 V battery or near."""
    rig, volts = example.study.rig, example.study.volts
    ends = [p.feed for p in rig.panels]
    ends += [j.terminal for j in rig.junctions if example.study.side.get(j.terminal) == "+"]
    return [end for end in ends if volts.get(end, 0.0) < 20.0 and "~" not in end]


@hazard("dead-ended wire on a post", "unprotected-wire", "fuse-over-wire", "no-battery-fuse")
def dead_end(example: Example) -> Iterator[Mutant]:
    for source in example.study.rig.sources:
        if source.kind in ("battery", "vehicle"):
            yield example.changed(
                source.plus, {}, ["splice Z99", f"wire {source.plus} to Z99 14 AWG red 9 ft"]
            )


@hazard("solar line without a fuse", "unprotected-wire", "fuse-over-wire", "no-battery-fuse")
def solar_unfused(example: Example) -> Iterator[Mutant]:
    for source in example.study.rig.sources:
        if source.kind == "battery":
            yield example.changed(source.plus, {}, [
                f"solar U9 10 A, {source.voltage_v:g} V",
                f"wire U9+ to {source.plus} 14 AWG red 9 ft",
                f"wire U9- to {source.minus} 14 AWG black 9 ft",
            ])  # fmt: skip


@hazard("second charger on a panel", "unprotected-wire", "fuse-over-wire", "return-too-thin")
def second_source(example: Example) -> Iterator[Mutant]:
    minus = example.study.rig.sources[0].minus
    for panel in example.study.rig.panels:
        volts = example.study.volts[panel.feed]
        yield example.changed(panel.about.name, {}, [
            f"charger C9 2000 A, {volts:g} V",
            f"wire C9+ to {panel.feed} 4/0 AWG red 3 ft",
            f"wire C9- to {minus} 4/0 AWG black 3 ft",
        ])  # fmt: skip


@hazard("charger larger than its wire", "unprotected-wire", "fuse-overloaded", "fuse-over-wire")
def charger_too_large(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("charger|solar|alternator|dc-dc"):
        yield example.changed(name, {number: re.sub(r"\b\d+ A\b", "2000 A", row, count=1)})


@hazard("fuse beside a fuse", "fuse-over-wire", "unprotected-wire", "no-battery-fuse")
def side_by_side(example: Example) -> Iterator[Mutant]:
    for number, _, name in example.statements(FUSES):
        device = example.study.device(name)
        assert device is not None
        ends = [_written(example, end) for end in (device.line, device.load)]
        yield example.changed(name, {number: example.rows[number] + " "}, [
            f"fuse F99 {up(too_much_a(107e-6))}, interrupts 20 kA",
            f"wire {ends[0]} to F99.line 4/0 AWG red 1 in",
            f"wire F99.load to {ends[1]} 4/0 AWG red 1 in",
        ], also=[number])  # fmt: skip


def _written(example: Example, end: str) -> str:
    """An end, or the far end of the wire on it where the text leaves open which end that is."""
    if f"{end} " in example.text or end.endswith(("+", "-")) or "on X1" in example.text:
        return end
    wire = next(w for w in example.study.rig.conductors if end in (w.a, w.b))
    return wire.b if wire.a == end else wire.a


@hazard("hot place", "fuse-over-wire", "unprotected-wire", "wire-overloaded", "no-battery-fuse",
        "fuse-too-far")  # fmt: skip
def hot_place(example: Example) -> Iterator[Mutant]:
    # At a kelvin below what its insulation stands a wire may carry a tenth of its current. The
    # table of branch circuits in book rv is not corrected for heat: its thin wires are left out.
    for wire in stated(example):
        rated = max((rated for _, _, rated, wires in example.rated() if wire in wires), default=0.0)
        thick = area_m2(wire) > (6e-6 if example.study.book.name == "rv" else 0.0)
        if (
            is_plus(example, wire)
            and not wire.cranking
            and thick
            and rated > 0.2 * too_much_a(area_m2(wire))
        ):
            hot = (wire.insulation_c or example.study.rig.insulation_c or 75.0) - 1.0
            number = example.row(wire.span)
            row = with_facts(example.rows[number], f"ambient {hot:g} degC")
            yield example.changed(wire.name, {number: row})
