"""What is written at each piece of a rung and at each bar, in one style."""

from dataclasses import dataclass, field

from rigfolio.draw import width_mm
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device, Load, Rig, Slot, Source
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.setting.facts import (
    bar_words,
    demand_words,
    device_facts,
    slot_facts,
    source_facts,
)
from rigfolio.schematic.setting.style import Words, WordStyle, broken
from rigfolio.wording import (
    colour_code,
    colour_words,
    end_words,
    gauge_words,
    is_imperial,
    length_words,
)

_LETTER_STUB = "~"


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
        if device.traits.is_plug:
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


def speaker_of(rig: Rig, style: WordStyle) -> Speaker:
    """Words of a rig in a style; lengths as go with its gauges."""
    return Speaker(rig, style, is_imperial(rig))
