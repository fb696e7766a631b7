"""Hazards of short circuits, of starting and of loads that pull the volts down."""

import math
import re
from collections.abc import Iterator

from mutations.edits import Example, Mutant, with_facts
from mutations.hazard import hazard
from rigfolio.demand.flows import flows_of
from rigfolio.model.graph import Device
from rigfolio.shorts.in_turn import faults_of

_BREAKS = re.compile(r",?\s*interrupts [\d.]+ k?A")
_SPARE = re.compile(r"slot (P\d+\.\d+) (?:spare|blank)")


@hazard("branch that interrupts too little", "branch-interrupt-low", "interrupt-too-low")
def branch_weak(example: Example) -> Iterator[Mutant]:
    # 10 A: even a converter of 30 A drives more than that into a short.
    for number, row, circuit in example.circuits():
        weak = with_facts(_BREAKS.sub("", row), "interrupts 10 A")
        yield example.changed(circuit.place, {number: weak})


@hazard("breakers of which nobody knows what they interrupt", "branch-interrupt-low")
def breakers_unread(example: Example) -> Iterator[Mutant]:
    for panel in example.study.rig.panels:
        block = example.block(example.row(panel.about.span))
        rows = {at: "" for at in block if re.match(r"\s+interrupts ", example.rows[at])}
        if rows:
            yield example.changed(panel.about.name, rows, also=block)


@hazard("long thin wire to a load that holds its watts", "voltage-collapse")
def collapsing(example: Example) -> Iterator[Mutant]:
    for number, place in _spares(example):
        yield example.changed(place, {number: (
            f'circuit {place} "Far" fuse 10 A, interrupts 10 kA\n'
            "    wire 14 AWG red 300 ft\n"
            '    load "Far supply" 100 W, electronics'
        )})  # fmt: skip


@hazard("fuse that a short in a thin wire outlasts", "short-burns-wire")
def outlasting(example: Example) -> Iterator[Mutant]:
    for number, place in _spares(example):
        # Behind a converter there is no current that would burn anything.
        if _is_driven_hard(example, place):
            yield example.changed(place, {number: (
                f'circuit {place} "Thin" fuse 25 A, interrupts 10 kA\n'
                "    wire 18 AWG red 14 ft\n"
                '    load "Thin" 1 A'
            )})  # fmt: skip


@hazard("main hardly larger than its branch", "main-opens-too")
def hardly_larger(example: Example) -> Iterator[Mutant]:
    for number, place in _spares(example):
        # With a vehicle of which nobody has a figure it cannot be told.
        if _is_driven_hard(example, place) and not faults_of(example.study).ask:
            yield example.changed(place, {number: (
                f'circuit {place} "Sub-panel" fuse 20 A, interrupts 10 kA\n'
                "    wire to P9 10 AWG red 4 ft"
            )}, [
                "panel P9 4 slots of 20 A, 40 A in all",
                'circuit P9.1 "Heater" fuse 15 A, interrupts 10 kA',
                "    wire 10 AWG red 3 ft",
                '    load "Heater" 10 A',
            ])  # fmt: skip


@hazard("motor that starts too hard for its fuse", "starting-opens-fuse")
def starting_hard(example: Example) -> Iterator[Mutant]:
    for _, _, circuit in example.circuits():
        device = example.study.device(circuit.device)
        if device is None or device.kind != "fuse" or not device.in_slot:
            continue
        for load in example.study.rig.loads:
            drawn_a = flows_of(example.study).own[load.about.name].current_a
            if load.about.name in circuit.loads and load.starts_at and isinstance(drawn_a, float):
                number = example.row(load.about.span)
                times = math.ceil(4.0 * _rating(device) / drawn_a)
                row = re.sub(r"at \d+ times", f"at {times} times", example.rows[number])
                yield example.changed(circuit.place, {number: row})


@hazard("larger fuse found than belongs there", "wrong-fuse-found")
def found_larger(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        yield example.changed(circuit.place, {number: with_facts(row, "found 40 A")})


@hazard("mark of another fuse", "marking-wrong")
def marked_wrong(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        yield example.changed(circuit.place, {number: with_facts(row, "marked 40 A")})


def _spares(example: Example) -> Iterator[tuple[int, str]]:
    """The lines of spare slots, and their places."""
    for number, row in enumerate(example.rows):
        match = _SPARE.match(row)
        if match:
            yield number, match[1]


def _is_driven_hard(example: Example, place: str) -> bool:
    """Whether a battery drives into a panel, and not a converter alone."""
    panel = example.study.panel(place.partition(".")[0])
    assert panel is not None
    near = example.study.net.walk([panel.feed])
    return any(s.kind == "battery" and s.plus in near for s in example.study.rig.sources)


def _rating(device: Device) -> float:
    assert isinstance(device.rating_a, float)
    return device.rating_a
