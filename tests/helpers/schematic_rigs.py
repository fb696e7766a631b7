"""Rigs to draw: a boat with everything, panels of any number of slots, and tangles."""

from random import Random

from helpers.forgotten import cache
from helpers.label_rigs import job_of
from rigfolio.judgement.result import understood

HERON = """
rig "Heron"
    system 12 V
    rules boat
    paper a4

battery    B1 "Start battery" flooded, 80 Ah, internal 6 mohm
battery    B2 "House bank" agm, 210 Ah, internal 4 mohm
alternator A1 "Alternator" 90 A
charger    C1 "Shore charger" 30 A
solar      R1 "Solar controller" 20 A
fuse       F1 "Start fuse" 150 A on B1+
fuse       F2 "House fuse" 200 A
selector   S1 "Battery selector" 250 A
combiner   K1 "Combiner" 120 A
shunt      H1 "Battery shunt" 500 A
busbar     J1 "Positive bar" 250 A
busbar     N1 "Negative bar" 250 A
busbar     N2 "Navigation negative bar" 100 A
panel      P1 "Main panel" 12 slots of 20 A, 100 A in all, main breaker 80 A, breakers, negative N1
panel      P2 "Navigation panel" 6 slots of 15 A, 30 A in all, negative N2
chassis    G1 "Engine block"
inverter   V1 "Inverter" 1000 W, efficiency 90 %

wire F1.load to S1.1    1/0 AWG red 4 ft
wire B2+ to F2.line     1/0 AWG red 6 in
wire F2.load to S1.2    1/0 AWG red 5 ft
wire S1.common to J1    1/0 AWG red 3 ft
wire J1 to P1           6 AWG red 6 ft
wire J1 to V1+          1/0 AWG red 4 ft, fuse 150 A at J1
wire A1+ to B1+         4 AWG red 5 ft
wire F1.load to K1.1    6 AWG red 3 ft
wire K1.2 to F2.line    6 AWG red 3 ft
wire C1+ to F2.line     8 AWG red/yellow 6 ft, fuse 40 A at F2.line
wire R1+ to J1          10 AWG red 8 ft, fuse 25 A
wire B1- to N1          1/0 AWG yellow 4 ft
wire B2- to H1.line     1/0 AWG yellow 1 ft
wire H1.load to N1      1/0 AWG yellow 2 ft
wire N2 to N1           8 AWG yellow 9 ft
wire A1- to G1          4 AWG yellow 1 ft
wire G1 to N1           1/0 AWG yellow 4 ft
wire C1- to N1          8 AWG yellow 6 ft
wire R1- to N1          10 AWG yellow 8 ft
wire V1- to N1          1/0 AWG yellow 4 ft

circuit P1.1 "Cabin lights" breaker 10 A
    wire 14 AWG blue 12 ft
    load "Saloon lamp" 6 W, led
    wire 16 AWG blue 8 ft
    load "Galley lamp" 6 W, led
    load "Chart lamp" 3 W, led
    wire 16 AWG blue 6 ft
    load "Heads lamp" 4 W, led
circuit P1.2 "Fresh water pump" breaker 10 A
    wire 14 AWG brown 14 ft
    switch "Pump switch" 15 A
    wire 14 AWG brown 3 ft
    load "Pump" 6 A, intermittent, motor
    return 14 AWG yellow 17 ft
circuit P1.3 "Cabin heater" breaker 15 A
    wire 12 AWG orange 9 ft
    splice X1
    wire 14 AWG orange 4 ft
    load "Heater fan" 40 W, motor
    wire 12 AWG orange 3 ft from X1
    load "Glow plug" 96 W, heater
circuit P1.4 "Navigation feed" breaker 20 A
    wire 8 AWG red 9 ft to P2
circuit P1.5 "Fridge" breaker 15 A
    wire 12 AWG grey ?
    load "Fridge compressor" ?
    return ?
circuit P1.6 "Sockets" breaker 15 A
    wire 12 AWG pink 10 ft
    load "Aft socket" 5 A
    load "Forward socket" 5 A
slot P1.11 spare
slot P1.12 blank
circuit P2.1 "Anchor light" fuse 3 A
    wire 16 AWG grey/white 42 ft
    load "Anchor lamp" 10 W, filament
circuit P2.2 "Plotter" fuse 5 A
    wire 16 AWG red/blue 6 ft
    load "Chart plotter" 2 A, electronics
circuit P2.3 "VHF" fuse 7.5 A
    wire 14 AWG red/white 7 ft
    load "VHF radio" 5 A, electronics
    return 14 AWG black 7 ft
circuit P2.4 "Horn" fuse 10 A
    wire 14 AWG ? 20 ft
    load "Horn" 4 A, momentary
    return to G1
circuit F2.line "Bilge pump" fuse 7.5 A, always on
    wire 14 AWG brown/red 12 ft
    load "Bilge pump" 4 A, motor, intermittent
    return to N1
"""

