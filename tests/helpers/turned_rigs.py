"""Rigs with switches of which one position is made at a time, and the same with plain switches."""

from collections.abc import Iterator, Mapping
from itertools import product
from random import Random

from rigfolio.model import Device, Rig
from rigfolio.network import Stand, changeovers
from rigfolio.record import replace

HEAD = """rig "Turned" system 12 V, rules boat
battery B1 "House" agm, 100 Ah, internal 5 mohm
busbar N1
panel P1 8 slots
wire B1- to N1 6 AWG black 2 ft
wire B1+ to P1 6 AWG red 3 ft, fuse 60 A class T at B1+, interrupts 20 kA
"""
PUMP = """circuit P1.{n} "Pump {n}" fuse 10 A
    wire 14 AWG brown 3 ft
    changeover SP{n} 10 A, {rest}1 "manual", 2 "automatic"
    wire from SP{n}.1 to J{n} 14 AWG brown {a} ft
    wire from SP{n}.2 14 AWG brown {b} ft
    switch SF{n} 10 A, rests open
    wire to J{n} 14 AWG brown 1 ft
    splice J{n}
    wire 14 AWG brown 1 ft
    load "Pump {n}" {c} A
"""
LIGHTS = """circuit P1.{n} "Lights {n}" fuse 5 A
    wire 16 AWG grey 3 ft
    changeover SN{n} 5 A, {rest}1 "anchor", 2 "steaming"
    wire from SN{n}.1 16 AWG grey {a} ft
    load "Anchor {n}" 3 W, 8 h/day
    wire from SN{n}.2 16 AWG grey {b} ft
    load "Steaming {n}" 10 W
    load "Masthead {n}" {c} W
"""
PAIR = """circuit P1.{n} "Lamp {n}" fuse 5 A
    wire 16 AWG red 3 ft
    changeover SA{n} 5 A
    wire from SA{n}.1 to SB{n}.1 16 AWG red {a} ft
    wire from SA{n}.2 to SB{n}.2 16 AWG red {b} ft
    changeover SB{n} 5 A
    wire 16 AWG red 3 ft
    load "Lamp {n}" {c} W
"""
JACK = """circuit P1.{n} "Jack {n}" fuse 5 A
    wire 16 AWG red 3 ft
    changeover SJ{n} 5 A, rests off, 1 "up", 2 "down"
    wire from SJ{n}.1 16 AWG red {a} ft
    load "Up coil {n}" 1 A, momentary
    wire from SJ{n}.2 16 AWG red {b} ft
    load "Down coil {n}" {c} A, momentary
"""
TWO_BANKS = """battery B2 "Spare" agm, 100 Ah, internal 6 mohm
wire B2- to N1 6 AWG black 2 ft
changeover SS{n} 30 A, {rest}1 "house", 2 "spare"
wire B1+ to SS{n}.1 10 AWG red {a} ft, fuse 30 A class T at B1+, interrupts 20 kA
wire B2+ to SS{n}.2 10 AWG red {b} ft, fuse 20 A class T at B2+, interrupts 20 kA
wire SS{n} to R{n}+ 10 AWG red 3 ft
wire R{n}- to N1 10 AWG black 3 ft
load R{n} "Radio {n}" {c} A
"""
PLAIN = """circuit P1.{n} "Fan {n}" fuse 5 A
    wire 16 AWG red {a} ft
    load "Fan {n}" {c} W
"""
FOUR = (PUMP, LIGHTS, PAIR, JACK)


def drawn_text(seed: int) -> str:
    """A rig of some of these, their lengths and rests drawn by chance."""
    chance = Random(seed)
    parts = [chance.choice((*FOUR, PLAIN)) for _ in range(chance.randint(1, 4))]
    parts += [TWO_BANKS] * chance.randint(0, 1)
    rests = ("", "centre off, ", "rests off, ", "rests 1, ", "centre off, rests 2, ")
    return HEAD + "".join(
        part.format(
            n=number, a=chance.randint(1, 20), b=chance.randint(1, 20), c=chance.randint(1, 8),
            rest=chance.choice(rests),
        )
        for number, part in enumerate(parts, start=1)
    )  # fmt: skip


def stands_of(rig: Rig) -> Iterator[Stand]:
    """Every setting of all switches of a rig, those among them in which some are off."""
    ways = changeovers(rig)
    each = [
        [(name, one.position) for one in own] + ([(name, "off")] if own[0].turns_off else [])
        for name, own in ways.items()
    ]
    yield from map(frozenset, product(*each))


def with_plain_switches(rig: Rig, stand: Stand) -> Rig:
    """The same rig with a plain switch for each way: closed in its position, else open for good.

    One that is open is left out, so that nothing that is worked out can close it.
    """
    held: Mapping[str, str] = dict(stand)
    devices = []
    for device in rig.devices:
        if not device.position:
            devices.append(device)
        elif held.get(device.about.name) == device.position:
            devices.append(_plain(device))
    return replace(rig, devices=tuple(devices))


def _plain(device: Device) -> Device:
    about = replace(device.about, name=f"{device.about.name}-{device.position}")
    return replace(device, about=about, kind="switch", position="", called="", turns_off=False,
                   rests="closed")  # fmt: skip
