"""Hazards that a plate or a resting contact tells: volts, hours, ways, poles, isolated sides."""

from collections.abc import Iterator

from helpers.fed import fed
from mutations.edits import Example, Mutant, with_facts
from mutations.hazard import hazard
from rigfolio.model import Source


def _batteries(example: Example) -> Iterator[Source]:
    return (one for one in example.study.rig.sources if one.kind == "battery")


@hazard("load made for other volts", "load-volts-unfit")
def load_of_other_volts(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        for made_v in (0.5 * battery.voltage_v, 2.0 * battery.voltage_v):
            yield example.changed(f"{battery.about.name}, {made_v:g} V", {}, [
                f"load M9 1 A, made for {made_v:g} V",
                fed(battery.about.name, "M9+", "14 AWG red 1 ft", 5),
                f"wire M9- to {battery.minus} 14 AWG black 1 ft",
            ])  # fmt: skip


@hazard("more wires on a bar than it has ways", "stud-crowded")
def bar_without_ways(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("busbar"):
        held = sum(name in (wire.a, wire.b) for wire in example.study.rig.conductors)
        if held > 1:
            yield example.changed(name, {number: with_facts(row, f"{held - 1} ways")})


def _with_freezer(example: Example, fact: str) -> Iterator[Mutant]:
    """Each battery with one fact more, and with a load of 4 A for hours on it."""
    for number, row, name in example.statements("battery"):
        battery = example.study.rig.by_name.sources[name]
        yield example.changed(name, {number: with_facts(row, fact)}, [
            'load M9 "Freezer" 4 A, 24 h/day, electronics',
            fed(battery.about.name, "M9+", "10 AWG red 1 ft", 10),
            f"wire M9- to {battery.minus} 10 AWG black 1 ft",
        ])  # fmt: skip


@hazard("battery that gives little for hours", "source-overloaded")
def battery_of_few_amperes(example: Example) -> Iterator[Mutant]:
    yield from _with_freezer(example, "gives 2 A for hours")


@hazard("battery that cuts off early", "battery-cuts-off")
def battery_cut_off_early(example: Example) -> Iterator[Mutant]:
    yield from _with_freezer(example, "cuts off above 2 A")


@hazard("battery that takes no charge in the cold", "charge-in-cold")
def battery_charged_in_frost(example: Example) -> Iterator[Mutant]:
    (number, row, _), *_ = example.statements("rig")
    for at, said, battery in example.statements("battery"):
        yield example.changed(battery, {
            number: with_facts(row, "coldest -20 degC"),
            at: with_facts(said, "no charge below 0 degC"),
        }, [
            'charger C9 2 A',
            fed("C9", f"{battery}+", "10 AWG red 1 ft", 10),
            f"wire C9- to {battery}- 10 AWG black 1 ft",
        ])  # fmt: skip


@hazard("fuse of too few volts in a minus lead", "voltage-rating-low")
def weak_fuse_in_the_minus(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        yield example.changed(battery.about.name, {}, [
            "load M9 1 A",
            f"fuse F9 5 A, interrupts 20 kA, rated {0.6 * battery.voltage_v:.0f} V",
            fed(battery.about.name, "M9+", "14 AWG red 1 ft", 5),
            "wire M9- to F9.load 14 AWG black 1 ft",
            f"wire F9.line to {battery.minus} 14 AWG black 1 ft",
        ])  # fmt: skip


@hazard("detector behind a switch that rests open", "always-on-behind-disconnect")
def detector_behind_resting_switch(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        yield example.changed(battery.about.name, {}, [
            "switch K9 5 A, rests open, rated 60 V",
            'load M9 "Gas detector" 0.1 A, always on',
            fed(battery.about.name, "K9.line", "16 AWG red 1 ft", 3),
            "wire K9.load to M9+ 16 AWG red 1 ft",
            f"wire M9- to {battery.minus} 16 AWG black 1 ft",
        ])  # fmt: skip


@hazard("detector whose minus a second pole takes away", "always-on-behind-disconnect")
def detector_on_a_pole(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        yield example.changed(battery.about.name, {}, [
            "disconnect S9 20 A, two poles, rated 60 V",
            'load M9 "Gas detector" 0.1 A, always on',
            "load M8 1 A",
            fed(battery.about.name, "S9.1.line", "14 AWG red 1 ft", 5),
            "wire S9.1.load to M8+ 14 AWG red 1 ft",
            f"wire {battery.minus} to S9.2.line 14 AWG black 1 ft",
            "wire S9.2.load to M8- 14 AWG black 1 ft",
            fed(battery.about.name, "M9+", "16 AWG red 1 ft", 3),
            "wire M9- to M8- 16 AWG black 1 ft",
        ])  # fmt: skip


@hazard("return of a panel that returns elsewhere", "return-from-nothing")
def return_of_nothing(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        yield example.changed(battery.about.name, {}, [
            "busbar N9 20 A",
            f"wire N9 to {battery.minus} 14 AWG black 1 ft",
            "panel P9 2 slots of 10 A, negative N9",
            f'circuit {battery.plus} "Block" fuse 5 A',
            "    wire   14 AWG red 1 ft to P9",
            f"    return 14 AWG black 1 ft to {battery.minus}",
        ])  # fmt: skip


@hazard("finding accepted that is not there", "accepted-not-found")
def accepted_in_vain(example: Example) -> Iterator[Mutant]:
    for circuit in example.study.rig.circuits:
        if not circuit.panel:
            continue
        yield example.changed(circuit.place, {}, [
            f'accept fuse-over-wire at {circuit.place} "a smaller fuse is on order" 2026-03-14',
        ])  # fmt: skip


@hazard("load of an isolated converter that returns to the wrong side", "load-without-path",
        "missing-return")  # fmt: skip
def return_to_the_wrong_side(example: Example) -> Iterator[Mutant]:
    for battery in _batteries(example):
        yield example.changed(battery.about.name, {}, [
            f"dc-dc E9 5 A, from {battery.voltage_v:g} V to 12 V, efficiency 85 %, isolated",
            "load M9 1 A",
            fed(battery.about.name, "E9.in", "12 AWG red 1 ft", 10),
            f"wire E9.in- to {battery.minus} 12 AWG black 1 ft",
            "wire E9.out to M9+ 14 AWG red 1 ft",
            f"wire M9- to {battery.minus} 14 AWG black 1 ft",
        ])  # fmt: skip
