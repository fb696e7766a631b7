"""Which part or place of a rig a person means who writes its name.

Names come before all else that is written of a part: its terminals in the graph, its name with a
word of its kind, its name with its label; and these before labels, which several parts may share.
Words that stand for the same in the trade come last: `fridge` is the refrigerator, unless something
else is called so.
Capitals, spaces and the kind of minus sign never matter.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from typing import Literal

from rigfolio.books import called_alike
from rigfolio.kinds import USUAL_GUARD, guards
from rigfolio.model import Circuit, Conductor, Device, PartKind, Rig, either_order, wire_number
from rigfolio.nearness import nearest
from rigfolio.record import once, record, replace
from rigfolio.refusal import RefusalError
from rigfolio.values import MINUS
from rigfolio.wording.names import AHEAD_OF_MAIN, called, end_words, load_words, short_end

NameKind = PartKind | Literal["slot", "bar"]
_MOST = 12
"""How many candidates a refusal lists."""


@record
class Named:
    """A part or place: what it is, its printed name, its label.

    `key` is what it is called in the graph, where that is not its name; `ways` is what a person
    may write for it beside its name and label.
    """

    kind: NameKind
    name: str
    label: str = ""
    key: str = ""
    ways: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Name and label as they are printed."""
        return called(self.name, self.label)


@once
def finder_of(rig: Rig) -> "Finder":
    """All parts and places of a rig, to be found by what a person writes."""
    return Finder(rig)


