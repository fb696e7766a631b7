"""What is said of a part: its rating and kind, what it gives or takes, where an end leads."""

import re

from rigfolio.books import family_words
from rigfolio.kinds import DEVICES, USUAL_DUTY
from rigfolio.model import Device, Junction, Load, Panel, Rig, Source
from rigfolio.protection import stated_volts
from rigfolio.schematic.chains import Bar
from rigfolio.units import show
from rigfolio.values import MINUS, printed
from rigfolio.wording import (
    amps,
    draw_words,
    end_words,
    fitted_there,
    how_many,
    module_words,
    rating_words,
    short_end,
    stated,
)

_BY_NATURE = {"filament": "lamp", "led": "lamp", "motor": "motor", "heater": "heater",
              "inverter": "inverter"}  # fmt: skip
_WITH_COIL = (word for word, kind in DEVICES.items() if kind.has_coil)
_BY_LABEL = (
    # The coil of a relay for a pump or a lamp is neither of them.
    ("appliance", frozenset({"coil", "contactor", "solenoid", *_WITH_COIL})),
    ("socket", frozenset({"socket", "sockets", "outlet", "outlets"})),
    ("motor", frozenset({"pump", "fan", "blower", "motor", "winch", "windlass", "wiper"})),
    ("lamp", frozenset({"lamp", "lamps", "light", "lights"})),
)


def device_facts(rig: Rig, device: Device, name: str, *, mark: str = "") -> tuple[str, str]:
    """Rating with kind, and make: `110 A fuse` and `class T`; blank where there is none.

    What was found in its place stands before that. The kind is left out where the name of the
    device says it.
    """
    if device.rating_a is None and not device.protects and not device.rests:
        return "", family_words(device.family)
    is_said = device.kind in name.lower().split()
    words = [amps(device.rating_a), device.kind if device.protects and not is_said else ""]
    if device.traits.is_plug:
        words.append("a pin")
    if device.pole:
        words.append("a pole, poles linked")
    if device.rests:
        words.append(f"rests {device.rests}")
    if mark:
        words.append(mark)
    rated = fitted_there(rig, device, " ".join(filter(None, words)), is_warned=bool(mark))
    volts = stated_volts(device)
    return f"{rated}, {volts}" if volts else rated, family_words(device.family)


def slot_facts(rig: Rig, device: Device, *, mark: str = "") -> str:
    """Rating of the device in a slot, with its colour word or its kind, and what was found there.

    One that does not belong there has no colour to be copied: its `mark` says why.
    """
    if mark:
        words = f"{amps(device.rating_a)} {mark}"
        return fitted_there(rig, device, words, is_warned=True)
    words, family = rating_words(device), family_words(device.family)
    if device.family and device.family not in words:
        words = f"{words}, {family}"
    return fitted_there(rig, device, words)


def source_facts(source: Source) -> str:
    """Volts, capacity, largest current and chemistry of a source."""
    if source.modules is not None:
        return ", ".join(module_words(source.modules)[:4])
    facts = [stated(source.voltage_v, "V")]
    if source.capacity_c is not None:
        facts.append(show(source.capacity_c, "Ah", 4))
    if source.limit_a is not None:
        together = " for all outputs together" if source.unit else ""
        facts.append(f"{stated(source.limit_a, 'A')}{together}")
    if source.hours_a is not None:
        facts.append(f"{stated(source.hours_a, 'A')} for hours")
    if source.cut_off_a is not None:
        facts.append(f"cuts off above {stated(source.cut_off_a, 'A')}")
    if source.charge_least_c is not None:
        facts.append(f"no charge below {stated(source.charge_least_c, '°C')}")
    if source.cranking_a is not None:
        facts.append(f"{stated(source.cranking_a, 'A')} cold cranking")
    return ", ".join([*facts, *([source.chemistry] if source.chemistry else [])])


