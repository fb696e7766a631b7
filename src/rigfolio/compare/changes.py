"""What changed between two versions of a rig, in the words of the trade.

A circuit is known again by what stays of it: its slot, its name, its loads, its wires. So one that
was moved to another slot is told as moved, not as gone and new.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from rigfolio.compare.change import Change, ChangeKind, apart
from rigfolio.compare.devices import heat_words
from rigfolio.compare.facts import (
    Told,
    circuit_said,
    differences,
    guard_said,
    is_unread,
    load_said,
    rig_said,
)
from rigfolio.compare.match import (
    Pair,
    identified_loads,
    matched_circuits,
    was_surveyed,
)
from rigfolio.compare.moves import moved_parts
from rigfolio.compare.named import ABOUT
from rigfolio.compare.stated import Said, in_words
from rigfolio.compare.stood import ToldWith, as_it_stood, written_as_found
from rigfolio.compare.wires import Wires
from rigfolio.findings import Finding, Severity, Span
from rigfolio.model import Circuit, Load, Rig
from rigfolio.natural_order import natural
from rigfolio.record import once, record
from rigfolio.wording import part_at

_FOUND = ("wrong-wire-found", "wrong-fuse-found")
"""Rules that say that something else was found than belongs there."""


@record
class Comparison:
    """All changes, the findings that came and went, and what is to be printed again.

    `circuits` are places in the later version whose label reads differently now, slots that were
    given up among them; `wires` are those whose tags do. `taken_off` are places whose old labels
    and tags are to be thrown away. `learnt` are findings of what somebody only found since: it was
    so before.
    """

    changes: tuple[Change, ...]
    gained: tuple[Finding, ...]
    cured: tuple[Finding, ...]
    circuits: frozenset[str]
    wires: frozenset[str]
    taken_off: tuple[str, ...]
    learnt: tuple[Finding, ...] = ()

    @property
    def gains_danger(self) -> bool:
        """Whether a danger came that the later text does not accept."""
        return any(one.severity is Severity.DANGER and not one.accepted for one in self.gained)


def compare(
    before: Rig,
    after: Rig,
    found_before: Sequence[Finding] = (),
    found_after: Sequence[Finding] = (),
    found_in_place: Sequence[Finding] = (),
) -> Comparison:
    """What changed from one version of a rig to another.

    Parameters
    ----------
    before, after : Rig
        The two versions.
    found_before, found_after : Sequence[Finding]
        What was found in each of them.
    found_in_place : Sequence[Finding]
        What is found in the later one with the wires that are there, where others belong there: as
        long as these are not pulled, it is not cured.
    """
    pairs = matched_circuits(before, after)
    stood = as_it_stood(before, after, pairs)
    since = pairs if stood is before else matched_circuits(stood, after)
    wires, learnt = Wires(stood, after, since), written_as_found(before, stood, after, pairs)
    changes = list(_changes(stood, after, since, wires, learnt))
    changes = changes or list(_assumed(before, after))
    renamed = _translation(before, after, pairs, wires.same)
    was = {_key(before, finding, renamed): finding for finding in found_before}
    now = {_key(after, finding, {}): finding for finding in found_after}
    still = {*now, *(_key(after, finding, {}) for finding in found_in_place)}
    new = [finding for key, finding in now.items() if key not in was]
    looked_at = set(_found_since(before, after, pairs, wires.same))
    return Comparison(
        tuple(changes),
        tuple(one for one in new if not _is_learnt(one, looked_at)),
        tuple(finding for key, finding in was.items() if key not in still),
        *_again(pairs, changes, wires, after),
        tuple(_taken_off(before, after, pairs)),
        tuple(one for one in new if _is_learnt(one, looked_at)),
    )


def _changes(
    stood: Rig, after: Rig, pairs: Sequence[Pair], wires: Wires,
    learnt: Mapping[ToldWith, Sequence[str]],
) -> Iterator[Change]:  # fmt: skip
    """What is not as it stood; of what is `learnt` only the text says something else."""
    yield from _rig(stood, after)
    yield from _parts(stood, after, pairs)
    yield from _moves(stood, after)
    for old, new in pairs:
        yield from _circuit(stood, after, (old, new), wires, learnt)
    yield from wires.changes()
    yield from wires.renamed()
    yield from _kept_slots(stood, after)
    for (thing, name, label), facts in learnt.items():
        if thing != "circuit":
            yield Change("identified", thing, name, name, label, tuple(facts))


def _taken_off(before: Rig, after: Rig, pairs: Iterable[Pair]) -> Iterator[str]:
    """Places whose labels are true no longer: circuits that left, slots that went with a panel."""
    left = (old.place for old, new in pairs if old and (new is None or new.place != old.place))
    known = before.by_name.panels.keys() - after.by_name.panels.keys()
    gone = (place for place in _slots(before) if place.rpartition(".")[0] in known)
    yield from dict.fromkeys((*left, *gone))


def _found_since(
    before: Rig, after: Rig, pairs: Iterable[Pair], same: Mapping[str, str]
) -> Iterator[Span]:
    """The lines of the later version that say something else of what was found than before."""
    wires, devices = before.by_name.conductors, before.by_name.devices
    for wire in after.conductors:
        was = wires.get(same.get(wire.name, wire.name))
        if wire.found is not None and (was is None or was.found != wire.found):
            yield wire.span
    for old, new in pairs:
        was_a = None if old is None else old.found_a
        if new is not None and new.found_a not in (None, was_a):
            yield new.span
    for device in after.devices:
        known = devices.get(device.about.name)
        if device.found_a is not None and (known is None or known.found_a != device.found_a):
            yield device.about.span


def _is_learnt(finding: Finding, looked_at: Collection[Span]) -> bool:
    """Whether a finding tells of what was found only since: the rig is as it was."""
    if finding.rule in _FOUND:
        return finding.at.span in looked_at
    labels = (finding.at, *finding.others)
    return finding.until_pulled and any(
        line.holds(label.span) for line in looked_at for label in labels
    )


def _circuit(
    before: Rig,
    after: Rig,
    pair: Pair,
    wires: Wires,
    as_found: Mapping[ToldWith, Sequence[str]],
) -> Iterator[Change]:
    old, new = pair
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
        yield change("renamed", (f"`{new.label}`, was {_quoted(old.label)}",))
    learnt = [*as_found.get(("circuit", new.place, new.label), ())]
    for kind, told in _circuit_told(before, after, old, new, wires):
        for found, facts in apart(kind, told):
            if found == "identified":
                learnt += facts
            else:
                yield change(found, facts)
    if learnt:
        yield change("identified", learnt)


def _circuit_told(
    before: Rig, after: Rig, old: Circuit, new: Circuit, wires: Wires
) -> Iterator[tuple[ChangeKind, Iterable[Told]]]:
    """What differs in a circuit: its fuse, itself, its wires, its loads."""
    heat = ((words, False) for words in heat_words(before, after, old, new))
    yield "fused anew", (*_guard(guard_said(before, old), guard_said(after, new)), *heat)
    yield "changed", differences(*_both_with_a_return(before, after, old, new))
    yield "rewired", wires.of_circuit(old, new)
    yield "loads changed", _loads(before, after, old, new)


def _both_with_a_return(before: Rig, after: Rig, old: Circuit, new: Circuit) -> tuple[Said, Said]:
    """What is said of a circuit; how it comes back only where it has wires in both versions."""
    both = circuit_said(before, old), circuit_said(after, new)
    if all(each["return"] for each in both):
        return both
    return {**both[0], "return": ""}, {**both[1], "return": ""}


def _guard(was: Said, now: Said) -> Iterator[Told]:
    """What differs in the device that a circuit begins with: in one its rating, colour and make."""

    def whole(said: Said) -> str:
        words = (in_words(said.get(fact, "")) for fact in ("fuse", "fuse made as"))
        return " ".join(words).strip() or "no fuse stated"

    before, after = whole(was), whole(now)
    together = {"fuse", "fuse made as", *(("fuse rating",) if before != after else ())}
    if before != after:
        yield f"{after}, was {before}", is_unread(before)
    yield from differences(*({k: v for k, v in s.items() if k not in together} for s in (was, now)))


def _quoted(label: str) -> str:
    return f"`{label}`" if label else "without a label"


def _loads(before: Rig, after: Rig, old: Circuit, new: Circuit) -> Iterator[Told]:
    identified = identified_loads(before, after, old, new)

    def by_label(rig: Rig, circuit: Circuit) -> dict[str, tuple[str, Said]]:
        found: dict[str, tuple[str, Said]] = {}
        for load in _in_order(rig, circuit.loads):
            # Beside others of that name elsewhere it is called by its circuit, too.
            label = load.about.label or load.about.name
            while label in found:
                label += "'"
            found[label] = load.about.name, load_said(rig, load)
        return found

    was, now = by_label(before, old), by_label(after, new)
    unread = not was_surveyed(before, old)
    for label, (name, said) in now.items():
        if name in identified:
            yield f"`{label}`, was `{before.by_name.loads[identified[name]].about}`", True
        elif label not in was:
            yield (f"`{label}`, was not stated", True) if unread else (f"`{label}` is new", False)
        else:
            for words, is_learnt in differences(was[label][1], said):
                yield f"`{label}`: {words}", is_learnt
    known = {*identified.values()}
    yield from (
        (f"`{label}` is gone", False)
        for label, (name, _) in was.items()
        if label not in now and name not in known
    )


def _in_order(rig: Rig, names: Iterable[str]) -> Iterator[Load]:
    """Some loads by name, in the order of the text."""
    turns = _turns(rig)
    for turn in sorted(turn for name in {*names} for turn in turns.get(name, ())):
        yield rig.loads[turn]


@once
def _turns(rig: Rig) -> Mapping[str, tuple[int, ...]]:
    """Where among all loads those of a name stand."""
    found: dict[str, tuple[int, ...]] = {}
    for turn, load in enumerate(rig.loads):
        found[load.about.name] = (*found.get(load.about.name, ()), turn)
    return found


def _parts(before: Rig, after: Rig, pairs: Sequence[Pair]) -> Iterator[Change]:
    for kind, about in ABOUT.items():
        was, now = about(before, pairs, 0), about(after, pairs, 1)
        for key, (name, label, said) in now.items():
            if key not in was:
                yield Change("new", kind, "", name, label)
                continue
            for found, facts in apart("changed", differences(was[key][2], said)):
                yield Change(found, kind, was[key][0], name, label, facts)
        for key, (name, label, _) in was.items():
            if key not in now:
                yield Change("gone", kind, name, "", label)


def _moves(before: Rig, after: Rig) -> Iterator[Change]:
    """What stands elsewhere on its wires."""
    for one in moved_parts(before, after):
        facts = ("along its wires", *one.facts)
        yield Change("moved", one.thing, one.was, one.now.name, one.now.label, facts)


def _rig(before: Rig, after: Rig) -> Iterator[Change]:
    for kind, facts in apart("changed", differences(rig_said(before), rig_said(after))):
        yield Change(kind, "rig", before.name, after.name, "", facts)


def _assumed(before: Rig, after: Rig) -> Iterator[Change]:
    """What one version says that the other only takes for granted, where nothing else differs."""
    was, now = ({one.text: None for one in rig.assumptions} for rig in (before, after))
    facts = (
        *(f"taken for granted now: {text}" for text in now if text not in was),
        *(f"no longer taken for granted: {text}" for text in was if text not in now),
    )
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
    for device in after.devices:
        for was in before.seated.get(same.get(device.on_wire, ""), ())[-1:]:
            found[str(was.about)] = str(device.about)
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
    pairs: Sequence[Pair], changes: Sequence[Change], wires: Wires, after: Rig
) -> tuple[frozenset[str], frozenset[str]]:
    """The circuits whose label reads differently now, and the wires whose tag does."""
    shown = {"new", "moved", "renamed", "identified", "fused anew", "rewired", "changed"}
    circuits = frozenset(
        change.after
        for change in changes
        if change.after
        and (
            # A slot that went with its panel has no label.
            (change.thing == "slot" and change.after.rpartition(".")[0] in after.by_name.panels)
            or (change.thing == "circuit" and change.kind in shown)
        )
    )
    named = {"new", "moved", "renamed", "identified", "fused anew"}
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
