"""What is written at each piece of a rung and at each bar, in one style."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rigfolio.draw import width_mm
from rigfolio.findings import Unknown
from rigfolio.isolation import stay_words, stay_words_of
from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Rig, Slot, Source
from rigfolio.schematic.chains import Bar
from rigfolio.schematic.setting.facts import (
    bar_words,
    demand_words,
    device_facts,
    main_panel,
    panel_words,
    slot_facts,
    source_facts,
)
from rigfolio.schematic.setting.notes import Notes
from rigfolio.schematic.setting.style import Words, WordStyle, broken
from rigfolio.shorts import warning_marks
from rigfolio.study import Study, once
from rigfolio.wording import (
    ALWAYS_ON,
    colour_code,
    colour_words,
    end_words,
    there_words,
    wire_length,
)

_LETTER_STUB = "~"


@dataclass(frozen=True, slots=True)
class Speaker:
    """Words of one rig in one style."""

    rig: Rig
    style: WordStyle
    notes: Notes = field(default_factory=Notes)
    warned: tuple[tuple[str, str], ...] = ()
    stays: Mapping[str, str] = field(default_factory=dict, compare=False)
    """What is said of loads by name, and of circuits by place, that must stay on."""
    heads: dict[str, str] = field(default_factory=dict, compare=False)
    kept: dict[tuple[int, object], Words] = field(default_factory=dict, compare=False)
    """Words of each thing that were made, by the thing and the slot that it stands in."""

    def _mark(self, device: Device) -> str:
        """That a device does not belong where it is; empty where it does."""
        return dict(self.warned).get(device.about.name, "")

    def wire(self, wire: Conductor) -> Words:
        """Name and gauge above, colour and length below."""
        name = "lead" if wire.lead else wire.name
        colour = colour_code(wire.colour)
        if not colour and wire.colour is not None:
            colour = "?" if isinstance(wire.colour, Unknown) else colour_words(wire.colour)
        length = wire_length(wire)
        rest = [colour, length, "assumed" if wire.assumed else "", wire.condition]
        upper = f"{name}  {there_words(wire, short=True)}"
        lower = "  ".join(word for word in rest if word)
        size = self.style.size_pt
        room = max(width_mm(upper, size), width_mm("12 ft assumed", size))
        if not self.style.narrow:
            room = max(room, self.style.load_mm)
        flag = self.notes.flag(wire.name)
        return Words("", (upper,), self.broken(lower, room + 0.1), flag=flag)

    def title(self, wire: Conductor) -> str:
        """All that is known of a conductor in one sentence."""
        facts = [there_words(wire), colour_words(wire.colour)]
        facts.append(wire_length(wire))
        facts.append(f"{end_words(self.rig, wire.a)} to {end_words(self.rig, wire.b)}")
        if wire.assumed:
            facts.append("return assumed")
        facts += [word for word in (wire.condition, wire.note) if word]
        return f"{wire.name}: {', '.join(facts)}"

    def device(self, device: Device) -> Words:
        """Designation and label above, rating and kind below."""
        name = as_pin(device) or device.about.name
        # Its name says all that the label of a main can say.
        label = "" if main_panel(self.rig, device) else device.about.label
        flag = self.notes.flag(device.about.name)
        facts = (*self._facts(device, f"{name} {label}"), *self._state(device.about.condition))
        is_wide = width_mm(f"{name} {label}", self.style.size_pt) > self.style.name_mm
        if label and (is_wide or self.style.narrow):
            below = (*self.broken(label, self.style.name_mm), *facts)
            return Words(name, (), below, flag=flag)
        return Words(name, (label,) if label else (), facts, flag=flag)

    def _facts(self, device: Device, name: str) -> tuple[str, ...]:
        """Rating and kind of a device in one line, or its make in a line of its own."""
        rating, make = device_facts(self.rig, device, name, mark=self._mark(device))
        whole = ", ".join(word for word in (rating, make) if word)
        room = self.style.facts_mm
        if not make or width_mm(whole, self.style.size_pt) <= room:
            return self.broken(whole, room)
        return (*self.broken(rating, room), *self.broken(make, room))

    def slot(self, device: Device, held: Sequence[Circuit]) -> Words:
        """Label of the circuits of a slot above, its fuse below."""
        facts = slot_facts(self.rig, device, mark=self._mark(device))
        stays = next((self.stays[c.place] for c in held if c.place in self.stays), "")
        facts = f"{facts}, {stays}" if stays else facts
        label = " / ".join(dict.fromkeys(c.label for c in held if c.label))
        lines = self.broken(label or device.about.name, self.style.slot_mm, bold=True)
        states = (device.about.condition, *(circuit.condition for circuit in held))
        below = (*self.broken(facts, self.style.slot_mm), *self._state(*states))
        flag = self.notes.flag(device.about.name, *(circuit.place for circuit in held))
        return Words("", lines, below, is_bold=True, flag=flag)

    def part(self, thing: Source | Load) -> Words:
        """A source or a load: name and label above, what it gives or takes below."""
        is_source = isinstance(thing, Source)
        about = thing.about
        circuit = isinstance(thing, Load) and bool(thing.circuit)
        name = about.label or about.name if circuit else f"{about.name} {about.label}".strip()
        facts = source_facts(thing) if isinstance(thing, Source) else self._demand(thing)
        lines = self.broken(name, self.style.load_mm, bold=is_source)
        below = (*self.broken(facts, self.style.load_mm), *self._state(about.condition))
        return Words("", lines, below, is_bold=is_source, flag=self.notes.flag(about.name))

    def _demand(self, load: Load) -> str:
        return demand_words(load, self.stays.get(load.about.name, ""))

    def idle(self, slot: Slot) -> Words:
        """What a slot without a circuit is kept for."""
        if slot.label.startswith(_LETTER_STUB):
            word = slot.label.removeprefix(_LETTER_STUB)
        else:
            word = f"{slot.use}: {slot.label}" if slot.label else slot.use
        flag = self.notes.flag(slot.place)
        word = f"{word}, {flag}" if flag else word
        return Words("", self.broken(word, self.style.slot_mm), ())

    def _state(self, *found: str) -> tuple[str, ...]:
        """The states that something was found in: `scorched`."""
        return self.broken(", ".join(dict.fromkeys(filter(None, found))), self.style.name_mm)

    def head(self, bar: Bar) -> str:
        """The name at the head of a bar."""
        if bar.name not in self.heads:
            words = bar_words(self.rig, bar)
            flag = "" if bar.panel is not None else self.notes.flag(*_own_names(bar))
            self.heads[bar.name] = f"{words}  {flag}".strip() if flag else words
        return self.heads[bar.name]

    def panel(self, bar: Bar) -> str:
        """The facts of a panel in its head: `12 slots of 20 A, note 3`."""
        if bar.panel is None:
            return ""
        flag = self.notes.flag(*_own_names(bar))
        return f"{panel_words(bar.panel)}, {flag}" if flag else panel_words(bar.panel)

    def broken(self, text: str, room_mm: float, *, bold: bool = False) -> tuple[str, ...]:
        """Lines of a text no wider than a room; none of an empty one."""
        return broken(text, room_mm, self.style.size_pt, bold=bold)


def speaker_of(study: Study, style: WordStyle, notes: Notes | None = None) -> Speaker:
    """Words of a rig in a style, with the numbers of notes; lengths as go with its gauges."""
    rig = study.rig
    stays = {one.place: stay_words_of(study, (one,)) for one in rig.circuits if one.always_on}
    loads = (one.about.name for one in rig.loads if one.always_on)
    stays |= {name: stay_words(study, (name,)) for name in loads}
    said = {key: words.lower() if words == ALWAYS_ON else words for key, words in stays.items()}
    return Speaker(rig, style, notes or Notes(), warned_of(study), said)


@once
def warned_of(study: Study) -> tuple[tuple[str, str], ...]:
    """The marks of devices that do not belong where they are, by name; all styles say the same."""
    marks = {one.about.name: ", ".join(warning_marks(study, one)) for one in study.rig.devices}
    return tuple((name, words) for name, words in marks.items() if words)


def as_pin(device: Device) -> str:
    """A pin or a pole as the text names it, `J1.3`; empty where that is not how it is named."""
    stem = device.line.removesuffix(".line")
    is_numbered = device.traits.is_plug or device.pole
    return stem if is_numbered and stem.startswith(f"{device.about.name}.") else ""


def _own_names(bar: Bar) -> tuple[str, ...]:
    """The names under which notes on a bar are kept: its terminal, its junction, panel or box."""
    own = [bar.terminals[0]]
    if bar.panel is not None:
        own.append(bar.panel.about.name)
    for thing in bar.things:
        if isinstance(thing, Junction) or (bar.is_box and isinstance(thing, Source | Device)):
            own.append(thing.about.name)
    return tuple(dict.fromkeys(own))
