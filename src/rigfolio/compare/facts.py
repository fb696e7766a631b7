"""What a rig says of each of its parts, fact by fact, so that two versions compare.

Every field of a part is a fact, whoever adds one: what is not here by name is told by the name of
its field. Only where a part stands, what it is joined to and where the text speaks of it is left
out; that is compared by those who know the same part in both versions.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from math import inf
from typing import Any

from rigfolio.compare.stated import Said, Stated, StatedFigure, unlike
from rigfolio.findings import Unknown
from rigfolio.model import (
    AcBreaker,
    Acceptance,
    Circuit,
    Conductor,
    Device,
    Junction,
    Load,
    Panel,
    Photo,
    Rig,
    Source,
    State,
)
from rigfolio.network import resting_position
from rigfolio.record import Record, once
from rigfolio.units import Size
from rigfolio.values import Colour
from rigfolio.wording import (
    DRAWN_IN,
    colour_words,
    device_named,
    gauge_words,
    module_words,
    name_and_words_at,
    rating_words,
)

Told = tuple[str, bool]
"""What differs in words, and whether only that was learnt: the part itself is as it was."""

_ELSEWHERE: Mapping[str, str] = {
    "About": "name span",
    "Source": "plus minus lit",
    "Device": "line load rating_span in_slot on_wire pole position called",
    "Panel": "feed bus",
    "Conductor": "name a b size count colour span size_span circuit assumed lead frame_ohm "
    "length_unit insulation",
    "Load": "plus minus circuit kind",
    "Circuit": "place label span start device wires returns loads panel slot return_assumed",
    "AcBreaker": "label span",
    "Acceptance": "rule place span",
    "Remark": "place span",
    "State": "name span settings",
    "Rig": "span sources devices junctions panels conductors loads circuits slots states ac "
    "assumptions problems where digest gaps remarks photos accepted nameless used_at",
}
"""By class the fields that are told with something else, or that say where it stands."""

_CALLED: Mapping[str, str] = {
    "ambient_c": "ambient", "always_on": "must stay on", "back_a": "series fuse",
    "beside": "stands beside", "book": "rule book", "breakout_m": "breakout", "bundle": "bundle",
    "capacity_c": "capacity", "charge_least_c": "no charge below", "coldest_c": "coldest",
    "cranking_a": "cold cranking", "cut_off_a": "cuts off above",
    "day_share": "day", "drop_share": "drop", "duty": "runs", "engine_space": "engine space",
    "ends": "terminals", "family": "made as", "feed_last": "feed last", "found_a": "found",
    "hours_a": "for hours", "input_most_v": "input", "input_v": "from",
    "insulation_c": "insulation", "internal_ohm": "internal resistance",
    "interrupts_a": "interrupts", "length_m": "length", "limit_a": "rating",
    "made_for_v": "made for", "marked_a": "marked", "ohm": "resistance", "pitch_m": "pitch",
    "rated_v": "rated", "rating_a": "rating", "resets_itself": "resets by itself",
    "rest_a": "at rest", "runs_on": "runs on",
    "short_a": "short-circuit current", "side_a": "a side", "slot_a": "slot rating",
    "start_s": "starts for", "starts_at": "starts at", "stated_w": "gives",
    "stays": "stays put", "sun_share": "sun", "system_v": "system", "tail_m": "tail",
    "torque_nm": "torque", "total_a": "rating in all", "turns_off": "centre off",
    "unit": "an output of",
    "used_to": "tags used to W", "value": "draws", "voltage_v": "volts", "window_m": "window",
    "across": "numbered across",
}  # fmt: skip
"""What a fact is called, where that is not the name of its field."""

_UNITS: Mapping[str, str] = {
    "capacity_c": "Ah", "day_share": "h/day", "internal_ohm": "mohm", "pitch_m": "mm",
    "starts_at": "times", "sun_share": "h/day", "window_m": "mm", "efficiency": "%",
}  # fmt: skip
"""The unit of a figure, where it is not that of the end of its name."""

_ENDINGS: Mapping[str, str] = {
    "a": "A", "v": "V", "w": "W", "c": "degC", "ohm": "ohm", "m": "m", "s": "s", "nm": "Nm",
    "share": "%",
}  # fmt: skip

_ASKED: Mapping[str, str] = {
    "starts": "starts at", "start_time": "starts for", "hours": "day", "lasting": "for hours",
    "own_guard": "cuts off above", "cold_limit": "no charge below",
    "cold": "cold cranking", "made_for": "made for", "ohm": "resistance", "drop": "drop",
    "type": "insulation",
}  # fmt: skip
"""What a fact of the language is called that is asked for with `?`, where its key is not that."""


_TAKEN = "assumed"
"""What is said of a return that the text does not state."""


@cache
def unit_of(field: str) -> str:
    """The unit that the figures of a field are told in; empty where its name tells none."""
    return _UNITS.get(field) or _ENDINGS.get(field.rpartition("_")[2], "")


def facts_of(part: object) -> dict[str, Stated]:
    """Every fact of a part by what it is called, those that say nothing left out."""
    said: dict[str, Stated] = {}
    kind: Any = type(part)
    for field, called in _told_fields(kind):
        value = getattr(part, field)
        if _is_unsaid(field, value):
            continue
        if isinstance(value, Record) and not isinstance(value, Size | Colour | Unknown):
            said |= facts_of(value)
        else:
            said[called] = _stated(field, value)
    return said


def _is_unsaid(field: str, value: object) -> bool:
    """Whether a value says nothing; that it freezes at 0 °C does."""
    if isinstance(value, float) and unit_of(field) == "degC":
        return False
    return (not value and value in (None, "", (), False)) or (field == "bundle" and value == 1)


@cache
def _told_fields(kind: type[Record]) -> tuple[tuple[str, str], ...]:
    """The fields of a class that are facts, each with what the fact is called."""
    aside = _ELSEWHERE.get(kind.__name__, "").split()
    names = (field for field in kind.__match_args__ if field not in aside)
    return tuple((field, _CALLED.get(field, field.replace("_", " "))) for field in names)


def _stated(field: str, value: object) -> Stated:
    unit = unit_of(field)
    if isinstance(value, bool):
        return "yes"
    if isinstance(value, Unknown):
        return f"? {unit}".rstrip()
    if isinstance(value, float):
        return "no limit" if value == inf else StatedFigure(value, unit)
    if isinstance(value, tuple) and all(isinstance(each, float) for each in value):
        return tuple(StatedFigure(each, unit) for each in value)
    if isinstance(value, tuple):
        return " and ".join(str(each) for each in value if each)
    return value.text if isinstance(value, Size) else str(value)


def source_said(rig: Rig, source: Source) -> Said:
    """What is said of a battery, charger or other source, and of its input."""
    modules = {} if source.modules is None else {"modules": ", ".join(module_words(source.modules))}
    inlet = rig.by_name.loads.get(source.inlet) if source.inlet else None
    fed = {} if inlet is None else {**load_said(rig, inlet), "label": "", "runs": ""}
    return {**fed, **facts_of(source), **modules, **_asked(rig, source.about.name)}


def device_said(rig: Rig, device: Device) -> Said:
    """What is said of a fuse, breaker or switch."""
    if device.position:
        return {**facts_of(device), **_positions(rig, device), **_asked(rig, device.about.name)}
    ways = _ways(rig)[device.about.name]
    count = {"poles" if device.pole else "pins": str(ways)} if ways > 1 else {}
    return {**facts_of(device), **count, **_asked(rig, device.about.name)}


def _positions(rig: Rig, device: Device) -> Said:
    """How a switch that makes one of several ways rests, and what is written at each position."""
    own = rig.poles[device.about.name]
    rests = resting_position(own) or "off"
    said = {"rests": rests if any(one.rests for one in own) else ""}
    return said | {f"position {one.position}": one.called for one in own}


@once
def _ways(rig: Rig) -> Mapping[str, int]:
    """Through how many ways current may flow in each device, by its name."""
    return Counter(device.about.name for device in rig.devices)


def junction_said(rig: Rig, junction: Junction) -> Said:
    """What is said of a bar, frame or splice."""
    return {**facts_of(junction), **_asked(rig, junction.about.name)}


def panel_said(rig: Rig, panel: Panel) -> Said:
    """What is said of a panel, its slots aside."""
    return {**facts_of(panel), **_asked(rig, panel.about.name)}


def wire_said(rig: Rig, wire: Conductor, *, imperial: bool) -> Said:
    """What is said of a conductor, the fuse on it among them.

    A fuse elsewhere that guards it is told of once, where it stands.
    """
    on_it = None if wire.circuit else next(iter(rig.seated.get(wire.name, ())), None)
    made: dict[str, Stated] = {
        "size": gauge_words(wire),
        "colour": colour_words(wire.colour),
        "insulation": wire.insulation,
        **facts_of(wire),
        **_asked(rig, wire.name),
        **(_fuse_said(rig, on_it) if on_it is not None else {}),
    }
    if wire.insulation and wire.insulation_c is not None:
        made["insulation"] = f"{wire.insulation} {StatedFigure(wire.insulation_c, 'degC').words()}"
    if isinstance(wire.length_m, Unknown):
        made["length"] = "? length"
    if isinstance(wire.found, Size):
        made["found"] = wire.found.text
    length = "ft" if imperial else "m"
    return {
        name: StatedFigure(one.value, length)
        if isinstance(one, StatedFigure) and one.unit == "m"
        else one
        for name, one in made.items()
    }


def _fuse_said(rig: Rig, device: Device) -> Said:
    """What is said of the fuse on a wire or in a slot: its rating in one, then all the rest."""
    rest = {
        f"fuse {name}": stated
        for name, stated in device_said(rig, device).items()
        if name not in ("kind", "label")
    }
    return {"fuse": rating_words(device), **rest}


def load_said(rig: Rig, load: Load) -> Said:
    """What is said of a load."""
    unit = DRAWN_IN[load.kind]
    draws: Stated = (
        f"? {unit}" if isinstance(load.value, Unknown) else StatedFigure(load.value, unit)
    )
    lead = _leads(rig).get(load.plus)
    leads = {} if lead is None else _lead_said(lead)
    asked = _asked(rig, load.about.name)
    return {**facts_of(load), "draws": draws, "label": "", **leads, **asked}


@once
def _leads(rig: Rig) -> Mapping[str, Conductor]:
    """The first lead of each fixture that has some, by the terminal of its load."""
    leads = [wire for wire in reversed(rig.conductors) if wire.lead]
    return {end: wire for wire in leads for end in (wire.a, wire.b)}


def _lead_said(wire: Conductor) -> Said:
    unit = "ft" if wire.is_in_feet else "m"
    length = wire.length_m
    known = "? length" if isinstance(length, Unknown) else StatedFigure(length, unit)
    return {"leads": gauge_words(wire), "length of its leads": known}


def circuit_said(rig: Rig, circuit: Circuit) -> Said:
    """What is said of a circuit itself: what goes for all of it."""
    back = _TAKEN if circuit.return_assumed else "as stated" if circuit.returns else ""
    return {**facts_of(circuit), "return": back, **_asked(rig, circuit.place)}


def guard_said(rig: Rig, circuit: Circuit) -> Said:
    """What is said of the device that a circuit begins with."""
    device = device_named(rig, circuit.device)
    return {} if device is None else _fuse_said(rig, device)


def ac_said(breaker: AcBreaker) -> Said:
    """What is said of an AC breaker."""
    return facts_of(breaker)


def state_said(state: State) -> Said:
    """What is said of a state: how each part stands in it."""
    return {**facts_of(state), **dict(state.settings)}


def acceptance_said(accepted: Acceptance) -> Said:
    """What is said of a finding that is accepted."""
    return facts_of(accepted)


def picture_said(photo: Photo) -> Said:
    """What is marked on a picture."""
    white = {} if photo.white is None else {"white": _corners(*photo.white)}
    return white | {
        f"mark {mark.place}": f"{mark.x:.10g} {mark.y:.10g} px"
        if mark.in_pixels
        else _corners(mark.x, mark.y)
        for mark in photo.marks
    }


def _corners(*shares: float) -> tuple[StatedFigure, ...]:
    return tuple(StatedFigure(share, "%") for share in shares)


def rig_said(rig: Rig) -> Said:
    """What is said of the whole rig."""
    return {**facts_of(rig), **_asked(rig, "")}


@once
def _gaps(rig: Rig) -> Mapping[str, tuple[str, ...]]:
    """What is asked for with `?` and has no room in the graph, by the name of the part."""
    found: dict[str, tuple[str, ...]] = {}
    for gap in rig.gaps:
        name = name_and_words_at(rig, gap.span)[0]
        found[name] = (*found.get(name, ()), _ASKED.get(gap.key, _CALLED.get(gap.key, gap.key)))
    return found


def _asked(rig: Rig, name: str) -> Said:
    return dict.fromkeys(_gaps(rig).get(name, ()), "?")


def differences(before: Said, after: Said) -> tuple[Told, ...]:
    """Every fact that is not the same, as `size 12 AWG, was 14 AWG`."""
    return tuple(_differences(before, after))


def _differences(before: Said, after: Said) -> Iterator[Told]:
    for name, now, was in unlike(before, after):
        words = f"{name} {now or 'no longer said'}, was {was or 'not said'}"
        yield words, is_unread(was) or name == "found" or was == _TAKEN


def is_unread(words: str) -> bool:
    """Whether what was said of a fact is that nobody knows it."""
    return "?" in words.split()