_COLOURS = ("red", "yellow/black", "?", "blue/white", "orange", "brown/red", "grey", "white")
_SIZES = ("14 AWG", "16 AWG", "12 AWG", "?", "10 AWG")


@cache
def heron():
    """A boat with two banks, two panels, a shunt, a selector and a combiner."""
    return job_of(HERON)


def lines_of(slots, *, panels=1, banks=1, kinds=0):
    """The text of a rig with panels of so many slots; `kinds` shifts what stands in which slot."""
    yield from ('rig "Reed Bunting"', "    rules rv", 'busbar N1 "Negative bar" 200 A',
                'chassis G1 "Frame"', 'busbar J1 "Positive bar"')  # fmt: skip
    for bank in range(1, banks + 1):
        yield f'battery B{bank} "Bank {bank}" agm, 100 Ah'
        yield f'fuse F{bank} "Bank fuse {bank}" 100 A'
        yield f"wire B{bank}+ to F{bank}.line 2 AWG red 1 ft"
        yield f"wire F{bank}.load to J1 2 AWG red 4 ft"
        yield f"wire B{bank}- to N1 2 AWG black 5 ft"
    for number in range(1, panels + 1):
        yield f'panel P{number} "Panel {number}" {slots} slots of 30 A, negative N1'
        yield f"wire J1 to P{number} 4 AWG red 6 ft"
        for slot in range(1, slots + 1):
            yield from _slot(f"P{number}.{slot}", slot + kinds + 3 * number)
    yield 'circuit J1 "Gas detector" fuse 3 A, always on'
    yield "    wire 16 AWG ? 9 ft"
    yield '    load "Detector" 0.15 A'
    yield "    return to N1"


def _slot(place, kind):
    colour, size = _COLOURS[kind % 8], _SIZES[kind % 5]
    if kind % 7 == 0:
        yield f"slot {place} {'spare' if kind % 2 else 'blank'}"
        return
    if kind % 11 == 0:
        return
    yield f'circuit {place} "Circuit of {place}" fuse {("5 A", "?", "10 A")[kind % 3]}'
    yield f"    wire {size} {colour} {kind} ft"
    if kind % 3 == 0:
        yield "    switch 10 A"
        yield f"    wire {size} {colour} 2 ft"
    for load in range(1 + (kind % 4 == 0) + (kind % 8 == 0)):
        yield f'    load "Consumer {place} {load}" {1 + load} A'
    if kind % 5 == 0:
        yield f"    wire 16 AWG {colour} 7 ft"
        yield f'    load "Far end of {place}" 12 W, led'
    if kind % 6 == 1:
        yield "    return 14 AWG white 11 ft"
    elif kind % 6 == 2:
        yield "    return to G1"
    elif kind % 13 == 5:
        yield "    return ?"


def panels_of(slots, *, panels=1, banks=1, kinds=0):
    """A job for `lines_of`."""
    return job_of("\n".join(lines_of(slots, panels=panels, banks=banks, kinds=kinds)) + "\n")


_PARTS = (
    ('battery B{} "Bank {}" agm, 100 Ah', ("B{}+", "B{}-"), 3),
    ('charger C{} "Charger {}" 30 A', ("C{}+", "C{}-"), 2),
    ('solar R{} "Solar {}" 30 A', ("R{}+", "R{}-"), 1),
    ('dc-dc D{} "Converter {}" 30 A', ("D{}.in", "D{}.out", "D{}-"), 1),
    ('fuse F{} "Fuse {}" 50 A', ("F{}.line", "F{}.load"), 4),
    ('disconnect S{} "Disconnect {}" 50 A', ("S{}.line", "S{}.load"), 2),
    ('selector Q{} "Selector {}" 50 A', ("Q{}.1", "Q{}.2", "Q{}.common"), 1),
    ('combiner K{} "Combiner {}" 50 A', ("K{}.1", "K{}.2"), 1),
    ('shunt H{} "Shunt {}" 50 A', ("H{}.line", "H{}.load"), 1),
    ('connector X{} "Plug {}" 2 pins', ("X{}.1.line", "X{}.1.load", "X{}.2.line", "X{}.2.load"), 1),
    ('busbar N{} "Bar {}" 100 A', ("N{}",), 3),
    ('splice Y{} "Splice {}"', ("Y{}",), 1),
    ('chassis G{} "Frame {}"', ("G{}",), 2),
    ('inverter V{} "Inverter {}" 500 W', ("V{}+", "V{}-"), 2),
    ('load L{} "Load {}" 50 W', ("L{}+", "L{}-"), 2),
    ('panel P{} "Panel {}" 5 slots', ("P{}",), 2),
)


