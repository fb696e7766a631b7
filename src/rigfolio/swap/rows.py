"""What is known of a panel and what is to be looked at, in the order in which a person walks it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from rigfolio.findings import UNKNOWN, Span, Unknown
from rigfolio.model import About, Circuit, Conductor, Device, Load, Panel, Rig, Source
from rigfolio.record import record, replace
from rigfolio.units import show
from rigfolio.wording import (
    DRAWN_IN,
    circuits_in_order,
    colour_words,
    device_named,
    end_words,
    gauge_words,
    how_many,
    length_words,
    module_words,
    slot_holders,
    stated,
)

Known = Mapping[str, str]
"""Cells by the heading of their column; an empty cell is to be filled in."""
Kind = Literal["circuit", "empty", "kept", "panel", "fuse", "part", "wire", "load"]


@record
class SurveyRow:
    """One line of a survey: what it is of, its place, what the text knows of it.

    `asked` is what is printed on the part and stands as `?` in the text, in the words of its
    statement: a blank of the column `plate`.
    """

    kind: Kind
    place: str
    cells: Known
    asked: tuple[str, ...] = ()


def panel_rows(rig: Rig, panel: Panel) -> Iterator[SurveyRow]:
    """The slots of a panel, one by one, each with the further wires of its circuit behind it."""
    for number, circuits, kept in slot_holders(rig, panel):
        place = f"{panel.about.name}.{number}"
        for circuit in circuits:
            yield from _circuit_rows(rig, circuit)
        if not circuits and kept is not None:
            yield SurveyRow("kept", place, {"name": kept.label or kept.use})
        elif not circuits:
            yield SurveyRow("empty", place, {})


def other_rows(rig: Rig) -> Iterator[SurveyRow]:
    """Circuits that start elsewhere, sources, bars, loads, fuses and switches, then other wires.

    Those are the wires of no circuit; the fuse that sits on one has a row behind it.
    """
    for circuit in circuits_in_order(rig):
        if not circuit.slot:
            yield from _circuit_rows(rig, circuit)
    for about, source in _parts_of_sources(rig).values():
        plate = {"plate": _of_source(rig, source)}
        yield _part(about, source.kind, plate, asked=_asked_of(source))
    for bar in rig.junctions:
        if bar.traits.is_bar:
            asked = _blanks(("rating", bar.rating_a))
            yield _part(bar.about, bar.kind, {"plate": _amps(bar.rating_a)}, asked=asked)
    inlets = {source.inlet for source in rig.sources}
    for load in rig.loads:
        if not load.circuit and load.about.name not in inlets:
            yield _load(load)
    for name, device in {d.about.name: d for d in rig.devices if not d.in_slot}.items():
        if name not in rig.begun and not device.traits.is_plug and not device.on_wire:
            cells, asked = _ratings(device), _asked_of_fuse(rig, device)
            yield _part(device.about, device.kind, cells, "fuse", asked)
    yield from _wire_rows(rig, (wire for wire in rig.conductors if not wire.circuit))


def _parts_of_sources(rig: Rig) -> Mapping[str, tuple[About, Source]]:
    """The sources as a person finds them: several outputs of one part are one."""
    found: dict[str, tuple[About, Source]] = {}
    for source in rig.sources:
        name = source.part
        found.setdefault(name, (replace(source.about, name=name), source))
    return found


def _load(load: Load) -> SurveyRow:
    """A load of no circuit; of an inverter its plate is read, as of a source."""
    if load.nature != "inverter":
        return _part(load.about, "load", {"draws": _draws((load,))}, "load")
    watts = show(load.stated_w, "W", 6) if load.stated_w is not None else ""
    asked = ("power",) if not watts and isinstance(load.value, Unknown) else ()
    return _part(load.about, load.nature, {"plate": watts}, asked=asked)


def _circuit_rows(rig: Rig, circuit: Circuit) -> Iterator[SurveyRow]:
    """A circuit with its first wire, then its further wires and ways back, each met elsewhere."""
    yield _circuit(rig, circuit)
    names = (*circuit.wires, *circuit.returns)
    wires = [rig.conductor(name) for name in names]
    yield from _wire_rows(rig, (wire for wire in wires if wire.span != wires[0].span))


def _wire_rows(rig: Rig, wires: Iterable[Conductor]) -> Iterator[SurveyRow]:
    for wire, ends in _whole_wires(rig, wires):
        yield SurveyRow("wire", wire.name, {"name": ends, **_wire(wire)})
        for fuse in _fuses_on(rig, wire):
            cells = {"name": f"{fuse.kind} on it", **_ratings(fuse)}
            yield SurveyRow("fuse", fuse.about.name, cells, _asked_of_fuse(rig, fuse))


def _ratings(device: Device) -> Known:
    """What belongs in a place outside panels, and what was found there instead."""
    return {"found": _amps(device.found_a), "belongs": _amps(device.rating_a)}


def _fuses_on(rig: Rig, wire: Conductor) -> tuple[Device, ...]:
    """The devices that sit on a wire and with which no circuit begins."""
    return tuple(d for d in rig.seated.get(wire.name, ()) if d.about.name not in rig.begun)


def _whole_wires(rig: Rig, wires: Iterable[Conductor]) -> Iterator[tuple[Conductor, str]]:
    """Wires with their ends in words; what a fuse on one parts is one wire."""
    lines: dict[Span, list[Conductor]] = {}
    for wire in wires:
        if not (wire.assumed or wire.lead):
            lines.setdefault(wire.span, []).append(wire)
    for pieces in lines.values():
        main = next((piece for piece in pieces if _fuses_on(rig, piece)), pieces[-1])
        ends = f"{end_words(rig, pieces[0].a)} to {end_words(rig, pieces[-1].b)}"
        known = [piece.length_m for piece in pieces if isinstance(piece.length_m, float)]
        whole_m = sum(known) if len(known) == len(pieces) else UNKNOWN
        yield replace(main, length_m=whole_m), ends


def all_rows(rig: Rig) -> Iterator[SurveyRow]:
    """Every panel in its order, then everything else; of a name used twice what bears it first."""
    first = {panel.about.name: panel for panel in reversed(rig.panels)}
    for panel in (one for one in rig.panels if first[one.about.name] is one):
        yield _panel_row(panel)
        yield from panel_rows(rig, panel)
    yield from other_rows(rig)


def _panel_row(panel: Panel) -> SurveyRow:
    """What is known of a panel itself."""
    of = _amps(panel.slot_a)
    total = _amps(panel.total_a)
    pitch = "" if panel.pitch_m is None else show(panel.pitch_m, "mm", 6)
    plate = _facts(
        f"{how_many(panel.slots, 'slot')}{f' of {of}' if of else ''}",
        f"{total} in all" if total else "",
        f"pitch {pitch}" if pitch else "",
    )
    asked = _blanks(("interrupts", panel.interrupts_a))
    return _part(panel.about, "panel", {"plate": plate}, "panel", asked)


def _part(
    about: About, kind: str, cells: Known, row: Kind = "part", asked: tuple[str, ...] = ()
) -> SurveyRow:
    known = {
        "name": f"{kind} {about.label}".strip(), "condition": about.condition, "note": about.note,
    }  # fmt: skip
    return SurveyRow(row, about.name, known | dict(cells), asked)


def _blanks(*facts: tuple[str, object]) -> tuple[str, ...]:
    """The words of the facts that stand as `?` in the text."""
    return tuple(words for words, value in facts if isinstance(value, Unknown))


def _asked_of(source: Source) -> tuple[str, ...]:
    """What is printed on a source and has not been read."""
    modules = source.modules
    if modules is not None:
        return _blanks(
            ("open circuit", modules.open_v), ("short circuit", modules.short_a),
            ("series fuse", modules.back_a),
        )  # fmt: skip
    rating = ("rating", source.limit_a if not source.stores else None)
    return _blanks(
        rating, ("capacity", source.capacity_c), ("internal", source.internal_ohm),
        ("delivers", source.short_a), ("input", source.input_most_v),
    )  # fmt: skip


def _asked_of_fuse(rig: Rig, device: Device) -> tuple[str, ...]:
    """What is printed on a fuse or switch besides its rating and has not been read."""
    wire = rig.by_name.conductors.get(device.on_wire)
    line = wire.span if wire is not None else device.about.span
    is_asked = any(
        gap.key == "rated" and gap.span.file == line.file
        and line.start <= gap.span.start < max(line.end, device.about.span.end)
        for gap in rig.gaps
    )  # fmt: skip
    return (*_blanks(("interrupts", device.interrupts_a)), *(("rated",) if is_asked else ()))


def _of_source(rig: Rig, source: Source) -> str:
    """What is printed on a source, in the words of its statement."""
    if source.inlet:
        return _of_converter(rig, source)
    # Without volts of its own it has those of the system.
    is_own = source.voltage_v and source.voltage_v != rig.system_v
    volts = stated(source.voltage_v, "V") if is_own else ""
    if source.modules is not None:
        return _facts(*(words for words in module_words(source.modules) if "?" not in words))
    if not source.stores:
        bears_v = source.input_most_v
        sun = f"input {show(bears_v, 'V', 6)}" if isinstance(bears_v, float) else ""
        return _facts(_amps(source.limit_a), volts, sun)
    capacity, cold_c = source.capacity_c, source.charge_least_c
    return _facts(
        source.chemistry,
        "" if isinstance(capacity, Unknown | None) else show(capacity, "Ah", 6),
        volts,
        "" if source.cranking_a is None else f"cold cranking {show(source.cranking_a, 'A', 6)}",
        "" if source.hours_a is None else f"gives {show(source.hours_a, 'A', 6)} for hours",
        "" if source.cut_off_a is None else f"cuts off above {show(source.cut_off_a, 'A', 6)}",
        "" if cold_c is None else f"no charge below {show(cold_c, 'degC', 6)}",
    )


def _of_converter(rig: Rig, source: Source) -> str:
    """What is printed on a converter: what it gives, from what to what, what it draws."""
    inlet = rig.by_name.loads[source.inlet]
    is_stated = source.input_v is not None and source.voltage_v
    volts = f"from {show(source.input_v or 0.0, 'V', 6)} to {show(source.voltage_v, 'V', 6)}"
    draws = inlet.value if inlet.kind == "current" else None
    return _facts(
        _amps(source.limit_a),
        volts if is_stated else "",
        f"draws {_amps(draws)}" if isinstance(draws, float) else "",
    )


def _facts(*words: str) -> str:
    return ", ".join(word for word in words if word)


def _circuit(rig: Rig, circuit: Circuit) -> SurveyRow:
    device = device_named(rig, circuit.device)
    wires = [wire for wire in rig.conductors if wire.name in circuit.wires]
    loads = [load for load in rig.loads if load.about.name in circuit.loads and load.about.label]
    cells = {
        "name": circuit.label,
        "found": _amps(circuit.found_a),
        "marked": _amps(circuit.marked_a),
        "belongs": _amps(device.rating_a if device is not None else None),
        "went dead": "; ".join(load.about.label for load in loads),
        "draws": _draws(loads),
        "condition": circuit.condition,
        "note": circuit.note,
    }
    # A stub before the fuse is told where that is: its length is not that of the wire.
    first = _wire([w for w in wires if w.span == wires[0].span][-1]) if wires else {}
    mine = {key: value for key, value in first.items() if key not in ("condition", "note")}
    asked = _asked_of_fuse(rig, device) if device is not None else ()
    own = asked if circuit.slot == 0 or not _of_panel(rig, circuit) else ()
    return SurveyRow("circuit", circuit.place, cells | mine, own)


def _of_panel(rig: Rig, circuit: Circuit) -> bool:
    """Whether what its fuse interrupts is asked of its panel."""
    panel = rig.by_name.panels.get(circuit.panel)
    return panel is not None and isinstance(panel.interrupts_a, Unknown)


def _draws(loads: Sequence[Load]) -> str:
    """What each load draws, in their order; empty where nobody knows of any."""
    found = [
        "?"
        if isinstance(load.value, Unknown) or load.kind == "resistance"
        else stated(load.value, DRAWN_IN[load.kind])
        for load in loads
    ]
    return "; ".join(found) if any(one != "?" for one in found) else ""


def _wire(wire: Conductor) -> Known:
    imperial = wire.is_in_feet
    return {
        "colour": "" if isinstance(wire.colour, Unknown | None) else colour_words(wire.colour),
        "gauge": "" if isinstance(wire.size, Unknown) else gauge_words(wire).split(" x ")[-1],
        "length": _length(wire.length_m, imperial=imperial),
        "tail": _length(wire.tail_m, imperial=imperial),
        "leaves loom at": _length(wire.breakout_m, imperial=imperial),
        "condition": wire.condition,
        "note": wire.note,
    }


def _length(length_m: float | Unknown | None, *, imperial: bool) -> str:
    if length_m is None or isinstance(length_m, Unknown):
        return ""
    return length_words(length_m, imperial=imperial)


def _amps(value: float | Unknown | None) -> str:
    return "" if value is None or isinstance(value, Unknown) else show(value, "A", 6)
