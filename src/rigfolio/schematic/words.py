"""What is written at each piece of a rung and at each bar, and how much room it takes."""

import re
from dataclasses import dataclass, field
from functools import lru_cache

from rigfolio.draw import fit, width_mm
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device, Junction, Load, Panel, Rig, Slot, Source
from rigfolio.schematic.graph import Bar
from rigfolio.units import show
from rigfolio.values import MINUS, printed
from rigfolio.wording import (
    amps,
    colour_code,
    colour_words,
    end_words,
    gauge_words,
    is_imperial,
    length_words,
    rating_words,
    short_end,
)

MOST_LINES = 12
_LETTER_STUB = "~"
_BY_NATURE = {"filament": "lamp", "led": "lamp", "motor": "motor", "heater": "heater",
              "inverter": "inverter"}  # fmt: skip
_BY_LABEL = (
    ("socket", frozenset({"socket", "sockets", "outlet", "outlets"})),
    ("motor", frozenset({"pump", "fan", "blower", "motor", "winch", "windlass", "wiper"})),
    ("lamp", frozenset({"lamp", "lamps", "light", "lights"})),
)


@dataclass(frozen=True, slots=True)
class WordStyle:
    """Type and widths of words: `name_mm` of a device, `load_mm` of a load, `slot_mm` of a slot.

    Where words are `narrow`, names of devices stand below their symbols.
    """

    size_pt: float
    name_mm: float
    facts_mm: float
    load_mm: float
    slot_mm: float
    narrow: bool = False

    @property
    def line_mm(self) -> float:
        """From one line of words to the next."""
        return 0.4 * self.size_pt

    @property
    def base_mm(self) -> float:
        """From a rung up to the baseline of the words above it."""
        return 1.5

    @property
    def under_mm(self) -> float:
        """From a rung down to the baseline of the words below it."""
        return 1.1 + 0.27 * self.size_pt


def _levels(size_pt: float, count: int, slot_mm: float) -> tuple[WordStyle, ...]:
    """Styles of one type: the usual one, and those of rungs that have to be narrower."""
    made = (
        WordStyle(size_pt, 34.0, 26.0, 46.0, slot_mm),
        WordStyle(size_pt, 24.0, 22.0, 30.0, slot_mm, narrow=True),
        WordStyle(size_pt, 15.0, 15.0, 22.0, slot_mm, narrow=True),
    )
    return made[:count]


STYLES = (_levels(8.0, 2, 48.0), _levels(7.5, 3, 48.0), _levels(7.0, 3, 28.0))
"""From the most legible to the narrowest; the first that fits a page is taken."""


@dataclass(frozen=True, slots=True)
class Words:
    """Lines above and below a piece; `bold` words lead the line above.

    Lines after the first of `above` stand below as well, before `below`.
    """

    bold: str
    above: tuple[str, ...]
    below: tuple[str, ...]
    is_bold: bool = False

    def under(self) -> tuple[tuple[str, bool], ...]:
        """Lines below the rung, each with whether it is bold."""
        more = tuple((line, self.is_bold) for line in self.above[1:])
        return (*more, *((line, False) for line in self.below))

    def head_mm(self, size_pt: float) -> float:
        """Width of the line above."""
        first = self.above[0] if self.above else ""
        gap = width_mm(" ", size_pt) if self.bold and first else 0.0
        return (
            width_mm(self.bold, size_pt, bold=True)
            + gap
            + width_mm(first, size_pt, bold=self.is_bold)
        )

    def width_mm(self, size_pt: float) -> float:
        """Width of all lines."""
        under = [width_mm(line, size_pt, bold=bold) for line, bold in self.under()]
        return max([self.head_mm(size_pt), *under])


