"""Remarks of the text, numbered: a number stands at the part, the words in a list beside it.

What a part was found as, scorched or loose, stands at the part itself, where it has words there.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rigfolio.model import Rig
from rigfolio.record import record
from rigfolio.schematic.chains import Bar
from rigfolio.wording import end_words


@record
class NumberedNote:
    """A remark: its number on the diagram, what it is about, what it says."""

    number: int
    about: str
    words: str


@dataclass(frozen=True, slots=True)
class Notes:
    """All remarks of a rig in the order of the text, and those at each part or place."""

    all: tuple[NumberedNote, ...] = ()
    at: Mapping[str, tuple[int, ...]] = field(default_factory=dict)

    def flag(self, *places: str) -> str:
        """`note 3` or `notes 3, 4`, for what stands at some places; empty where nothing does."""
        found = dict.fromkeys(n for place in places for n in self.at.get(place, ()))
        if not found:
            return ""
        return f"note{'s' * (len(found) > 1)} {', '.join(map(str, sorted(found)))}"


def notes_of(rig: Rig, bars: Mapping[str, Bar]) -> Notes:
    """The remarks of a rig; one on a place without a bar is put to a part that ends there."""
    said = sorted({*_on_parts(rig), *_on_wires(rig), *_on_places(rig, bars)})
    made: dict[tuple[str, int, str], NumberedNote] = {}
    at: dict[str, tuple[int, ...]] = {}
    for file, start, place, about, words in said:
        # Both parts of a wire with a fuse on it say the same, and a plug says it pin by pin.
        note = made.setdefault((file, start, words), NumberedNote(len(made) + 1, about, words))
        at[place] = tuple(dict.fromkeys((*at.get(place, ()), note.number)))
    return Notes(tuple(made.values()), at)


_Said = tuple[str, int, str, str, str]
"""File and place of a remark in the text, where it is drawn, what it is about, its words."""


def _on_parts(rig: Rig) -> Iterator[_Said]:
    """Remarks on parts; what bars and panels were found as as well, which have no room for it."""
    abouts = [(one.about, one.about.note) for one in rig.sources]
    abouts += [(one.about, one.about.note) for one in rig.devices]
    abouts += [(one.about, one.about.note) for one in rig.loads]
    bars = [one.about for one in rig.junctions] + [one.about for one in rig.panels]
    abouts += [(about, _joined(about.condition, about.note)) for about in bars]
    for about, words in abouts:
        if words:
            yield about.span.file, about.span.start, about.name, str(about), words


def _on_wires(rig: Rig) -> Iterator[_Said]:
    for wire in rig.conductors:
        if wire.note:
            yield wire.span.file, wire.span.start, wire.name, wire.name, wire.note
    for one in rig.circuits:
        if one.note:
            about = f"{one.place} {one.label}".strip()
            yield one.span.file, one.span.start, one.place, about, one.note


def _on_places(rig: Rig, bars: Mapping[str, Bar]) -> Iterator[_Said]:
    """Remarks on terminals and on slots without a circuit."""
    homes = {end: bar.terminals[0] for bar in bars.values() for end in bar.terminals}
    for device in rig.devices:
        homes.setdefault(device.line, device.about.name)
        homes.setdefault(device.load, device.about.name)
    for plus, minus, about in (
        *((one.plus, one.minus, one.about) for one in rig.sources),
        *((one.plus, one.minus, one.about) for one in rig.loads),
    ):
        homes.setdefault(plus, about.name)
        homes.setdefault(minus, about.name)
    for wire in rig.conductors:
        homes.setdefault(wire.a, wire.name)
        homes.setdefault(wire.b, wire.name)
    for remark in rig.remarks:
        place = homes.get(remark.place, remark.place)
        words = _joined(remark.condition, remark.note)
        yield remark.span.file, remark.span.start, place, end_words(rig, remark.place), words


def _joined(*words: str) -> str:
    return "; ".join(word for word in words if word)