def demand_words(load: Load, stays: str = "") -> str:
    """What a consumer draws, as the text states it: `8 W`, `7 A, intermittent`, `? A`.

    `stays` is what is said of one that must stay on.
    """
    duty = "" if load.duty == USUAL_DUTY else load.duty
    volts = "" if load.made_for_v is None else f"made for {stated(load.made_for_v, 'V')}"
    rest = "" if load.rest_a is None else f"{stated(load.rest_a, 'A')} at rest"
    return ", ".join(word for word in (draw_words(load), duty, stays, volts, rest) if word)


def panel_words(panel: Panel) -> str:
    """`12 slots of 20 A, 75 A in all`."""
    text = how_many(panel.slots, "slot")
    if panel.slot_a is not None:
        text += f" of {amps(panel.slot_a)}"
    if panel.total_a is not None:
        text += f", {amps(panel.total_a)} in all"
    return text


def bar_words(rig: Rig, bar: Bar) -> str:
    """Name of a bar: `N1 Negative bar 100 A −`; empty for a joint that has none."""
    sign = {"+": "+", "-": MINUS}.get(bar.sign, "")
    if bar.panel is not None:
        return f"{bar.panel.about.name} {bar.panel.about.label} {sign}".replace("  ", " ").strip()
    junction = next((thing for thing in bar.things if isinstance(thing, Junction)), None)
    if junction is not None:
        words = [junction.about.name]
        if not junction.traits.is_joint or _is_of_feeders(rig, junction):
            words.append(junction.about.label)
        if junction.traits.is_bar:
            words.append(amps(junction.rating_a) if junction.rating_a is not None else "")
            words += [how_many(junction.ways, "way") if junction.ways else "", sign]
        return " ".join(word for word in words if word)
    if bar.kind == "box":
        thing = bar.things[0] if bar.things else None
        if isinstance(thing, Source | Device):
            isolated = isinstance(thing, Source) and thing.isolated
            words = [thing.about.name, thing.about.label, "isolated" if isolated else ""]
            if isinstance(thing, Source) and thing.lit:
                words.append(amps(thing.limit_a))
            return " ".join(word for word in words if word)
        return ""
    name = bar.terminals[0]
    if bar.kind == "bar":
        return f"{end_words(rig, name)} {sign}".strip()
    source = next((t for t in bar.things if isinstance(t, Source)), None)
    if source is not None and name == f"{source.about.name}{name[-1:]}" and name[-1:] in "+-":
        return f"{source.about.name} {sign or printed(name)[-1]}"
    is_twin = bar.is_minor and name.endswith("-")
    return "" if is_made_up(name) or is_twin else short_end(rig, name)


def _is_of_feeders(rig: Rig, junction: Junction) -> bool:
    """Whether wires of no circuit meet there; inside a circuit a joint has room for its name."""
    return any(
        junction.terminal in (wire.a, wire.b) and not wire.circuit for wire in rig.conductors
    )


def is_made_up(terminal: str) -> bool:
    """Whether nobody can find a terminal by its name."""
    is_inner = any(f".{word}." in f"{terminal}." for word in (*DEVICES, "main"))
    return "~" in terminal or ":" in terminal or is_inner


def end_text(rig: Rig, terminal: str) -> str:
    """What is said at the end of a rung that leads nowhere."""
    return "?" if "~" in terminal else end_words(rig, terminal)


def device_symbol(device: Device) -> str:
    """The symbol for a device; one that rests closed has a break contact (IEC 60617)."""
    traits = device.traits
    if device.turns_off:
        return f"{traits.symbol} off"
    return (
        traits.symbol_closed if device.rests == "closed" and traits.symbol_closed else traits.symbol
    )


def load_symbol(load: Load) -> str:
    """The symbol for a consumer: by its nature, else by what its label calls it."""
    by_nature = _BY_NATURE.get(load.nature)
    if by_nature is not None:
        return by_nature
    names = set(re.findall("[a-z]+", load.about.label.lower()))
    for symbol, known in _BY_LABEL:
        if names & known:
            return symbol
    return "appliance"


def main_panel(rig: Rig, device: Device) -> Panel | None:
    """The panel that a device is the main fuse or breaker of: between its feed and its bus."""
    ends = {device.line, device.load}
    return next((p for p in rig.panels if p.feed != p.bus and ends == {p.feed, p.bus}), None)