@dataclass(frozen=True, slots=True)
class Speaker:
    """Words of one rig in one style."""

    rig: Rig
    style: WordStyle
    imperial: bool
    heads: dict[str, str] = field(default_factory=dict, compare=False)
    kept: dict[tuple[int, object], Words] = field(default_factory=dict, compare=False)
    """Words of each thing that were made, by the thing and the slot that it stands in."""

    def wire(self, wire: Conductor) -> Words:
        """Name and gauge above, colour and length below."""
        name = "lead" if wire.lead else wire.name
        colour = colour_code(wire.colour)
        if not colour and wire.colour is not None:
            colour = "?" if isinstance(wire.colour, Unknown) else colour_words(wire.colour)
        length = length_words(wire.length_m, imperial=self.imperial)
        rest = [colour, length, "assumed" if wire.assumed else "", wire.condition]
        upper = f"{name}  {gauge_words(wire)}"
        lower = "  ".join(word for word in rest if word)
        size = self.style.size_pt
        room = max(width_mm(upper, size), width_mm("12 ft assumed", size))
        if not self.style.narrow:
            room = max(room, self.style.load_mm)
        return Words("", (upper,), self.broken(lower, room + 0.1))

    def title(self, wire: Conductor) -> str:
        """All that is known of a conductor in one sentence."""
        facts = [gauge_words(wire), colour_words(wire.colour)]
        facts.append(length_words(wire.length_m, imperial=self.imperial))
        facts.append(f"{end_words(self.rig, wire.a)} to {end_words(self.rig, wire.b)}")
        if wire.assumed:
            facts.append("return assumed")
        facts += [word for word in (wire.condition, wire.note) if word]
        return f"{wire.name}: {', '.join(facts)}"

    def device(self, device: Device, terminal: str) -> Words:
        """Designation and label above, rating and kind below."""
        about = device.about
        name = about.name
        label = about.label
        if device.on_wire:
            name, label = f"{device.on_wire} {device.kind}", ""
        if name.endswith(f".{device.kind}"):
            name = device.kind
        if device.kind == "connector":
            parts = terminal.split(".")
            name = f"{name} pin {parts[-2]}" if len(parts) > 2 else name
        facts = (*self._facts(device, f"{name} {label}"), *self.asides(device))
        if self.style.narrow and label:
            return Words(name, (), (*self.broken(label, self.style.name_mm), *facts))
        if label and width_mm(f"{name} {label}", self.style.size_pt) > self.style.name_mm:
            return Words(name, (), (*self.broken(label, self.style.name_mm), *facts))
        return Words(name, (label,) if label else (), facts)

    def _facts(self, device: Device, name: str) -> tuple[str, ...]:
        """Rating and kind of a device in one line, or its make in a line of its own."""
        rating, make = device_facts(device, name)
        whole = ", ".join(word for word in (rating, make) if word)
        room = self.style.facts_mm
        if not make or width_mm(whole, self.style.size_pt) <= room:
            return self.broken(whole, room)
        return (*self.broken(rating, room), *self.broken(make, room))

    def slot(self, device: Device, label: str, *, always_on: bool) -> Words:
        """Label of a circuit above, its fuse below."""
        facts = slot_facts(device)
        facts = f"{facts}, always on" if always_on else facts
        lines = self.broken(label or device.about.name, self.style.slot_mm, bold=True)
        below = (*self.broken(facts, self.style.slot_mm), *self.asides(device))
        return Words("", lines, below, is_bold=True)

    def part(self, thing: Source | Load) -> Words:
        """A source or a load: name and label above, what it gives or takes below."""
        is_source = isinstance(thing, Source)
        about = thing.about
        circuit = isinstance(thing, Load) and bool(thing.circuit)
        name = about.label or about.name if circuit else f"{about.name} {about.label}".strip()
        facts = source_facts(thing) if isinstance(thing, Source) else demand_words(thing)
        lines = self.broken(name, self.style.load_mm, bold=is_source)
        below = (*self.broken(facts, self.style.load_mm), *self.asides(thing))
        return Words("", lines, below, is_bold=is_source)

    def idle(self, slot: Slot) -> Words:
        """What a slot without a circuit is kept for."""
        if slot.label.startswith(_LETTER_STUB):
            word = slot.label.removeprefix(_LETTER_STUB)
        else:
            word = f"{slot.use}: {slot.label}" if slot.label else slot.use
        return Words("", self.broken(word, self.style.slot_mm), ())

    def asides(self, thing: Device | Source | Load) -> tuple[str, ...]:
        """What was noted of a part and the state that it was found in."""
        said = ", ".join(word for word in (thing.about.condition,) if word)
        return self.broken(said, self.style.name_mm)

    def head(self, bar: Bar) -> str:
        """The name at the head of a bar."""
        if bar.name not in self.heads:
            self.heads[bar.name] = bar_words(self.rig, bar)
        return self.heads[bar.name]

    def broken(self, text: str, room_mm: float, *, bold: bool = False) -> tuple[str, ...]:
        """Lines of a text no wider than a room; none of an empty one."""
        return broken(text, room_mm, self.style.size_pt, bold=bold)


