"""Tells in short words what the graph of a rig holds, line by line of the text."""

from collections.abc import Iterator

import pytest

from rigfolio.findings import Unknown
from rigfolio.model.graph import About, Conductor, Device, Load, Rig, Source


@pytest.fixture
def told():
    return _told


def _told(rig: Rig, text: str) -> dict[int, list[str]]:
    """What came of each line: objects as facts parted by commas, the first one naming it."""
    lines: dict[int, list[str]] = {}
    for start, facts in _objects(rig):
        line = text.count("\n", 0, start) + 1
        lines.setdefault(line, []).append(", ".join(fact.strip() for fact in facts if fact))
    return lines


def _objects(rig: Rig) -> Iterator[tuple[int, list[str]]]:
    yield rig.span.start, [
        rig.name, f"{rig.system_v:g} V", f"book {rig.book}",
        _number("ambient", rig.ambient_c, "degC"), _number("coldest", rig.coldest_c, "degC"),
        _number("sun", None if rig.sun_share is None else rig.sun_share * 24.0, "h/day"),
        _number("insulation", rig.insulation_c, "degC"),
        rig.revised, rig.revision, rig.paper, rig.note,
        f"used to W{rig.used_to}" if rig.used_to else "",
    ]  # fmt: skip
    for source in rig.sources:
        yield source.about.span.start, _source(source)
    for device in rig.devices:
        yield device.about.span.start, _device(device)
    for joint in rig.junctions:
        facts = [joint.about.name, joint.kind, _number("", joint.rating_a, "A"),
                 f"{joint.ways} ways" if joint.ways else ""]  # fmt: skip
        yield joint.about.span.start, facts + _about(joint.about)
    for panel in rig.panels:
        yield panel.about.span.start, [
            f"{panel.about.name}: {panel.feed} {panel.bus}", f"{panel.slots} slots",
            f"negative {panel.negative}", _number("slot", panel.slot_a, "A"),
            _number("in all", panel.total_a, "A"), _number("pitch", panel.pitch_m, "m"),
            f"window {panel.window_m[0]:.10g} by {panel.window_m[1]:.10g} m"
            if panel.window_m else "",
            f"{panel.columns} columns", "breakers" if panel.holds == "breaker" else "",
            *_about(panel.about),
        ]  # fmt: skip
    for wire in rig.conductors:
        yield wire.span.start, _wire(wire)
    for load in rig.loads:
        yield load.about.span.start, _load(load)
    yield from _sayings(rig)


def _sayings(rig: Rig) -> Iterator[tuple[int, list[str]]]:
    for one in rig.circuits:
        yield one.span.start, [
            f"circuit {one.stem}: {one.start}", one.label, f"device {one.device}",
            f"wires {' '.join(one.wires)}", f"returns {' '.join(one.returns)}",
            f"loads {' '.join(one.loads)}", f"slot {one.slot} of {one.panel}" if one.panel else "",
            "always on" if one.always_on else "", "return assumed" if one.return_assumed else "",
            one.note, one.condition,
        ]  # fmt: skip
    for slot in rig.slots:
        yield slot.span.start, [f"slot {slot.number} of {slot.panel}", slot.use, slot.label]
    for state in rig.states:
        yield state.span.start, [state.name, *(f"{part} {way}" for part, way in state.settings)]
    for breaker in rig.ac:
        yield breaker.span.start, [f"ac {breaker.label}", _number("", breaker.rating_a, "A")]
    for assumed in rig.assumptions:
        yield assumed.span.start, [f"assumed: {assumed.text}".replace(",", "")]
    for gap in rig.gaps:
        yield gap.span.start, [f"unknown: {gap.what} {gap.name}".strip()]
    for one in rig.accepted:
        words = f"accepts {one.rule} at {one.place} since {one.date}: {one.reason}"
        yield one.span.start, [words]
    for remark in rig.remarks:
        yield remark.span.start, [f"at {remark.place}: {remark.note}{remark.condition}"]


def _source(one: Source) -> list[str]:
    return [
        f"{one.about.name}: {one.plus} {one.minus}", one.kind, f"{one.voltage_v:g} V",
        _number("", one.limit_a, "A"), _number("", one.capacity_c, "C"),
        _number("internal", one.internal_ohm, "ohm"), _number("delivers", one.short_a, "A"),
        one.chemistry, _number("cranks", one.cranking_a, "A"),
        _number("for hours", one.hours_a, "A"), _number("cuts off above", one.cut_off_a, "A"),
        _number("no charge below", one.charge_least_c, "C"), *_about(one.about),
    ]  # fmt: skip


def _device(one: Device) -> list[str]:
    return [
        f"{one.about.name}: {one.line} {one.load}", one.kind, _number("", one.rating_a, "A"),
        _number("interrupts", one.interrupts_a, "A"), one.family, "in slot" if one.in_slot else "",
        f"on {one.on_wire}" if one.on_wire else "",
        "resets by itself" if one.resets_itself else "",
        f"rests {one.rests}" if one.rests else "",
        f"position {one.position} {one.called}".strip() if one.position else "",
        "turns off" if one.turns_off else "", _number("found", one.found_a, "A"),
        *_about(one.about),
    ]  # fmt: skip


def _load(one: Load) -> list[str]:
    units = {"current": "A", "power": "W", "resistance": "ohm"}
    return [
        f"{one.about.name}: {one.plus} {one.minus}", _number("", one.value, units[one.kind]),
        one.duty, f"of {one.circuit}" if one.circuit else "", "always on" if one.always_on else "",
        "critical" if one.critical else "", _number("drop", one.drop_share, "share"),
        _number("day", one.day_share, "share"), _number("starts at", one.starts_at, "times"),
        _number("for", one.start_s, "s"),
        one.nature, _number("at rest", one.rest_a, "A"), _number("made for", one.made_for_v, "V"),
        *_about(one.about),
    ]  # fmt: skip


def _wire(one: Conductor) -> list[str]:
    return [
        f"{one.name}: {one.a} {one.b}", _size(one), f"colour {_unknown(one.colour)}",
        _number("", one.length_m, "m"), _number("insulation", one.insulation_c, "degC"),
        one.insulation, _number("ambient", one.ambient_c, "degC"), f"bundle {one.bundle}",
        "engine space" if one.engine_space else "", "sheathed" if one.sheathed else "",
        f"{one.count} in parallel" if one.count > 1 else "", "cranking" if one.cranking else "",
        "assumed" if one.assumed else "", "lead" if one.lead else "",
        f"ends {one.ends[0]} and {one.ends[1]}" if any(one.ends) else "", one.note, one.condition,
        f"found {getattr(one.found, 'text', '?')}" if one.found is not None else "",
    ]  # fmt: skip


def _about(about: About) -> list[str]:
    rated = _number("rated", about.rated_v, "V")
    stud = f"stud {about.stud}" if about.stud else ""
    return [about.label, rated, stud, about.note, about.condition]


def _size(wire: Conductor) -> str:
    return "size ?" if isinstance(wire.size, Unknown) else wire.size.text


def _unknown(value: object) -> str:
    return "?" if isinstance(value, Unknown) else str(value)


def _number(word: str, value: float | Unknown | None, unit: str) -> str:
    if value is None:
        return ""
    text = "?" if isinstance(value, Unknown) else f"{round(value, 4):.10g}"
    return f"{word} {text} {unit}".strip()
