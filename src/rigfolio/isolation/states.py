"""What a state of the rig means: what is open, closed, on, off or plugged in it, and why.

What the text says goes before everything. What it leaves open is filled in by the habits of the
trade, each with its reason: mains chargers run on shore power, alternators with the engine, the
line of a vehicle only when towing; batteries are always there. Where nobody can know, such as
whether the sun shines, the part counts as on for what may be live and as off for what must stay on.
"""

from collections.abc import Collection, Iterable, Mapping

from rigfolio.isolation.by_itself import idle, joined_banks, with_coils
from rigfolio.isolation.conditions import Condition, Setting, in_order
from rigfolio.isolation.energised import SourceReach, source_reach
from rigfolio.isolation.plugged import plugs_of
from rigfolio.isolation.set_to import ANY, Position
from rigfolio.kinds import OCCASIONS, with_article
from rigfolio.model import OPENS, Device, Rig, Source, State
from rigfolio.network import (
    edge_name,
    feeding_panels,
    parallel_switches,
    resting_position,
)
from rigfolio.study import Study, once

STORED = "stored"
"""The state with everything open that parts the rig."""
IN_USE = "in use"
"""The state that is supplied where no other one leaves every disconnect closed."""
ENGINE_OFF = "engine off"
"""The state that is supplied where a rig has an engine and is told in use with it alone."""

_IN_EMERGENCY = "open in use: joins banks only where a state says so"


@once
def states_of(study: Study, drive: SourceReach | None = None) -> tuple[Condition, ...]:
    """The states that the text names, then those that are supplied; at least one.

    A state is supplied where the rig has what makes it differ and no state of the text does the
    same: a charger for `shore`, a disconnect for `stored`.
    """
    drive = drive or source_reach(study)
    made = [
        _filled(drive, state.name, "named in the text", _kind(state.name), _said(study.rig, state))
        for state in study.rig.states
    ]
    made += [
        _filled(drive, kind, how, kind, {})
        for kind, how in _supplied().items()
        if _has(study.rig, kind) and not any(_does(study.rig, s, kind) for s in study.rig.states)
    ]
    masters = _masters(study.rig)
    if _wants_engine_off(study.rig, made, masters):
        made.append(_filled(drive, ENGINE_OFF, "in use, while the engine rests", "rest", {}))
    if all(any(_stands_open(state, name) for name in masters) for state in made):
        made.append(_filled(drive, IN_USE, "everything as it is used", None, {}))
    return tuple(made)


@once
def _masters(rig: Rig) -> frozenset[str]:
    """What parts the rig and is closed in use, by name."""
    return _parting(rig) - _left_open(rig)


@once
def _left_open(rig: Rig) -> frozenset[str]:
    """What parts the rig and rests open in use too, by name: no panel hangs behind it."""
    resting = {edge_name(one): one.about.name for one in rig.devices
               if one.rests == "open" and one.traits.parts_rig}  # fmt: skip
    feeding = feeding_panels(rig, frozenset(resting)) if resting else frozenset[str]()
    return frozenset(name for edge, name in resting.items() if edge not in feeding)


@once
def _parting(rig: Rig) -> frozenset[str]:
    """What parts the rig, but for what joins two banks in an emergency, by name."""
    names = {device.about.name for device in rig.devices if device.traits.parts_rig}
    return frozenset(names - parallel_switches(rig))


def _wants_engine_off(rig: Rig, made: Iterable[Condition], masters: Collection[str]) -> bool:
    """Whether a rig has an engine and no state that is more than storage leaves it off.

    One of which nobody can be sure that it runs counts as off for what must stay on.
    """
    engines = [s.about.name for s in rig.sources if s.traits.runs_with == "engine"]
    used = (s for s in made if not masters or not all(_stands_open(s, name) for name in masters))
    return bool(engines) and not any(
        all(_may_rest(state, name) for name in engines) for state in used
    )


def _supplied() -> dict[str, str]:
    """The states that are supplied where the text names none that does the same, and what is so."""
    stored = {STORED: "disconnects open, selectors off"}
    return stored | {name: occasion.how for name, occasion in OCCASIONS.items()}


def _stands_open(state: Condition, part: str) -> bool:
    setting = state.of(part)
    return setting is not None and setting.position in OPENS


def _may_rest(state: Condition, part: str) -> bool:
    setting = state.of(part)
    return setting is not None and (setting.position in OPENS or not setting.is_sure)


def _kind(name: str) -> str | None:
    return next((kind for kind in _supplied() if kind == name.strip().casefold()), None)


def _has(rig: Rig, kind: str) -> bool:
    """Whether a rig has what makes a supplied state differ."""
    if kind == STORED:
        return any(device.traits.parts_rig for device in rig.devices)
    return any(source.traits.runs_with == kind for source in rig.sources)


def _does(rig: Rig, state: State, kind: str) -> bool:
    """Whether a state of the text does what a supplied one would."""
    if _kind(state.name) == kind:
        return True
    said = dict(state.settings)
    if kind == STORED:
        return all(said.get(name) in OPENS for name in _masters(rig) or _parting(rig))
    runs = (s.about.name for s in rig.sources if s.traits.runs_with == kind)
    return any(said.get(name) in ("on", "closed") for name in runs)