@lru_cache(maxsize=8192)
def broken(text: str, room_mm: float, size_pt: float, *, bold: bool) -> tuple[str, ...]:
    """Lines of a text no wider than a room; none of a blank one."""
    if not text.strip():
        return ()
    done = fit(text, room_mm, size_pt=size_pt, floor_pt=size_pt, lines=MOST_LINES, bold=bold)
    return tuple(line for line in done.lines if line)


def speaker(rig: Rig, style: WordStyle) -> Speaker:
    """Words of a rig in a style; lengths as go with its gauges."""
    return Speaker(rig, style, is_imperial(rig))


def device_facts(device: Device, name: str) -> tuple[str, str]:
    """Rating with kind, and make: `110 A fuse` and `class t`; blank where there is none.

    The kind is left out where the name of the device says it.
    """
    if device.rating_a is None and not device.protects:
        return "", device.family
    is_said = device.kind in name.lower().split()
    words = [amps(device.rating_a), device.kind if device.protects and not is_said else ""]
    if device.kind == "connector":
        words.append("a pin")
    return " ".join(word for word in words if word), device.family


def slot_facts(device: Device) -> str:
    """Rating of the device in a slot, with its colour word or its kind."""
    words = rating_words(device)
    return f"{words}, {device.family}" if device.family and device.family not in words else words


def source_facts(source: Source) -> str:
    """Volts, capacity, largest current and chemistry of a source."""
    facts = [show(source.voltage_v, "V")]
    if isinstance(source.capacity_c, float):
        facts.append(show(source.capacity_c, "Ah"))
    elif isinstance(source.capacity_c, Unknown):
        facts.append("? Ah")
    if source.limit_a is not None:
        facts.append(amps(source.limit_a))
    return ", ".join([*facts, *([source.chemistry] if source.chemistry else [])])


def demand_words(load: Load) -> str:
    """What a consumer draws, as the text states it: `8 W`, `7 A, intermittent`, `? A`.

    An inverter is called by the AC power that it gives, and what it takes itself says DC.
    """
    if isinstance(load.value, Unknown):
        figure = amps(load.value)
    elif load.nature == "inverter" and load.kind == "power":
        figure = f"{show(load.value, 'W')} DC"
        if load.stated_w is not None:
            figure = f"{show(load.stated_w, 'W')} AC"
    else:
        figure = show(load.value, {"current": "A", "power": "W", "resistance": "Ω"}[load.kind])
    duty = "" if load.duty == "continuous" else load.duty
    always = "always on" if load.always_on else ""
    return ", ".join(word for word in (figure, duty, always) if word)


def panel_words(panel: Panel) -> str:
    """`12 slots of 20 A, 75 A in all`."""
    text = f"{panel.slots} slots"
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
        if junction.kind != "splice":
            words.append(junction.about.label)
        if junction.kind == "busbar":
            words += [amps(junction.rating_a) if junction.rating_a is not None else "", sign]
        return " ".join(word for word in words if word)
    if bar.kind == "box":
        thing = bar.things[0] if bar.things else None
        if isinstance(thing, Source | Device):
            return f"{thing.about.name} {thing.about.label}".strip()
        return ""
    name = bar.terminals[0]
    if bar.kind == "busbar":
        return f"{end_words(rig, name)} {sign}".strip()
    source = next((t for t in bar.things if isinstance(t, Source)), None)
    if source is not None and name == f"{source.about.name}{name[-1:]}" and name[-1:] in "+-":
        return f"{source.about.name} {sign or printed(name)[-1]}"
    is_twin = bar.is_minor and name.endswith("-")
    return "" if is_made_up(name) or is_twin else short_end(rig, name)


def is_made_up(terminal: str) -> bool:
    """Whether nobody can find a terminal by its name."""
    is_inner = any(f".{kind}." in f"{terminal}." for kind in ("switch", "relay", "fuse", "main"))
    return "~" in terminal or ":" in terminal or is_inner


def end_text(rig: Rig, terminal: str) -> str:
    """What is said at the end of a rung that leads nowhere."""
    return "?" if "~" in terminal else end_words(rig, terminal)


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
