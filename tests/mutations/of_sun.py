"""Hazards between solar modules and their controller, put beside any sound rig."""

from collections.abc import Iterator

from helpers.fed import fuse_at
from mutations.edits import Example, Mutant
from mutations.hazard import hazard
from rigfolio.model import Source

MODULE = "open circuit 22.4 V, short circuit 6 A, series fuse 15 A"

SIX = "6 strings in parallel, open circuit 22.4 V, short circuit 6 A, series fuse 30 A"


def roof(battery: Source, arrays: list[str], wires: list[str], bears_v: int = 75) -> list[str]:
    """Arrays and the lines between them and a controller on a battery."""
    return [
        *arrays, "busbar N8 60 A", "busbar N9 60 A",
        f"solar U9 5 A, {battery.voltage_v:g} V, input {bears_v} V",
        f"wire U9+ to {battery.plus} 10 AWG red 1 ft, {fuse_at(battery.about.name, 10)}",
        f"wire U9- to {battery.minus} 10 AWG black 1 ft", *wires,
    ]  # fmt: skip


def to_bars(*names: str, size: str = "10 AWG") -> list[str]:
    """Every array by leads of its own to the two bars of the roof."""
    return [
        line
        for name in names
        for line in (
            f"wire {name}+ to N8 {size} red 6 ft", f"wire {name}- to N9 {size} black 6 ft",
        )
    ]  # fmt: skip


IN = ["wire N8 to U9.in 4 AWG red 3 ft", "wire N9 to U9.in- 4 AWG black 3 ft"]


def banks(example: Example) -> Iterator[Source]:
    """The batteries of a rig."""
    yield from (one for one in example.study.rig.sources if one.stores)


