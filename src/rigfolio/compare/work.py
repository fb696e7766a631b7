"""What has to be done at a rig so that it becomes what its text says now, part by part.

What was not known and is told now is no work: a colour that was learnt, a length that was measured,
a return that was found. What was known and is something else now is other hardware.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import zip_longest

from rigfolio.books import bought_m
from rigfolio.compare.deeds import Why, Work, WorkThing, hardest
from rigfolio.compare.devices import device_work, guard_work
from rigfolio.compare.facts import junction_said, panel_said, source_said
from rigfolio.compare.match import (
    Pair,
    WirePair,
    ends_of,
    is_another,
    matched_circuits,
    matched_loads,
    matched_wires,
    renewed_panels,
    was_surveyed,
)
from rigfolio.compare.moves import moved_parts, with_moves
from rigfolio.compare.runs import all_the_way, is_between, matched_runs
from rigfolio.compare.stated import Said, in_words, unlike
from rigfolio.compare.stood import as_it_stood, renaming
from rigfolio.compare.wires import landings
from rigfolio.findings import Unknown
from rigfolio.kinds import is_of_heat
from rigfolio.model import Circuit, Conductor, Device, Rig
from rigfolio.network import with_whole_returns
from rigfolio.units import Size
from rigfolio.wording import (
    colour_words,
    gauge_words,
    is_unnamed,
    length_words,
    wire_length,
)


def work_between(before: Rig, after: Rig) -> tuple[Work, ...]:
    """What has to be done with every wire, device, load and other part that is not as it was.

    Parameters
    ----------
    before, after : Rig
        The rig as it was found, and as it is to be; a return that is assumed counts as one wire.
    """
    before, after = with_whole_returns(before), with_whole_returns(after)
    pairs = matched_circuits(before, after)
    stood = as_it_stood(before, after, pairs)
    if stood is not before:
        before, pairs = stood, matched_circuits(stood, after)
    others = tuple(_others(before, after, renewed_panels(before, after, pairs)))
    new_panels = frozenset(w.after for w in others if w.thing == "panel" and w.deed == "replace")
    made = (
        *_feeds(before, after, pairs),
        *(work for pair in pairs for work in _of_circuit(before, after, pair, new_panels)),
        *_devices(before, after, pairs),
        *_loads(before, after, pairs),
        *others,
    )
    return tuple(dict.fromkeys(with_moves(made, moved_parts(before, after))))


def _looks(wire: Conductor) -> str:
    """What somebody sees who looks for a wire that is to go."""
    shade = "" if wire.colour is None else f" {colour_words(wire.colour)}"
    return f"{gauge_words(wire)}{shade}, {wire_length(wire)}"


def _feeds(before: Rig, after: Rig, pairs: Iterable[Pair]) -> Iterator[Work]:
    """The wires of no circuit and the fuses on them."""
    places = {old.place: new.place for old, new in pairs if old and new}
    for old, new in matched_wires(before, after, places):
        if new is None:
            assert old is not None  # noqa: S101
            yield Work("remove", "wire", old.name, "", (_looks(old),))
        elif old is None:
            yield Work("pull new", "wire", "", new.name)
        else:
            lands = ends_of(old, places) != ends_of(new, {})
            moved: list[Why] = [("move", "lands elsewhere")] if lands else []
            renamed: list[Why] = [("label", f"was {old.name}")] if old.name != new.name else []
            why = (*moved, *renamed, *_wire_why(old, new))
            yield from hardest("wire", old.name, new.name, why)
        yield from _on_wire(before, after, old, new)


def _on_wire(
    before: Rig, after: Rig, old: Conductor | None, new: Conductor | None
) -> Iterator[Work]:
    was = before.seated.get(old.name, ()) if old else ()
    now = after.seated.get(new.name, ()) if new else ()
    for one, two in zip_longest(was, now):
        yield from device_work(one, two)


def _wire_why(old: Conductor, new: Conductor) -> Iterator[Why]:
    """What differs between a wire as it was and as it is."""
    if old.assumed and not new.assumed:
        yield "told", "was assumed"
        return
    yield from _made_of(old, new)
    was_m, now_m = old.length_m, new.length_m
    if was_m != now_m and not isinstance(now_m, Unknown):
        imperial = new.is_in_feet
        words = f"{length_words(now_m, imperial=imperial)}, was "
        words += length_words(was_m, imperial=imperial)
        # What was laid had slack; what is longer than that cannot be the same wire.
        is_longer = not isinstance(was_m, Unknown) and now_m > bought_m(was_m, 1)
        yield ("replace" if is_longer else "told"), words
    ends = [(was, now) for was, now in zip(old.ends, new.ends, strict=True) if was and now]
    yield from (("new ends", f"{now}, was {was}") for was, now in ends if was != now)
    if is_of_heat(old.condition) and not new.condition:
        yield "replace", f"was {old.condition}: a new one"
    elif old.condition and not new.condition:
        yield "new ends", f"was {old.condition}: cut back to bright copper"


def _made_of(old: Conductor, new: Conductor) -> Iterator[Why]:
    """Size, colour and insulation."""
    if not isinstance(new.size, Unknown) and (old.size, old.count) != (new.size, new.count):
        known = isinstance(old.size, Size)
        yield ("replace" if known else "told"), f"{gauge_words(new)}, was {gauge_words(old)}"
    shades = (old.colour, new.colour)
    if old.colour != new.colour and new.colour is not None and not isinstance(new.colour, Unknown):
        known = not any(shade is None or isinstance(shade, Unknown) for shade in shades)
        words = f"{colour_words(new.colour)}, was {colour_words(old.colour)}"
        yield ("replace" if known else "told"), words
    if new.insulation and old.insulation != new.insulation:
        words = f"{new.insulation}, was {old.insulation or 'not known'}"
        yield ("replace" if old.insulation else "told"), words
    if new.insulation_c is not None and old.insulation_c != new.insulation_c:
        known = old.insulation_c is not None
        was = f"{old.insulation_c:g} °C" if known else "not known"
        yield ("replace" if known else "told"), f"{new.insulation_c:g} °C, was {was}"


def _of_circuit(before: Rig, after: Rig, pair: Pair, new_panels: frozenset[str]) -> Iterator[Work]:
    """The wires of a circuit, out and back, and the fuse that it begins with."""
    old, new = pair
    for one, two in _runs(before, after, old, new):
        if any(wire is not None and wire.lead for wire in (one, two)):
            continue
        if two is None:
            assert one is not None  # noqa: S101
            yield Work("remove", "wire", one.name, "", (_looks(one),))
        elif one is None:
            is_there = old is not None and not is_another(before, after, old, two)
            facts = ("was not stated",) if is_there else ()
            yield Work("told" if is_there else "pull new", "wire", "", two.name, facts)
        elif old is not None and new is not None:
            why = (*_circuit_why(before, after, (old, one), (new, two)),
                   *_wire_why(one, two))  # fmt: skip
            yield from hardest("wire", one.name, two.name, why)
    if old is not None and new is not None and old.condition and not new.condition:
        yield Work("mend", "slot", old.place, new.place, (f"was {old.condition}",))
    is_other = old is not None and new is not None and old.panel != new.panel
    in_new_panel = is_other or (new is not None and new.panel in new_panels)
    yield from guard_work(before, after, (old, new), in_new_panel=in_new_panel)


def _runs(before: Rig, after: Rig, old: Circuit | None, new: Circuit | None) -> Iterator[WirePair]:
    """The wires of a circuit as they were and as they are, out and back."""
    if old is not None and new is not None:
        for was, now in matched_runs(before, after, old, new):
            one, two = before.conductor(was) if was else None, after.conductor(now) if now else None
            # What lies between the assumed returns of loads is cut otherwise with every load.
            if not (is_between(before, one) or is_between(after, two)):
                yield all_the_way(before, old, one), all_the_way(after, new, two)
    elif old is not None:
        yield from ((before.conductor(name), None) for name in (*old.wires, *old.returns))
    elif new is not None:
        yield from ((None, after.conductor(name)) for name in (*new.wires, *new.returns))


def _circuit_why(
    before: Rig, after: Rig, was: tuple[Circuit, Conductor], now: tuple[Circuit, Conductor]
) -> Iterator[Why]:
    """Where a wire of a circuit lands now, and what its tag says."""
    (old, one), (new, two) = was, now
    for was_at, now_at in zip(landings(before, one), landings(after, two), strict=True):
        if was_at and now_at and was_at != now_at:
            yield "move", f"from {was_at} to {now_at}"
    if (one.name, old.label) != (two.name, new.label):
        yield "label", f"was {one.name} {old.label}".rstrip()


def _devices(before: Rig, after: Rig, pairs: Iterable[Pair]) -> Iterator[Work]:
    """The devices that stand by themselves and those within circuits."""
    renamed = renaming(pairs)

    def loose(rig: Rig) -> Iterator[Device]:
        first = {circuit.device for circuit in rig.circuits}
        feeds = {wire.name for wire in rig.conductors if not wire.circuit}
        for device in rig.by_name.devices.values():
            if device.about.name not in first and device.on_wire not in feeds:
                yield device

    was = {renamed(device.about.name): device for device in loose(before)}
    now = {device.about.name: device for device in loose(after)}
    for name in dict.fromkeys((*now, *was)):
        yield from device_work(was.get(name), now.get(name))


def _loads(before: Rig, after: Rig, pairs: Sequence[Pair]) -> Iterator[Work]:
    """Loads by what they are called, wherever they hang; the inputs of converters aside."""
    places = {old.place: new.place for old, new in pairs if old and new}
    unread = {new.place for old, new in pairs if old and new and not was_surveyed(before, old)}
    inlets = {source.inlet for source in (*before.sources, *after.sources)} - {""}
    for was, now in matched_loads(before, after, pairs):
        if any(load is not None and load.about.name in inlets for load in (was, now)):
            continue
        if now is None:
            assert was is not None  # noqa: S101
            yield Work("remove", "load", was.about.name, "", (str(was.about),))
        elif was is None:
            is_there = now.circuit in unread
            facts = ("was not stated",) if is_there else ()
            yield Work("told" if is_there else "pull new", "load", "", now.about.name, facts)
        elif now.circuit and was.circuit and places.get(was.circuit) != now.circuit:
            words = f"from {was.circuit} to {now.circuit}"
            yield Work("move", "load", was.about.name, now.about.name, (words,))
        elif is_unnamed(was.about.label) and was.about.label != now.about.label:
            yield Work("label", "load", was.about.name, now.about.name, (f"was {was.about}",))


_HARDWARE: Mapping[str, frozenset[str]] = {
    "source": frozenset(
        {"kind", "volts", "rating", "capacity", "chemistry", "input", "cold cranking"}
    ),
    "panel": frozenset({"slots", "slot rating", "rating in all", "columns"}),
    "bar": frozenset({"kind", "rating"}),
}
"""The facts of a part that, known before and something else now, mean another part."""


def _others(before: Rig, after: Rig, renewed: Mapping[str, str]) -> Iterator[Work]:
    """Sources, panels and bars by name; slots of which something bad was remarked.

    A panel in whose place one of another name came is replaced by that.
    """
    said: tuple[tuple[WorkThing, Callable[[Rig], dict[str, Said]]], ...] = (
        ("source", lambda rig: {s.about.name: source_said(rig, s) for s in rig.sources}),
        ("panel", lambda rig: {p.about.name: panel_said(rig, p) for p in rig.panels}),
        ("bar", lambda rig: {j.about.name: junction_said(rig, j) for j in rig.junctions}),
    )
    for thing, of in said:
        was, now = of(before), of(after)
        instead = renewed if thing == "panel" else {}
        come = (name for name in now if name not in was and name not in instead.values())
        yield from (Work("pull new", thing, "", name) for name in come)
        for name in was:
            if name in instead:
                why = (words for _, words in _part_why(thing, was[name], now[instead[name]]))
                yield Work("replace", thing, name, instead[name], tuple(why))
            elif name in now:
                yield from hardest(thing, name, name, _part_why(thing, was[name], now[name]))
            else:
                kind, label = (in_words(was[name].get(key, "")) for key in ("kind", "label"))
                words = f"{kind or thing} {label}".rstrip()
                yield Work("remove", thing, name, "", (words,))
    still = {one.place for one in after.remarks if one.condition}
    for one in before.remarks:
        if one.condition and one.place not in still:
            yield Work("mend", "slot", one.place, one.place, (f"was {one.condition}",))


def _part_why(thing: str, was: Said, now: Said) -> Iterator[Why]:
    for fact, words, before in unlike(was, now):
        if fact == "note":
            continue
        if fact == "condition":
            yield ("mend", f"was {before}") if before and not words else ("told", words)
        elif fact == "label":
            yield "label", f"was {before or 'without a label'}"
        else:
            is_other = fact in _HARDWARE[thing] and before and words and "?" not in before + words
            yield ("replace" if is_other else "told"), f"{fact} {words}, was {before or 'not said'}"