class Finder:
    """All parts and places of a rig, to be found by what a person writes."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.parts = tuple(_parts(rig))

    @cached_property
    def _by_name(self) -> Mapping[str, list[Named]]:
        return _index(self.parts, lambda one: (one.name,))

    @cached_property
    def _by_way(self) -> Mapping[str, list[Named]]:
        return _index(self.parts, lambda one: (*one.ways, str(one), f"{one.name} ({one.label})"))

    @cached_property
    def _by_label(self) -> Mapping[str, list[Named]]:
        return _index(self.parts, lambda one: (one.label,) if one.kind != "terminal" else ())

    @cached_property
    def _by_kind(self) -> Mapping[str, list[Named]]:
        """Parts by what they are, for a rig that has one such: `battery`, `panel`, `slot 7`."""
        return _index(self.parts, lambda one: _kinds(self.rig, one))

    @cached_property
    def _by_use(self) -> Mapping[str, list[Named]]:
        """Parts by labels in words of the trade that stand for the same: `fridge`."""
        return _index(
            self.parts, lambda one: (called_alike(one.label),) if one.kind != "terminal" else ()
        )

    def find(self, text: str) -> tuple[Named, ...]:
        """What a text may mean, the parts that it fits best: one, several or none."""
        key = _folded(text)
        if not key:
            return ()
        for known in self._indexes():
            if key in known:
                return self._without_circuit(known[key])
        return self._without_circuit(self._by_use.get(called_alike(key), ()))

    def _indexes(self) -> Iterator[Mapping[str, list[Named]]]:
        """What parts are known by, the surest first; each made when those before know nothing."""
        yield self._by_name
        yield self._by_way
        yield self._by_label
        yield self._by_kind

    def the(self, text: str, kind: NameKind | None = None) -> Named:
        """The one part or place that a text means; of a kind, where that is known.

        Raises
        ------
        RefusalError
            It means none, or may mean several; then they are listed.
        """
        called_so = self.find(text)
        found = called_so
        if kind is not None:
            found = tuple(one for one in found if one.kind == kind)[:1]
        if len(found) == 1:
            return found[0]
        if called_so and not found:
            what = f"`{text}` is a {called_so[0].kind} and no {kind}"
            raise RefusalError("place-unknown", what, self.near(text, lambda one: one.kind == kind))
        if found:
            raise RefusalError(
                "place-ambiguous", f"{len(found)} parts are called `{text}`", one_of(found)
            )
        raise RefusalError("place-unknown", f"nothing is called `{text}`", self.near(text))

    def several(self, text: str) -> tuple[str, ...]:
        """The names in a list with commas; a comma may stand in a name that is known.

        Examples
        --------
        With a load called `Reading lights, two`, the text `Pump, Reading lights, two` gives
        `Pump` and `Reading lights, two`.
        """
        pieces = text.split(",")
        names = []
        while pieces:
            many = next(
                (n for n in range(len(pieces), 1, -1) if self.find(",".join(pieces[:n]))), 1
            )
            names.append(",".join(pieces[:many]).strip())
            del pieces[:many]
        return tuple(name for name in names if name)

    def near(self, text: str, fits: Callable[[Named], bool] = lambda _: True) -> str:
        """The closest name or label of a part that fits, or where to look for one."""
        if wire_number(text.strip()) and self.rig.nameless:
            return (
                "wires that the text gives no name are called by their ends: "
                "`rigfolio name FILE --write` gives them numbers"
            )
        fitting = [one for one in self.parts if fits(one)]
        holding = _holding(fitting, _folded(text), _folded)
        holding = holding or _holding(fitting, _folded(text), called_alike)
        if holding:
            return f"the nearest name is `{holding[0].label}`" if (
                len(holding) == 1 and self.find(holding[0].label) == (holding[0],)
            ) else one_of(holding)  # fmt: skip
        names = (one.name for one in self.parts if fits(one))
        labels = (one.label for one in self.parts if one.label and fits(one))
        close = nearest(text, (*names, *labels))
        found = [one for one in self.find(close) if fits(one)]
        if len(found) > 1:
            return one_of(found)
        if found:
            return f"the nearest name is `{close}`"
        return "`rigfolio live FILE` lists the parts by name, `rigfolio wirelist FILE` the wires"

    def _without_circuit(self, found: Iterable[Named]) -> tuple[Named, ...]:
        """A load goes before the circuit that it is in, where nothing else bears their label."""
        found = tuple(found)
        names = {one.name for one in found if one.kind == "load"}
        own = {load.circuit for load in self.rig.loads if load.about.name in names}
        rest = tuple(one for one in found if one.kind != "circuit" or one.name not in own)
        return rest if len(rest) == 1 else found


def one_of(found: Iterable[Named]) -> str:
    """The candidates for a name that fits several parts, each with what it is."""
    words = [f"`{one.name}` ({one.kind})" for one in found]
    more = f" and {len(words) - _MOST} more" if len(words) > _MOST else ""
    return f"one of {', '.join(words[:_MOST])}{more}"


def _holding(parts: Iterable[Named], text: str, alike: Callable[[str], str]) -> list[Named]:
    """The parts with all words of a text in their label, one or many of each: `lights`, `light`."""

    def words(text: str) -> set[str]:
        return {word.rstrip("s") for word in alike(_folded(text)).split()}

    wanted = words(text)
    return [one for one in parts if wanted and wanted <= words(one.label)]


def _kinds(rig: Rig, part: Named) -> Iterator[str]:
    """What a person calls a part that there is one of."""
    if part.kind == "panel":
        yield "panel"
    elif part.kind == "source":
        yield rig.by_name.sources[part.key].kind
    elif part.kind in ("circuit", "slot") and "." in part.key and " " not in part.key:
        number = part.key.rpartition(".")[2]
        yield from (f"{word} {number}" for word in ("slot", "circuit", *guards()))


def _index(
    parts: Iterable[Named], words: Callable[[Named], Iterable[str]]
) -> Mapping[str, list[Named]]:
    found: dict[str, list[Named]] = {}
    for one in parts:
        for key in dict.fromkeys(_folded(word) for word in words(one)):
            if key:
                found.setdefault(key, []).append(one)
    return found


def _folded(text: str) -> str:
    """A text as it is compared: no capitals, one kind of minus, no space before a sign."""
    words = " ".join(text.strip().strip('"').replace(MINUS, "-").casefold().split())
    for sign in "+-":
        words = words.removesuffix(sign).rstrip() + sign if words.endswith(sign) else words
    return words


def _parts(rig: Rig) -> Iterator[Named]:
    """Every part and place once; a terminal that is a part by itself is that part."""
    ends: dict[str, list[str]] = {}
    for load in rig.loads:
        for end, sign in ((load.plus, "+"), (load.minus, "-")):
            words = (f"{load.about.name} {sign}", f"{load.about.label} {sign}")
            ends.setdefault(end, []).extend(words)
    parts = [*_things(rig), *_slots(rig)]
    own = {one.key for one in parts if one.kind in ("bar", "circuit", "slot")}
    own |= {load.about.name for load in rig.loads}
    # An output of a part with several is what its plus is called.
    own |= {source.plus for source in rig.sources if source.plus == source.about.name}
    for one in (*parts, *(end for end in _ends(rig) if end.key not in own)):
        more = ends.get(one.key, ()) if one.kind != "panel" else ()
        yield replace(one, ways=(*one.ways, *more))


def _things(rig: Rig) -> Iterator[Named]:
    for panel in rig.panels:
        name = panel.about.name
        yield Named("panel", name, panel.about.label, name, (f"panel {name}",))
    for circuit in rig.circuits:
        place = circuit.place
        yield Named("circuit", place, circuit.label, place, _of_circuit(rig, circuit))
    for source in rig.sources:
        name = source.about.name
        ways: tuple[str, ...] = (f"{source.kind} {name}",)
        if source.unit:
            # The name of a part with several outputs means any of them.
            ways = (*ways, source.unit, f"{source.kind} {source.unit}")
        yield Named("source", name, source.about.label, name, ways)
    for junction in rig.junctions:
        name = junction.about.name
        yield Named("bar", name, junction.about.label, name, (f"{junction.kind} {name}",))
    for device in {one.about.name: one for one in rig.devices if not one.in_slot}.values():
        name = device.about.name
        yield Named("device", name, device.about.label, name, _of_device(rig, device))
    for load in rig.loads:
        name = load.about.name
        ways = (f"load {name}", load_words(rig, load))
        yield Named("load", name, load.about.label, name, ways)
    for wire in rig.conductors:
        yield Named("wire", wire.name, "", wire.name, tuple(_of_wire(wire)))


def _of_wire(wire: Conductor) -> Iterator[str]:
    """`wire W7`; and a wire that is called by its ends by either of them first, `F1 to B1+`."""
    yield f"wire {wire.name}"
    turned = either_order(wire.name)
    if turned != wire.name and not wire.circuit:
        yield from (turned, f"wire {turned}")
        for name in (wire.name, turned):
            yield name.replace("/", " to ", 1)


def _of_circuit(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    place = circuit.place
    if circuit.stem != place:
        return (circuit.stem,)
    device = rig.by_name.devices.get(place)
    kind = device.kind if device is not None else USUAL_GUARD
    return (f"circuit {place}", f"slot {place}", f"{place} {kind}", f"{place}.{kind}",
            f"{kind} {place}", f"{kind} in {place}")  # fmt: skip


def _of_device(rig: Rig, device: Device) -> tuple[str, ...]:
    """`W12.fuse`, `fuse on W12`, `fuse S1`: how else a device is written."""
    name, kind = device.about.name, device.kind
    if not device.on_wire:
        return (f"{kind} {name}", name.replace(" ", "."))
    wire = device.on_wire
    stem = wire.removesuffix("/1")
    seats = (end_words(rig, end) for end in (device.line, device.load))
    seated = (words for words in seats if words.startswith(f"{name} at "))
    written = (f"{wire}.{kind}", f"{wire}.fuse", f"{stem}.fuse")
    spoken = (f"{kind} on {wire}", f"{kind} on wire {wire}", f"{kind} of {wire}")
    return (*seated, *written, *spoken)


def _slots(rig: Rig) -> Iterator[Named]:
    """Slots in which no circuit starts."""
    kept = {(slot.panel, slot.number): slot for slot in rig.slots}
    used = {circuit.place for circuit in rig.circuits}
    for panel in rig.panels:
        for number in range(1, panel.slots + 1):
            name = f"{panel.about.name}.{number}"
            if name in used:
                continue
            slot = kept.get((panel.about.name, number))
            label = slot.label if slot is not None else ""
            yield Named("slot", name, label, name, (f"slot {name}",))


def _ends(rig: Rig) -> Iterator[Named]:
    pins = dict(_pins(rig))
    feeds = {one.feed: (f"{short_end(rig, one.feed)} {AHEAD_OF_MAIN}",) for one in rig.panels}
    for terminal in rig.where:
        name, words = short_end(rig, terminal), end_words(rig, terminal)
        ways = (terminal, words) if words.startswith(name) else (terminal,)
        ways = (*ways, *pins.get(terminal, ()), *feeds.get(terminal, ()))
        yield Named("terminal", name, "", terminal, ways)


def _pins(rig: Rig) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The line terminal of each pin of a plug, and how the pin is written: `J1.3`, `J1 pin 3`."""
    counts: dict[str, int] = {}
    for device in rig.devices:
        if device.traits.is_plug:
            name = device.about.name
            counts[name] = counts.get(name, 0) + 1
            yield device.line, (f"{name}.{counts[name]}", f"{name} pin {counts[name]}")
