"""Hazards of sources, bonds and kinds of fuses: what a sound text was not asked before."""

import re
from collections.abc import Iterator

from helpers.fed import fuse_at
from mutations.edits import Example, Mutant, with_facts
from mutations.hazard import hazard
from rigfolio.model import Source
from rigfolio.units import Size


@hazard("lithium in place of lead behind an alternator", "alternator-to-lithium")
def lithium_behind_alternator(example: Example) -> Iterator[Mutant]:
    running = [s for s in example.study.rig.sources if s.kind == "alternator"]
    for number, row, name in example.statements("battery"):
        battery = example.study.rig.by_name.sources[name]
        reached = any(battery.plus in example.study.net.walk([one.plus]) for one in running)
        if reached and battery.chemistry != "lithium":
            lithium = re.sub(r"\b(agm|flooded|gel)\b", "lithium", row)
            also = [example.row(one.about.span) for one in running]
            yield example.changed(name, {number: lithium}, also=also)


@hazard("alternator on a selector", "alternator-loses-battery")
def alternator_on_selector(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery" and battery.voltage_v < 20.0:
            minus = battery.minus
            yield example.changed(battery.about.name, {}, [
                "alternator A9 40 A", "selector X9 300 A",
                "wire A9+ to X9.common 2/0 AWG red 1 ft",
                f"wire X9.1 to {battery.plus} 2/0 AWG red 1 ft, fuse 60 A at {battery.plus} "
                "terminal-cube interrupts 20 kA",
                f"wire A9- to {minus} 2/0 AWG black 1 ft",
            ])  # fmt: skip


def _behind_switch(example: Example, kind: str, name: str) -> Iterator[Mutant]:
    """Each battery with a source beside it that charges it through a switch."""
    for battery in example.study.rig.sources:
        if battery.kind == "battery":
            yield example.changed(battery.about.name, {}, [
                f"{kind} {name} 5 A, {battery.voltage_v:g} V", "switch K9 20 A",
                f"wire {name}+ to K9.load 10 AWG red 1 ft",
                f"wire K9.line to {battery.plus} 10 AWG red 1 ft, "
                + fuse_at(battery.about.name, 10),
                f"wire {name}- to {battery.minus} 10 AWG black 1 ft",
            ])  # fmt: skip


@hazard("solar behind a switch of its own", "solar-loses-battery")
def solar_behind_switch(example: Example) -> Iterator[Mutant]:
    yield from _behind_switch(example, "solar", "U9")


@hazard("turbine behind a switch of its own", "turbine-loses-battery")
def turbine_behind_switch(example: Example) -> Iterator[Mutant]:
    yield from _behind_switch(example, "turbine", "T9")


@hazard("frame without a bond", "frame-not-bonded")
def frame_alone(example: Example) -> Iterator[Mutant]:
    yield example.changed("G9", {}, ["chassis G9"])


@hazard("thin bond beside a starter's cable", "start-through-bond")
def bond_beside_start(example: Example) -> Iterator[Mutant]:
    for wire in example.study.rig.conductors:
        back = example.study.side.get(wire.a) == "-"
        if wire.cranking and back and isinstance(wire.size, Size):
            yield example.changed(wire.name, {}, [
                "load M9 1000 A, momentary, motor, drop 50 %",
                f"wire M9+ to {example.study.rig.sources[0].plus} 4/0 AWG red 1 ft cranking",
                f"wire M9- to {wire.a} 4/0 AWG black 1 ft cranking",
                f"wire {wire.a} to {wire.b} 12 AWG green 2 in",
            ])  # fmt: skip


@hazard("found far too large where what belongs is not known", "wrong-fuse-found")
def found_too_large(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        rating = re.search(r"(fuse|breaker) [\d.]+ A", row)
        if rating and circuit.place.startswith("P"):
            asked = row.replace(rating[0], f"{rating[1]} ?, found 400 A", 1)
            yield example.changed(circuit.place, {number: asked})


@hazard("blade of 32 V at 48 V", "voltage-rating-low")
def blade_at_48_volts(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery" and battery.voltage_v > 40.0:
            yield example.changed(battery.about.name, {}, [
                "load M9 1 A",
                f"wire {battery.plus} to M9+ 10 AWG red 1 ft, fuse 10 A at {battery.plus} maxi",
                f"wire M9- to {battery.minus} 10 AWG black 1 ft",
            ])  # fmt: skip


@hazard("breaker that resets itself on brakes", "breaker-resets-itself")
def brakes_on_self_reset(example: Example) -> Iterator[Mutant]:
    source = next(s for s in example.study.rig.sources if s.kind == "battery")
    volts = source.voltage_v
    yield example.changed("M9", {}, [
        'load M9 "Trailer brakes" 5 A, momentary, always on',
        f"wire {source.plus} to M9+ 10 AWG red 1 ft, breaker 10 A at {source.plus}, interrupts "
        f"20 kA, resets by itself, rated {max(volts, 32.0):g} V",
        f"wire M9- to {source.minus} 10 AWG black 1 ft",
    ])  # fmt: skip


@hazard("twin of a battery on long leads", "batteries-unequal-leads")
def twin_on_long_leads(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("battery"):
        battery = example.study.rig.by_name.sources[name]
        twin = re.sub(rf"\b{name}\b", "B9", row, count=1)
        fed = any(
            load.plus in example.study.net.walk([battery.plus]) for load in example.study.rig.loads
        )
        if fed and battery.chemistry:
            yield example.changed(name, {number: with_facts(row, "")}, [
                twin,
                f"wire B9+ to {battery.plus} 8 AWG red 20 ft",
                f"wire B9- to {battery.minus} 8 AWG black 20 ft",
            ], also=[number])  # fmt: skip


@hazard("second fuse in a holder beside the first", "fuses-side-by-side", "fuse-over-wire",
        "unprotected-wire")  # fmt: skip
def second_holder(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("fuse"):
        post = re.search(r" on (\S+)", row)
        if post:
            yield example.changed(name, {}, [
                f"fuse F99 5 A on {post[1]} interrupts 20 kA rated 125 V",
                f"wire F99.load to {name}.load 4/0 AWG red 1 in",
            ], also=[number])  # fmt: skip


@hazard("source with a minus that hangs free", "source-not-joined")
def source_half_joined(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery":
            yield example.changed(battery.about.name, {}, [
                f"charger C9 5 A, {battery.voltage_v:g} V",
                f"wire C9+ to {battery.plus} 10 AWG red 1 ft, "
                + fuse_at(battery.about.name, 10),
            ])  # fmt: skip


@hazard("battery of other volts beside another", "unlike-volts-joined")
def unlike_volts(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery":
            yield example.changed(battery.about.name, {}, _beside(battery, 2.0 * battery.voltage_v))


@hazard("lead beside lithium, gel beside the rest", "unlike-chemistries")
def unlike_chemistry(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery" and battery.chemistry:
            other = "lithium" if battery.chemistry != "lithium" else "flooded"
            yield example.changed(
                battery.about.name, {}, _beside(battery, battery.voltage_v, f", {other}")
            )


def _beside(battery: Source, volts: float, more: str = "") -> list[str]:
    """Another battery side by side with one, by its plus with a fuse and by its minus."""
    return [
        f"battery B9 100 Ah, {volts:g} V, delivers 900 A{more}",
        f"wire B9+ to {battery.plus} 2 AWG red 1 ft, fuse 100 A at B9+ interrupts 20 kA",
        f"wire B9- to {battery.minus} 2 AWG black 1 ft",
    ]


@hazard("charger that gives too many volts", "charge-volts-unfit")
def too_many_volts(example: Example) -> Iterator[Mutant]:
    for battery in example.study.rig.sources:
        if battery.kind == "battery" and battery.chemistry:
            yield example.changed(battery.about.name, {}, [
                f"charger C9 5 A, {1.26 * battery.voltage_v:.1f} V",
                f"wire C9+ to {battery.plus} 10 AWG red 1 ft, "
                + fuse_at(battery.about.name, 10),
                f"wire C9- to {battery.minus} 10 AWG black 1 ft",
            ])  # fmt: skip


@hazard("charger alone before a load that asks more", "source-overloaded")
def lone_charger(example: Example) -> Iterator[Mutant]:
    yield example.changed("C9", {}, [
        "charger C9 5 A", "load L9 20 A",
        "wire C9+ to L9+ 4 AWG red 1 ft", "wire L9- to C9- 4 AWG black 1 ft",
    ])  # fmt: skip
