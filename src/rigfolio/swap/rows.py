"""What is known of a panel and what is to be looked at, in the order in which a person walks it."""

from collections.abc import Iterator, Mapping
from typing import Literal

from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Conductor, Panel, Rig
from rigfolio.record import record
from rigfolio.units import show
from rigfolio.wording import (
    circuits_in_order,
    colour_words,
    device_named,
    end_words,
    gauge_words,
    is_imperial,
    length_words,
    slot_holders,
)

Known = Mapping[str, str]
"""Cells by the heading of their column; an empty cell is to be filled in."""
Kind = Literal["circuit", "empty", "kept", "part", "wire"]


@record
class SurveyRow:
    """One line of a survey: what it is of, its place, what the text knows of it."""

    kind: Kind
    place: str
    cells: Known


def panel_rows(rig: Rig, panel: Panel) -> Iterator[SurveyRow]:
    """The slots of a panel, one by one."""
    for number, circuits, kept in slot_holders(rig, panel):
        place = f"{panel.about.name}.{number}"
        for circuit in circuits:
            yield _circuit(rig, circuit)
        if not circuits and kept is not None:
            yield SurveyRow("kept", place, {"name": kept.label or kept.use})
        elif not circuits:
            yield SurveyRow("empty", place, {})


def other_rows(rig: Rig) -> Iterator[SurveyRow]:
    """Circuits that start elsewhere, fuses and switches, then the wires of no circuit."""
    for circuit in circuits_in_order(rig):
        if not circuit.slot:
            yield _circuit(rig, circuit)
    held = {circuit.device for circuit in rig.circuits}
    alone = {d.about.name: d for d in rig.devices if not (d.in_slot or d.on_wire)}
    for name, device in alone.items():
        if name not in held and not device.traits.is_plug:
            cells = {
                "name": f"{device.kind} {device.about.label}".strip(),
                "fuse": _amps(device.rating_a), "condition": device.about.condition,
                "note": device.about.note,
            }  # fmt: skip
            yield SurveyRow("part", name, cells)
    for wire in rig.conductors:
        if not wire.circuit and not wire.assumed and not wire.lead:
            ends = f"{end_words(rig, wire.a)} to {end_words(rig, wire.b)}"
            yield SurveyRow("wire", wire.name, {"name": ends, **_wire(rig, wire)})


def all_rows(rig: Rig) -> Iterator[SurveyRow]:
    """Every panel in its order, then everything else."""
    for panel in rig.panels:
        yield from panel_rows(rig, panel)
    yield from other_rows(rig)


def _circuit(rig: Rig, circuit: Circuit) -> SurveyRow:
    device = device_named(rig, circuit.device)
    wires = [wire for wire in rig.conductors if wire.name in circuit.wires]
    loads = [load.about.label for load in rig.loads if load.about.name in circuit.loads]
    cells = {
        "name": circuit.label,
        "fuse found": _amps(circuit.found_a),
        "fuse marked": _amps(circuit.marked_a),
        "fuse": _amps(device.rating_a if device is not None else None),
        "went dead": "; ".join(label for label in loads if label),
        "condition": circuit.condition,
        "note": circuit.note,
    }
    first = _wire(rig, wires[0]) if wires else {}
    mine = {key: value for key, value in first.items() if key not in ("condition", "note")}
    return SurveyRow("circuit", circuit.place, cells | mine)


def _wire(rig: Rig, wire: Conductor) -> Known:
    imperial = is_imperial(rig)
    return {
        "colour": "" if isinstance(wire.colour, Unknown | None) else colour_words(wire.colour),
        "size": "" if isinstance(wire.size, Unknown) else gauge_words(wire).split(" x ")[-1],
        "length": _length(wire.length_m, imperial=imperial),
        "tail": _length(wire.tail_m, imperial=imperial),
        "breakout": _length(wire.breakout_m, imperial=imperial),
        "condition": wire.condition,
        "note": wire.note,
    }


def _length(length_m: float | Unknown | None, *, imperial: bool) -> str:
    if length_m is None or isinstance(length_m, Unknown):
        return ""
    return length_words(length_m, imperial=imperial)


def _amps(value: float | Unknown | None) -> str:
    return "" if value is None or isinstance(value, Unknown) else show(value, "A", 6)
