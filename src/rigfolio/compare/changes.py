"""What changed between two versions of a rig, in the words of the trade.

A circuit is known again by what stays of it: its slot, its name, its loads, its wires. So one that
was moved to another slot is told as moved, not as gone and new.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Literal

from rigfolio.compare.facts import (
    Said,
    ac_said,
    circuit_said,
    device_said,
    differences,
    junction_said,
    load_said,
    panel_said,
    rig_said,
    source_said,
    wire_said,
)
from rigfolio.compare.match import (
    Pair,
    ends_of,
    matched_circuits,
    matched_runs,
    matched_wires,
    without_wire,
)
from rigfolio.findings import Finding, Severity
from rigfolio.model import Circuit, Conductor, Rig
from rigfolio.natural_order import natural
from rigfolio.record import record
from rigfolio.wording import colour_words, gauge_words, part_at

ChangeKind = Literal[
    "new", "gone", "moved", "renamed", "fused anew", "rewired", "loads changed", "changed"
]
Thing = Literal["circuit", "wire", "source", "device", "panel", "bar", "slot", "AC breaker", "rig"]


@record
class Change:
    """One thing that is not as it was.

    `before` and `after` are its names in the two versions, empty where it is new or gone; `label`
    is what it is called in words; `facts` say what differs.
    """

    kind: ChangeKind
    thing: Thing
    before: str
    after: str
    label: str
    facts: tuple[str, ...] = ()


@record
class Comparison:
    """All changes, the findings that came and went, and what is to be printed again.

    `circuits` are places in the later version whose label reads differently now, slots that were
    given up among them; `wires` are those whose tags do. `taken_off` are places whose old labels
    and tags are to be thrown away.
    """

    changes: tuple[Change, ...]
    gained: tuple[Finding, ...]
    cured: tuple[Finding, ...]
    circuits: frozenset[str]
    wires: frozenset[str]
    taken_off: tuple[str, ...]

    @property
    def gains_danger(self) -> bool:
        """Whether a danger came that the later text does not accept."""
        return any(one.severity is Severity.DANGER and not one.accepted for one in self.gained)


def compare(
    before: Rig,
    after: Rig,
    found_before: Sequence[Finding] = (),
    found_after: Sequence[Finding] = (),
) -> Comparison:
    """What changed from one version of a rig to another.

    Parameters
    ----------
    before, after : Rig
        The two versions.
    found_before, found_after : Sequence[Finding]
        What was found in each of them.
    """
    pairs = matched_circuits(before, after)
    wires = _Wires(before, after, pairs)
    changes = [
        *_rig(before, after),
        *_parts(before, after),
        *(change for old, new in pairs for change in _circuit(before, after, old, new, wires)),
        *wires.changes(),
        *wires.renamed(),
        *_kept_slots(before, after),
    ]
    renamed = _translation(before, after, pairs, wires.same)
    was = {_key(before, finding, renamed): finding for finding in found_before}
    now = {_key(after, finding, {}): finding for finding in found_after}
    return Comparison(
        tuple(changes),
        tuple(finding for key, finding in now.items() if key not in was),
        tuple(finding for key, finding in was.items() if key not in now),
        *_again(pairs, changes, wires, after),
        tuple(old.place for old, new in pairs if old and (new is None or new.place != old.place)),
    )


def _circuit(
    before: Rig, after: Rig, old: Circuit | None, new: Circuit | None, wires: "_Wires"
) -> Iterator[Change]:
    if old is None or new is None:
        one = new or old
        assert one is not None  # noqa: S101
        was, now = ("", one.place) if old is None else (one.place, "")
        yield Change("new" if old is None else "gone", "circuit", was, now, one.label)
        return

    def change(kind: ChangeKind, facts: Sequence[str]) -> Change:
        return Change(kind, "circuit", old.place, new.place, new.label, tuple(facts))

    if old.place != new.place:
        yield change("moved", (f"to {new.place} from {old.place}",))
    if old.label != new.label:
        yield change("renamed", (f"`{new.label}`, was `{old.label}`",))
    said_was, said_now = circuit_said(before, old), circuit_said(after, new)
    if said_was["fuse"] != said_now["fuse"]:
        yield change("fused anew", (f"{said_now['fuse']}, was {said_was['fuse']}",))
    rest = differences({**said_was, "fuse": ""}, {**said_now, "fuse": ""})
    if rest:
        yield change("changed", rest)
    rewired = tuple(wires.of_circuit(old, new))
    if rewired:
        yield change("rewired", rewired)
    loads = tuple(_loads(before, after, old, new))
    if loads:
        yield change("loads changed", loads)


def _loads(before: Rig, after: Rig, old: Circuit, new: Circuit) -> Iterator[str]:
    def by_label(rig: Rig, circuit: Circuit) -> dict[str, Said]:
        names = set(circuit.loads)
        found: dict[str, Said] = {}
        for load in rig.loads:
            if load.about.name in names:
                label = str(load.about)
                while label in found:
                    label += "'"
                found[label] = load_said(load)
        return found

    was, now = by_label(before, old), by_label(after, new)
    for label, said in now.items():
        if label not in was:
            yield f"`{label}` is new"
        else:
            yield from (f"`{label}`: {words}" for words in differences(was[label], said))
    yield from (f"`{label}` is gone" for label in was if label not in now)


class _Wires:
    """The conductors of two versions, those of circuits by their place in the circuit."""

    def __init__(self, before: Rig, after: Rig, pairs: Sequence[Pair]) -> None:
        self.before, self.after = before, after
        self.was = {wire.name: wire for wire in before.conductors}
        self.now = {wire.name: wire for wire in after.conductors}
        places = {old.place: new.place for old, new in pairs if old and new}
        # Each pair: the wire as it was, as it is, and what differs.
        self.places = places
        self.feeds = matched_wires(before, after, places)
        self.touched: set[str] = {
            new.name for old, new in self.feeds if new and (not old or self._facts(old, new))
        }
        self.runs = {new.place: matched_runs(old, new) for old, new in pairs if old and new}
        # What each wire that is in both was called, by what it is called now.
        self.same = {new.name: old.name for old, new in self.feeds if old and new}
        self.same |= {new: old for runs in self.runs.values() for old, new in runs if old and new}
        self.moved = {new.place for old, new in pairs if old and new and old.place != new.place}

    def of_circuit(self, old: Circuit, new: Circuit) -> Iterator[str]:
        """What differs in the wires of a circuit, out and back."""
        backs = frozenset((*old.returns, *new.returns))
        pairs = self.runs[new.place]
        for word, is_back in (("wire", False), ("return", True)):
            some = [pair for pair in pairs if ((pair[1] or pair[0]) in backs) is is_back]
            for at, (was, now) in enumerate(some):
                yield from self._of_run(word + (f" {at + 1}" if len(some) > 1 else ""), was, now)

    def _of_run(self, word: str, was: str, now: str) -> Iterator[str]:
        if not now:
            yield f"{word} is gone"
            return
        wire = self.now[now]
        facts = self._facts(self.was[was], wire) if was else ()
        if not was:
            yield f"{word} is new, {gauge_words(wire)} {colour_words(wire.colour)}"
        if facts or not was:
            self.touched.add(wire.name)
        yield from (f"{word} {fact}" for fact in facts)

    def renamed(self) -> Iterator[Change]:
        """The same wires under other names; not those whose circuit was moved or that land anew."""
        for now, was in self.same.items():
            new = self.now[now]
            if now == was:
                continue
            self.touched.add(now)
            lands_anew = ends_of(self.was[was], self.places) != ends_of(new, {})
            if new.circuit not in self.moved and (new.circuit or not lands_anew):
                yield Change("renamed", "wire", was, now, _run(new), (f"was {was}",))

    def changes(self) -> Iterator[Change]:
        """Feeds and other wires that belong to no circuit."""
        for old, new in self.feeds:
            if old is None or new is None:
                one = new or old
                assert one is not None  # noqa: S101
                was, now = ("", one.name) if old is None else (one.name, "")
                looks = (f"{gauge_words(one)} {colour_words(one.colour)}",)
                kind: ChangeKind = "new" if old is None else "gone"
                yield Change(kind, "wire", was, now, _run(one), looks)
                continue
            facts = self._facts(old, new)
            if facts:
                yield Change("rewired", "wire", old.name, new.name, _run(new), facts)

    def _facts(self, old: Conductor, new: Conductor) -> tuple[str, ...]:
        facts = differences(
            wire_said(self.before, old, imperial=new.is_in_feet),
            wire_said(self.after, new, imperial=new.is_in_feet),
        )
        was, now = ends_of(old, self.places), ends_of(new, {})
        if new.circuit or was == now:
            return facts
        return (f"lands on {_run(new)}, was {_run(old)}", *facts)


def _run(wire: Conductor) -> str:
    return " to ".join(map(without_wire, (wire.a, wire.b)))


def _parts(before: Rig, after: Rig) -> Iterator[Change]:
    for kind, about in _ABOUT.items():
        was, now = about(before), about(after)
        for name, (label, said) in now.items():
            if name not in was:
                yield Change("new", kind, "", name, label)
                continue
            facts = differences(was[name][1], said)
            if facts:
                yield Change("changed", kind, name, name, label, facts)
        for name, (label, _) in was.items():
            if name not in now:
                yield Change("gone", kind, name, "", label)


def _devices(rig: Rig) -> dict[str, tuple[str, Said]]:
    """Devices that belong neither to a circuit nor to a wire."""
    circuits = {circuit.device for circuit in rig.circuits}
    return {
        device.about.name: (device.about.label, device_said(device))
        for device in reversed(rig.devices)
        if not (device.in_slot or device.on_wire or device.about.name in circuits)
    }


_ABOUT: Mapping[Thing, Callable[[Rig], Mapping[str, tuple[str, Said]]]] = {
    "source": lambda rig: {s.about.name: (s.about.label, source_said(s)) for s in rig.sources},
    "device": _devices,
    "panel": lambda rig: {p.about.name: (p.about.label, panel_said(p)) for p in rig.panels},
    "bar": lambda rig: {j.about.name: (j.about.label, junction_said(j)) for j in rig.junctions},
    "AC breaker": lambda rig: {b.label: ("", ac_said(b)) for b in rig.ac},
}


def _rig(before: Rig, after: Rig) -> Iterator[Change]:
    facts = differences(rig_said(before), rig_said(after))
    if facts:
        yield Change("changed", "rig", before.name, after.name, "", facts)


def _kept_slots(before: Rig, after: Rig) -> Iterator[Change]:
    """Slots that a circuit has left, or that are kept for something else."""
    was, now = _slots(before), _slots(after)
    for place in sorted({*was, *now}, key=natural):
        old, new = was.get(place, "not said"), now.get(place, "not said")
        if old != new != "in use":
            yield Change("changed", "slot", place, place, "", (f"{new}, was {old}",))


def _slots(rig: Rig) -> dict[str, str]:
    kept = {s.place: f"{s.use} {s.label}".strip() for s in rig.slots}
    return kept | {f"{c.panel}.{c.slot}": "in use" for c in rig.circuits if c.slot}


def _translation(
    before: Rig, after: Rig, pairs: Sequence[Pair], same: Mapping[str, str]
) -> dict[str, str]:
    """What wires and the parts of circuits were called, and what they are called now."""
    found = {f"wire {was}": f"wire {now}" for now, was in same.items()}
    fuses = {d.on_wire: d.about for d in before.devices if d.on_wire}
    for device in after.devices:
        was = fuses.get(same.get(device.on_wire, ""))
        if was is not None:
            found[str(was)] = str(device.about)
    names = {load.about.name: str(load.about) for load in before.loads}
    later = {load.about.name: str(load.about) for load in after.loads}
    for old, new in pairs:
        if old is None or new is None:
            continue
        found[_circuit_words(old)] = _circuit_words(new)
        for load, after_it in zip(old.loads, new.loads, strict=False):
            if load in names and after_it in later:
                found[names[load]] = later[after_it]
    return found


def _circuit_words(circuit: Circuit) -> str:
    return f"{circuit.place} {circuit.label}".rstrip()


def _key(rig: Rig, finding: Finding, renamed: Mapping[str, str]) -> tuple[str, str]:
    """What a finding is about: its rule and the part that it names."""
    part = part_at(rig, finding.at.span)
    return finding.rule, renamed.get(part, part)


def _again(
    pairs: Sequence[Pair], changes: Sequence[Change], wires: _Wires, after: Rig
) -> tuple[frozenset[str], frozenset[str]]:
    """The circuits whose label reads differently now, and the wires whose tag does."""
    shown = {"new", "moved", "renamed", "fused anew", "rewired", "changed"}
    circuits = frozenset(
        change.after
        for change in changes
        if change.after
        and (change.thing == "slot" or (change.thing == "circuit" and change.kind in shown))
    )
    named = {"new", "moved", "renamed", "fused anew"}
    tagged = {
        change.after
        for change in changes
        if change.thing == "circuit" and change.after and change.kind in named
    }
    whole = {
        name
        for _, new in pairs
        if new is not None and new.place in tagged
        for name in (*new.wires, *new.returns)
    }
    leads = {wire.name for wire in after.conductors if wire.lead}
    return circuits, frozenset((whole | wires.touched) - leads)