def tangle(seed):
    """The text of a rig whose wires lead anywhere: nothing that anybody would build.

    Batteries that come to stand one after the other are refused, so others are drawn then.
    """
    chance = Random(seed)
    while True:
        text = _tangle(chance)
        if understood("tangle.rig", text=text).study is not None:
            return text


def _tangle(chance):
    lines, ends, places = ['rig "Tangle"', "    rules rv"], [], []
    for words, terminals, most in _PARTS:
        for number in range(chance.randint(0, most)):
            lines.append(words.format(number, number))
            ends += [terminal.format(number) for terminal in terminals]
            if words.startswith("panel"):
                places += [f"P{number}.{slot}" for slot in range(1, 6)]
    for _ in range(chance.randint(1, 18) if ends else 0):
        one, two = chance.choice(ends), chance.choice([*ends, "?"])
        fuse = f", fuse 30 A at {one}" if chance.random() < 0.2 else ""
        colour = chance.choice(("red", "black", "?", "yellow/green"))
        lines.append(f"wire {one} to {two} {chance.choice(('6 AWG', '?'))} {colour} 3 ft{fuse}")
    starts = [end for end in ends if not end.startswith("P")]
    for place in [*places, *chance.sample(starts, min(2, len(starts)))]:
        if chance.random() < 0.7:
            lines += _tangled(place, ends, chance)
    return "\n".join(lines) + "\n"


def _tangled(place, ends, chance):
    yield f'circuit {place} "Circuit {place}" fuse {chance.choice(("5 A", "?"))}'
    if chance.random() < 0.15:
        yield f"    wire 14 AWG white/red 9 ft to {chance.choice(ends)}"
        return
    yield "    wire 14 AWG ? 9 ft"
    if chance.random() < 0.3:
        yield "    switch 10 A"
    leads = ", leads 18 AWG 6 in" if chance.random() < 0.2 else ""
    yield f'    load "Thing {place}" {chance.choice(("2 A", "?", "20 W"))}{leads}'
    if chance.random() < 0.3:
        yield "    wire 16 AWG blue 4 ft"
        yield f'    load "More {place}" 3 A'
    back = chance.random()
    if back < 0.3:
        yield ("    return 14 AWG black 4 ft", "    return ?")[back < 0.1]
    elif back < 0.5:
        yield f"    return to {chance.choice(ends)}"


def web(bars, wires, seed=1):
    """The text of a rig of bars that are wired to each other anyhow: no page can hold that well."""
    chance = Random(f"web {seed}")
    lines = ['rig "Web"', 'busbar N1 "Minus bar" 250 A', 'battery B1 "Bank" agm, 100 Ah',
             "wire B1+ to D1 2 AWG red 3 ft", "wire B1- to N1 2 AWG black 3 ft"]  # fmt: skip
    lines += [f'busbar D{number} "Bar {number}" 250 A' for number in range(1, bars + 1)]
    for _ in range(wires):
        one, two = chance.sample(range(1, bars + 1), 2)
        lines.append(f"wire D{one} to D{two} 6 AWG red 3 ft")
    return "\n".join(lines) + "\n"


def many_batteries(count):
    """The text of a rig of parallel batteries, each with its fuse."""
    lines = ['rig "Many"', "busbar D1", "busbar N1"]
    for number in range(1, count + 1):
        lines += [f'battery B{number} "Bank {number}" agm, 100 Ah',
                  f"wire B{number}+ to D1 2 AWG red 3 ft, fuse 100 A at B{number}+",
                  f"wire B{number}- to N1 2 AWG black 3 ft"]  # fmt: skip
    return "\n".join(lines) + "\n"