@hazard("modules of too many volts for their controller", "array-over-input")
def over_input(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        arrays = [f"array Y9 4 modules in series, {MODULE}"]
        more = roof(battery, arrays, [*to_bars("Y9"), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("modules of too few volts for the battery", "array-under-battery")
def under_battery(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        # A module that is made for banks of half the volts.
        low = f"array Y9 {MODULE}".replace("22.4 V", f"{0.9 * battery.voltage_v:.1f} V")
        more = roof(battery, [low], [*to_bars("Y9"), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("input of a controller that nobody has read", "array-over-input")
def input_unread(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        more = roof(battery, [f"array Y9 {MODULE}"], [*to_bars("Y9"), *IN])
        unread = [line.replace("input 75 V", "input ?") for line in more]
        yield example.changed(battery.about.name, {}, unread)


@hazard("four strings without fuses", "array-fed-back")
def strings_unfused(example: Example) -> Iterator[Mutant]:
    names = ("Y6", "Y7", "Y8", "Y9")
    for battery in banks(example):
        more = roof(battery, [f"array {one} {MODULE}" for one in names], [*to_bars(*names), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("unlike strings side by side", "strings-unlike")
def unlike_strings(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        arrays = [f"array Y8 {MODULE}", f"array Y9 2 modules in series, {MODULE}"]
        more = roof(battery, arrays, [*to_bars("Y8", "Y9"), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("modules the wrong way round", "array-reversed")
def reversed_modules(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        wires = ["wire Y9+ to N9 10 AWG red 6 ft", "wire Y9- to N8 10 AWG black 6 ft", *IN]
        more = roof(battery, [f"array Y9 {MODULE}"], wires)
        yield example.changed(battery.about.name, {}, more)


@hazard("modules without a controller", "unlike-volts-joined")
def no_controller(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        yield example.changed(battery.about.name, {}, [
            f"array Y9 4 modules in series, {MODULE}",
            f"wire Y9+ to {battery.plus} 10 AWG red 6 ft, {fuse_at(battery.about.name, 30)}",
            f"wire Y9- to {battery.minus} 10 AWG black 6 ft",
        ])  # fmt: skip


@hazard("isolator of too few volts on the roof", "voltage-rating-low")
def isolator_of_few_volts(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        wires = [*to_bars("Y9"), "disconnect S9 60 A, rated 24 V", "wire N8 to S9 4 AWG red 3 ft",
                 "wire S9 to U9.in 4 AWG red 3 ft", IN[1]]  # fmt: skip
        more = roof(battery, [f"array Y9 3 modules in series, {MODULE}"], wires)
        yield example.changed(battery.about.name, {}, more)


@hazard("modules that nothing parts from their controller", "array-not-parted")
def not_parted(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        more = roof(battery, [f"array Y9 {MODULE}"], [*to_bars("Y9"), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("thin wire on the roof", "unprotected-wire", "wire-overloaded")
def thin_roof_wire(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        arrays = [f"array Y9 {SIX}"]
        more = roof(battery, arrays, [*to_bars("Y9", size="18 AWG"), *IN])
        yield example.changed(battery.about.name, {}, more)


@hazard("thin return on the roof", "return-too-thin", "return-overloaded")
def thin_roof_return(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        arrays = [f"array Y9 {SIX}"]
        wires = ["wire Y9+ to N8 4 AWG red 6 ft", "wire Y9- to N9 18 AWG black 6 ft", *IN]
        yield example.changed(battery.about.name, {}, roof(battery, arrays, wires))


@hazard("detector that the sun alone keeps on", "always-on-behind-disconnect")
def kept_by_the_sun(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        more = roof(battery, [f"array Y9 {MODULE}"], [*to_bars("Y9"), *IN])
        line = f"wire U9+ to {battery.plus} 10 AWG red 1 ft, {fuse_at(battery.about.name, 10)}"
        moved = ["wire U9+ to S9.load 10 AWG red 1 ft" if one == line else one for one in more]
        yield example.changed(battery.about.name, {}, [
            *moved, 'load M9 "CO detector" 0.1 A, always on', "disconnect S9 100 A",
            f"wire {battery.plus} to S9.line 4 AWG red 1 ft, {fuse_at(battery.about.name, 30)}",
            "wire S9.load to M9+ 10 AWG red 2 ft", f"wire M9- to {battery.minus} 10 AWG black 2 ft",
        ])  # fmt: skip


@hazard("string fuse that bears no bright sun", "bright-sun")
def fuse_in_bright_sun(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        wires = ["wire Y9+ to N8 10 AWG red 6 ft, fuse 7.5 A rated 100 V at N8",
                 "wire Y9- to N9 10 AWG black 6 ft", *IN]  # fmt: skip
        yield example.changed(battery.about.name, {}, roof(battery, [f"array Y9 {MODULE}"], wires))


@hazard("isolator that bears no bright sun", "bright-sun")
def isolator_for_the_label(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        wires = [*to_bars("Y9"), "disconnect S9 6 A, rated 60 V", "wire N8 to S9 4 AWG red 3 ft",
                 "wire S9 to U9.in 4 AWG red 3 ft", IN[1]]  # fmt: skip
        yield example.changed(battery.about.name, {}, roof(battery, [f"array Y9 {MODULE}"], wires))


@hazard("heater that glows behind a breaker on thin wire", "start-heats-wire", "voltage-drop")
def glows_on_thin_wire(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        guard = "breaker 15 A interrupts 20 kA after 4 in, rated 60 V"
        yield example.changed(battery.about.name, {}, [
            f'circuit {battery.plus} "Air heater" {guard}',
            "    wire 14 AWG red 2 ft",
            '    load "Air heater" 3 A, starts at 15 times for 5 min',
            f"    return 14 AWG black 2 ft to {battery.minus}",
        ])  # fmt: skip


@hazard("long lead from the roof", "array-drop")
def long_roof_lead(example: Example) -> Iterator[Mutant]:
    for battery in banks(example):
        wires = ["wire Y9+ to N8 8 AWG red 120 ft", "wire Y9- to N9 8 AWG black 120 ft", *IN]
        arrays = [f"array Y9 {MODULE}, 105 W, works at 18.6 V"]
        yield example.changed(battery.about.name, {}, roof(battery, arrays, wires))