def _said(rig: Rig, state: State) -> dict[str, Setting]:
    """What the text says of parts, in the words that go with each kind of part."""
    sources = {source.about.name for source in rig.sources}
    all_at_once: dict[str, Position] = {
        d.about.name: "both" if d.traits.selects else ANY
        for d in rig.devices if d.traits.has_positions
    }  # fmt: skip
    parts = sources | {device.about.name for device in rig.devices}
    found = {}
    for name, word in state.settings:
        if name in parts:
            every = all_at_once.get(name)
            position = _position(word, is_source=name in sources, all_at_once=every)
            found[name] = Setting(name, position, "said in the text", is_stated=True)
    return found


def _position(word: str, *, is_source: bool, all_at_once: Position | None) -> Position:
    """A word of the text as it goes with a part; `all_at_once` where that has positions."""
    is_open = word in OPENS
    if is_source:
        return "off" if is_open else "on"
    if all_at_once:
        if is_open:
            return "off"
        return "1" if word == "1" else "2" if word == "2" else all_at_once
    return "open" if is_open else "closed"


def _filled(
    drive: SourceReach, name: str, how: str, kind: str | None, said: Mapping[str, Setting]
) -> Condition:
    """A state with everything that was left open filled in."""
    rig = drive.rig
    found = dict(said)
    for source in rig.sources:
        found.setdefault(source.about.name, _source(drive, source, kind))
    for device in rig.devices:
        part = device.about.name
        if part not in found and device.traits.parts_rig:
            found[part] = _master(drive, device, kind)
        elif part not in found and device.position:
            found[part] = _at_rest(rig, part)
        elif part not in found and device.rests:
            position: Position = "open" if device.rests == "open" else "closed"
            found[part] = Setting(part, position, "rests so")
        elif part not in found and part in parallel_switches(rig):
            found[part] = Setting(part, "open", _IN_EMERGENCY)
    found |= _plugs(drive, found)
    condition = Condition(name, how, how == "named in the text", in_order(rig, found.values()))
    return idle(drive, with_coils(drive, joined_banks(drive, condition)))


def _source(drive: SourceReach, source: Source, kind: str | None) -> Setting:
    """How a source stands in a state that does not speak of it."""
    name, runs_with = source.about.name, source.traits.runs_with
    if source.inlet:
        return _converter(drive, source, kind)
    if not runs_with:
        return Setting(name, "on", f"{with_article(source.kind)} is always there")
    occasion = OCCASIONS[runs_with]
    only = occasion.only
    if kind == runs_with:
        return Setting(name, "on", only)
    if kind is None:
        return Setting(name, "on", f"not said; {only}", is_sure=False)
    if occasion.at_any_time:
        return Setting(name, "on", f"{only}, {occasion.at_any_time}", is_sure=False)
    if kind in occasion.perhaps_with:
        return Setting(name, "on", f"{only}; {occasion.doubt}", is_sure=False)
    return Setting(name, "off", only)


def _converter(drive: SourceReach, source: Source, kind: str | None) -> Setting:
    """A DC-DC converter: one that charges a bank may wait for the engine, any other runs."""
    name = source.about.name
    if name not in drive.passes_on and kind != "engine":
        reason = "runs while its input is live, unless it waits for the engine"
        return Setting(name, "on", reason, is_sure=False)
    return Setting(name, "on", "runs while its input is live")


def _master(drive: SourceReach, device: Device, kind: str | None) -> Setting:
    """How a disconnect or a selector stands in a state that does not speak of it."""
    name = device.about.name
    rests_open = name in _left_open(drive.rig)
    if kind == STORED and device.line in drive.study.sunlit and not rests_open:
        return Setting(name, "closed", "may stay closed while the rig is stored", is_sure=False)
    if kind == STORED:
        position: Position = "off" if device.traits.selects else "open"
        return Setting(name, position, "open when the rig is stored")
    if name in parallel_switches(drive.rig):
        return Setting(name, "open", _IN_EMERGENCY)
    if rests_open:
        return Setting(name, "open", "rests so")
    if device.traits.selects:
        return Setting(name, "both", "not said: taken as joined to both banks", is_sure=False)
    return Setting(name, "closed", "not said: taken as closed")


def _at_rest(rig: Rig, name: str) -> Setting:
    """How a switch that makes one of several ways stands where the text names no position."""
    ways = rig.poles[name]
    if not any(one.rests for one in ways):
        return Setting(name, ANY, "not said: it may stand in any of its positions", is_sure=False)
    made = resting_position(ways)
    position: Position = "off" if not made else "1" if made == "1" else "2"
    return Setting(name, position, "rests so")


def _plugs(drive: SourceReach, found: Mapping[str, Setting]) -> dict[str, Setting]:
    """The plugs between a vehicle and the rig: plugged in while the vehicle supplies."""
    made: dict[str, Setting] = {}
    for source in drive.rig.sources:
        if source.traits.runs_with != "towing":
            continue
        tow = found[source.about.name]
        for device in plugs_of(drive.net, drive.rig, source):
            name = device.about.name
            if name in found or name in made:
                continue
            position: Position = "open" if tow.position == "off" else "closed"
            made[name] = Setting(name, position, f"goes with {source.about.name}", tow.is_sure)
    return made
