"""What was moved along its wires: one lead grew where another one went back."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from rigfolio.compare.deeds import Deed, Work, WorkThing
from rigfolio.compare.match import Pair, WirePair, matched_circuits, same_wires, without_wire
from rigfolio.findings import Unknown
from rigfolio.model import About, Device, Rig
from rigfolio.natural_order import natural
from rigfolio.record import record, replace
from rigfolio.wording import length_words, short_end


@record
class Moved:
    """A part that stands elsewhere on its wires: what it was and is, its leads, what is told."""

    was: str
    now: About
    thing: Literal["device", "bar"]
    leads: tuple[str, ...]
    facts: tuple[str, ...]


def moved_parts(before: Rig, after: Rig) -> tuple[Moved, ...]:
    """Devices, bars and splices whose leads changed length on all sides, and fuses on another end.

    A lead whose length nobody knew, or that the text only assumes, tells nothing.

    Parameters
    ----------
    before, after : Rig
        The two versions.
    """
    return tuple(_moved(before, after))


def _moved(before: Rig, after: Rig) -> Iterator[Moved]:
    pairs = matched_circuits(before, after)
    same = same_wires(before, after)
    landing = _landing(before, after, same)
    first = {new.device for _, new in pairs if new}
    for old, ways in _devices(before, after, pairs, same):
        now = ways[0]
        # How far the fuse of a circuit stands from its start is a fact of its own.
        begins = now.about.name in first
        ends = dict.fromkeys(end for way in ways for end in (way.line, way.load))
        sides = [landing[end] for end in ([now.line] if begins else ends) if end in landing]
        leads = [lead for side in sides for lead in side]
        facts = _facts(leads) if len(sides) > (0 if begins else 1) else ()
        if not facts and now.on_wire and not begins and _posts(old) != _posts(now):
            facts, leads = (_seat(before, after, old, now),), []
        if facts:
            yield Moved(old.about.name, now.about, "device", _names(leads), facts)
    kept = {one.about.name for one in before.junctions}
    for one in after.junctions:
        leads = landing.get(one.terminal, [])
        if one.about.name in kept and len({_is_longer(lead) for lead in leads}) > 1:
            facts = _facts(leads)
            if facts:
                yield Moved(one.about.name, one.about, "bar", _names(leads), facts)


def _landing(before: Rig, after: Rig, same: Mapping[str, str]) -> Mapping[str, list[WirePair]]:
    """The wires at each terminal as they were and as they are, those that are assumed aside."""
    were = before.by_name.conductors
    found: dict[str, list[WirePair]] = {}
    for wire in after.conductors:
        if not wire.assumed:
            for end in (wire.a, wire.b):
                found.setdefault(end, []).append((were.get(same.get(wire.name, "")), wire))
    return found


def _devices(
    before: Rig, after: Rig, pairs: Sequence[Pair], same: Mapping[str, str]
) -> Iterator[tuple[Device, Sequence[Device]]]:
    """Devices outside slots that are in both, by name, wire or circuit, with all ways of them."""
    known = before.by_name.devices
    begun = {new.device: known.get(old.device) for old, new in pairs if old and new}
    for name, its in after.poles.items():
        (*_, seated) = before.seated.get(same.get(its[0].on_wire, ""), (None,))
        old = begun.get(name) or seated or known.get(name)
        if old is not None and not (old.in_slot or its[0].in_slot):
            yield old, its


def _posts(device: Device) -> frozenset[str]:
    """What a fuse on a wire sits on; nothing where it hangs in it."""
    ends = map(without_wire, (device.line, device.load))
    return frozenset(end for end in ends if not end.startswith("fuse."))


def _seat(before: Rig, after: Rig, old: Device, new: Device) -> str:
    """What a fuse on a wire sits on now, or no longer."""
    now = [short_end(after, end) for end in sorted(_posts(new))]
    was = [short_end(before, end) for end in sorted(_posts(old))]
    return f"sits on {now[0]} now" if now else f"no longer on {was[0]}"


def _grown_m(lead: WirePair) -> float | None:
    """By how much a lead grew [m]; None where that is not known."""
    was, now = (None if wire is None else wire.length_m for wire in lead)
    if was is None or now is None or isinstance(was, Unknown) or isinstance(now, Unknown):
        return None
    return now - was


def _is_longer(lead: WirePair) -> bool:
    return (_grown_m(lead) or 0.0) > 0


def _facts(leads: Sequence[WirePair]) -> tuple[str, ...]:
    """How long each lead is and was; nothing unless all of them are known to have changed."""
    if not all(map(_grown_m, leads)):
        return ()
    return tuple(
        f"{new.name} {length_words(new.length_m, imperial=new.is_in_feet)}, was "
        f"{length_words(old.length_m, imperial=new.is_in_feet)}"
        for old, new in leads
        if old is not None and new is not None
    )


def _names(leads: Sequence[WirePair]) -> tuple[str, ...]:
    return tuple(sorted({new.name for _, new in leads if new is not None}, key=natural))


def with_moves(made: Iterable[Work], moved: Sequence[Moved]) -> Iterator[Work]:
    """The same, with what stands elsewhere on its wires moved, and its leads cut or made anew."""
    left: dict[tuple[WorkThing, str], Moved] = {(one.thing, one.now.name): one for one in moved}
    leads = {name for one in moved for name in one.leads}
    for work in made:
        one = left.pop((work.thing, work.after), None)
        if one is not None:
            deed: Deed = work.deed if work.deed == "replace" else "move"
            yield replace(work, deed=deed, facts=(*_places(one), *work.facts))
        elif work.thing == "wire" and work.after in leads and not work.is_hands_on:
            yield replace(work, deed="new ends")
        else:
            yield work
    yield from (
        Work("move", one.thing, one.was, one.now.name, _places(one)) for one in left.values()
    )


def _places(moved: Moved) -> tuple[str, ...]:
    return ("off its leads and to its new place", *moved.facts)
