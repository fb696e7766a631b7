"""Ways out that serve the wire and the load."""

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from functools import partial

from rigfolio.books import Limit
from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import Fix, Refit, Unknown
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name
from rigfolio.protection.exposure import exposures_by_wire
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.limits import limit_in, limit_of, sure_a
from rigfolio.protection.weakest import panels_behind_a, slot_limit_a
from rigfolio.record import replace
from rigfolio.standard_sizes import is_thicker, rating_above, rating_below, thinnest
from rigfolio.study import Study
from rigfolio.units import Size, is_over, show, show_added, show_limit
from rigfolio.wording import listed, listed_wires, load_name, may_words, name_of, place

_WRITTEN = 10
"""Digits of a rating as it is written into a text: all that it has."""

LimitOf = Callable[[Conductor, Size], Limit | None]


def fuse_or_copper(
    study: Study,
    wires: Sequence[Conductor],
    limit_a: float,
    devices: Sequence[Device],
    asked: tuple[float, str] = (0.0, ""),
) -> Fix:
    """A smaller fuse where the loads allow it; copper where they do not.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that may carry too little.
    limit_a : float
        What all devices together may let through, other supplies taken off [A].
    devices : Sequence[Device]
        The devices that let too much through.
    asked : tuple of float and str
        The least that another device must be rated for a start [A], and that in words; nothing
        comes of it where no wire in stock bears that.

    Returns
    -------
    Fix
        Never a rating above the limit of the wires that stay.
    """
    places = [*(device.about.name for device in devices), *(wire.name for wire in wires)]
    needed_a = max(least_rated_a(study, name) for name in places)
    least_a = needed_a
    if len(devices) == 1 and is_over(asked[0], needed_a) and _grows(study, wires, asked[0]):
        needed_a = asked[0]
    unknown = next(iter(flows_of(study).most(places).open), "")
    smaller = _smaller(study, limit_a, devices, needed_a, unknown)
    if smaller is not None:
        return smaller
    bears = limit_of(study, wires[0])
    if len(devices) > 1 or (bears is not None and limit_a < bears.value):
        return _several_supplies(study, wires, devices)
    own = _fuse_of_its_own(study, wires, devices[0]) if needed_a == least_a else None
    if own is None and len(wires) > 1 and not any(wire.circuit for wire in wires):
        own = _fuses_of_their_own(study, wires, devices)
    why = asked[1] if is_over(needed_a, least_a) else ""
    return own or _copper_and_fuse(study, wires, devices[0], needed_a, why)


def _smaller(
    study: Study, limit_a: float, devices: Sequence[Device], needed_a: float, unknown: str
) -> Fix | None:
    """A smaller device in one place that carries what it must; None where there is none."""
    smaller, slot_a = rating_below(limit_a, devices[0]), slot_limit_a(study, devices[0])
    caps = (limit_a, panels_behind_a(study, devices[0]), math.inf if slot_a is None else slot_a)
    for_panels = rating_below(min(caps), devices[0])
    if for_panels is not None and for_panels >= needed_a:
        smaller = for_panels
    if smaller is None or smaller < needed_a or not _is_one_place(study, devices):
        return None
    if len(devices) > 1:
        word = f"`{devices[0].kind} {show_limit(smaller, 'A')}`"
        return Fix(f"one {word} in place of {listed(d.about.name for d in devices)}")
    before = _exposed_before(study, devices[0])
    most = f"{devices[0].kind} of {show_limit(smaller, 'A')} at most"
    return smaller_device(
        study, devices[0], smaller, unknown,
        f"{most} in its place, once {listed_wires(before)} has its own" if before else "",
    )  # fmt: skip


def _grows(study: Study, wires: Sequence[Conductor], rating_a: float) -> bool:
    """Whether wires in stock may lie behind a device of some rating."""
    fitting = rating_above(rating_a)
    return fitting is not None and thicker_wire(study, wires, fitting) is not None


def _exposed_before(study: Study, device: Device) -> tuple[Conductor, ...]:
    """The wires that end at a device and are not protected either: it would come too far on."""
    found = exposures_by_wire(study)
    wires = (one for one in study.rig.conductors if one.name in found)
    return tuple(one for one in wires if device.line in (one.a, one.b))


def smaller_device(
    study: Study, device: Device, rating_a: float, unknown: str = "", otherwise: str = ""
) -> Fix:
    """A device of less than is fitted, to be tried; to be decided where a load is not known.

    Parameters
    ----------
    study : Study
        The rig.
    device : Device
        The device that is too large.
    rating_a : float
        What it is to be [A].
    unknown : str
        A load behind it whose draw is not known, or a source of which nobody knows what it gives;
        found where it is left out.
    otherwise : str
        What is to be said where it does not serve.
    """
    found = flows_of(study).demand(device.about.name).open
    unknown = unknown or next(iter(found), "")
    fix = other_rating(device, rating_a, otherwise=otherwise)
    if not unknown:
        return replace(fix, kind="safe")
    if unknown in study.rig.by_name.sources:
        gives = f"what `{unknown}` gives"
        return replace(
            fix,
            text=f"{fix.text}, if that serves: {gives} is unknown",
            otherwise=otherwise or f"read first {gives}",
        )
    load = load_name(study.rig, unknown)
    return replace(
        fix,
        text=f"{fix.text}, if that serves {load}: what it draws is unknown",
        otherwise=otherwise or f"measure what {load} draws",
    )


def other_rating(device: Device, rating_a: float, more: str = "", otherwise: str = "") -> Fix:
    """Another rating of a device, to be tried and to be decided by a person."""
    change = Refit("rating", device.about.name, show(rating_a, "A", _WRITTEN))
    text = f"`{device.kind} {show_limit(rating_a, 'A')}`{more}"
    return Fix(text, "ask", (change,), otherwise=otherwise)


def other_gauge(wires: Iterable[Conductor], size: Size) -> tuple[Refit, ...]:
    """The changes that give some wires another gauge."""
    return tuple(Refit("gauge", wire.name, size.text) for wire in wires)


def _fuse_of_its_own(study: Study, wires: Sequence[Conductor], device: Device) -> Fix | None:
    """A fuse where wires begin that carry little themselves: thicker copper would serve nobody.

    Where the device before them needs no more either, only its kind has no rating so small.
    """
    limits = [limit_of(study, wire) for wire in wires]
    least_a = min((limit.value for limit in limits if limit is not None), default=0.0)
    most_a = rating_below(least_a)
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    if most_a is None or needed_a > most_a:
        return None
    most = show_limit(most_a, "A")
    if flows_of(study).demand(device.about.name).current_a <= most_a:
        return Fix(f"another kind in place of `{device.about.name}`, {most} at most")
    begins = f"where {listed_wires(wires)} {'begins' if len(wires) == 1 else 'begin'}"
    return Fix(f"a fuse of its own, {most} at most, {begins}")


def _several_supplies(study: Study, wires: Sequence[Conductor], devices: Sequence[Device]) -> Fix:
    """A fuse of its own where each wire begins that more than one supply drives into."""
    own = _fuses_of_their_own(study, wires, devices, is_alone=False)
    if own is not None:
        return own
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    fitting = rating_above(needed_a)
    if fitting is None or thicker_wire(study, wires, fitting) is None:
        return Fix(f"no fuse and no stock size serve {show_added(needed_a, 'A')}: part the loads")
    begins = f"where {name_of(wires[0])} begins"
    return Fix(f"wire that may carry {show_added(needed_a, 'A')}, and a fuse of its own {begins}")


def _fuses_of_their_own(
    study: Study, wires: Sequence[Conductor], devices: Sequence[Device], *, is_alone: bool = True
) -> Fix | None:
    """A fuse where each wire begins that bears what it serves, and copper for those that do not.

    None where there is no such wire. One that ends at the device has its fuse already: it is that
    one, and has to bear what that lets through.
    """
    posts = {end for device in devices if is_alone for end in (device.line, device.load)}
    parts, rest = list[str](), list[str]()
    all_a = least_rated_a(study, devices[0].about.name)
    its_own = [one for one in wires if posts & {one.a, one.b} or _runs_all(study, one, all_a)]
    if its_own:
        rest.append(_of_device_itself(study, its_own, devices[0]))
    for wire in wires:
        bears, need_a = limit_of(study, wire), least_rated_a(study, wire.name)
        most_a = None if bears is None else rating_below(sure_a(bears))
        begins = f"where {name_of(wire)} begins"
        if wire in its_own:
            continue
        if most_a is not None and not is_over(need_a, most_a):
            parts.append(f"a fuse of its own, {show_limit(most_a, 'A')} at most, {begins}")
        else:
            bearing = f"wire that may carry {show_added(need_a, 'A')}"
            rest.append(f"{bearing}, and a fuse of its own {begins}")
    return Fix("; ".join((*parts, *rest))) if parts else None


def _runs_all(study: Study, wire: Conductor, all_a: float) -> bool:
    """Whether all runs through a wire that a device before it carries, more than it bears [A]."""
    bears, need_a = limit_of(study, wire), least_rated_a(study, wire.name)
    return bears is not None and need_a >= all_a and is_over(need_a, sure_a(bears))


def _of_device_itself(study: Study, wires: Sequence[Conductor], device: Device) -> str:
    """What serves the wires at a device once those further on have fuses of their own."""
    limits = [limit_of(study, wire) for wire in wires]
    most_a = rating_below(min(0.0 if one is None else sure_a(one) for one in limits), device)
    needed_a = least_rated_a(study, device.about.name)
    if most_a is not None and not is_over(needed_a, most_a):
        return (
            f"{device.kind} of {show_limit(most_a, 'A')} at most in place of `{device.about.name}`"
        )
    return f"wire that may carry {show_added(needed_a, 'A')} for {listed_wires(wires)}"


def _is_one_place(study: Study, devices: Sequence[Device]) -> bool:
    """Whether devices stand side by side, so that one can take their place."""
    zone = reach_of(study).zone
    return len({frozenset((zone[d.line], zone[d.load])) for d in devices}) == 1


def _copper_and_fuse(
    study: Study, wires: Sequence[Conductor], device: Device, needed_a: float, why: str = ""
) -> Fix:
    need = why or need_of(study, [device.about.name, *(wire.name for wire in wires)])
    slot_a = slot_limit_a(study, device)
    fitting = rating_above(needed_a, device)
    if slot_a is not None and needed_a > slot_a:
        return Fix(
            f"no fuse is right here: {need}, the slot gives {show_limit(slot_a, 'A')}; feed them "
            "from outside the panel, by thicker wire with a fuse of its own"
        )
    where = None if fitting is None else thicker_wire(study, wires, fitting)
    if fitting is None or where is None:
        return Fix(f"no fuse and no stock size are right here: {need}; part the loads")
    otherwise = f"part the loads, or thicker wire and a fuse to match it: {need}"
    if _stays(study, wires, device, fitting, where):
        return replace(where, text=f"{where.text}: {need}", otherwise=otherwise)
    also = other_rating(device, fitting)
    return Fix(
        f"{where.text}, and {also.text}: {need}", "ask", (*where.changes, *also.changes),
        otherwise=otherwise,
    )  # fmt: skip


def _stays(
    study: Study, wires: Sequence[Conductor], device: Device, least_a: float, copper: Fix
) -> bool:
    """Whether what is fitted may stay behind thicker copper, which bears it as it is."""
    rated_a, slot_a = device.rating_a, slot_limit_a(study, device)
    if not isinstance(rated_a, float) or is_over(least_a, rated_a):
        return False
    made_a = panels_behind_a(study, device)
    if is_over(rated_a, made_a if slot_a is None else min(made_a, slot_a)):
        return False
    then = thicker_wire(study, wires, rated_a)
    return then is not None and then.changes == copper.changes


def need_of(study: Study, edges: Iterable[str]) -> str:
    """What some edges must carry, in words: what the loads need, or what charging needs."""
    most = flows_of(study).most(edges)
    if most.charge_a > most.loads_a:
        return f"charging needs {show_added(most.charge_a, 'A')}"
    return f"the loads need {show_added(most.loads_a, 'A')}"


def copper(study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf) -> Fix:
    """A thicker wire for a current, to be tried; not for one that nobody has read."""
    unread = unread_source(study, {wire.name for wire in wires})
    if unread:
        return Fix(f"read first what `{unread}` gives")
    where = _thicker(study, wires, current_a, limit_of)
    if where is None:
        return Fix(f"no stock size carries {show_added(current_a, 'A')}: part the loads")
    return where


def thicker_wire(study: Study, wires: Sequence[Conductor], rating_a: float) -> Fix | None:
    """Wires that may lie behind a device of some rating, to be tried; None where none may."""
    return _thicker(study, wires, rating_a, partial(limit_in, study))


def _thicker(
    study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf
) -> Fix | None:
    """The copper that some wires need for a current."""
    sizes = [(wire, thinnest(wire, current_a, study.book, limit_of)) for wire in wires]
    found: dict[Size, list[Conductor]] = {}
    for wire, size in sizes:
        if size is None:
            return None
        if is_thicker(size, wire):
            found.setdefault(size, []).append(wire)
    if not found:
        return None
    parts = []
    for size, group in found.items():
        circuit = study.circuit(group[0].circuit)
        both = ", out and back" if circuit is not None and circuit.return_assumed else ""
        parts.append(f"`{size.text}` for {listed_wires(group)}{both}")
    changes = tuple(c for size, group in found.items() for c in other_gauge(group, size))
    need = show_added(current_a, "A")
    limits = (limit_of(wire, size) for size, group in found.items() for wire in group)
    may = may_words(of_device=any(limit is not None and limit.of_device for limit in limits))
    return Fix(
        " and ".join(parts), "ask", changes,
        otherwise=f"part the loads, or wire that {may} {need}: what else that asks for is to "
        "be seen first",
    )  # fmt: skip


def unread_source(study: Study, edges: Collection[str]) -> str:
    """A source that drives into some edges and of which nobody knows how much; empty if none."""
    for ways in flows_of(study).ways.values():
        for way in ways:
            is_unread = isinstance(way.source.limit_a, Unknown) and not way.source.stores
            if is_unread and any(edge_name(e) in edges for e in (*way.out, *way.back)):
                return way.source.about.name
    return ""


def fuse_near(
    study: Study,
    wires: Sequence[Conductor],
    limit_a: float,
    where: str,
    more: str = "",
    *,
    end: str = "",
) -> Fix:
    """A fuse for wires that have none, and thicker wire where the loads need more than they bear.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that nothing protects.
    limit_a : float
        What the thinnest of them may carry [A].
    where : str
        Where the fuse belongs, in words.
    more : str
        What else is to be said.
    end : str
        The terminal at which it may be written onto a single wire; none is written without it.
    """
    needed_a = max(least_rated_a(study, wire.name) for wire in wires)
    most_a = rating_below(limit_a)
    if most_a is not None and most_a >= needed_a:
        by_hand = f"a fuse of no more than {show_limit(most_a, 'A')} {where}{more}"
        return _fuse_on_wire(study, wires, most_a, end, by_hand) if end else Fix(by_hand)
    fitting = rating_above(needed_a)
    thicker = None if fitting is None else thicker_wire(study, wires, fitting)
    need = need_of(study, (wire.name for wire in wires))
    if fitting is None or thicker is None:
        return Fix(f"a fuse {where} and wire to match it: {need}{more}")
    by_hand = f"a fuse {where} and wire to match it: {need}{more}"
    text = f"{thicker.text}, and a fuse of {show_limit(fitting, 'A')} {where}: {need}{more}"
    fix = _fuse_on_wire(study, wires, fitting, end, text) if end else Fix("")
    if not fix.changes:
        return Fix(by_hand)
    return replace(fix, changes=(*thicker.changes, *fix.changes), otherwise=by_hand)


def _fuse_on_wire(
    study: Study, wires: Sequence[Conductor], rating_a: float, end: str, by_hand: str
) -> Fix:
    """A fuse at the end of one wire that has none, to be tried; else only said."""
    wire = wires[0]
    held = study.device(f"{wire.name} fuse")
    is_plain = len(wires) == 1 and not wire.circuit and not wire.assumed and held is None
    if not is_plain or end not in (wire.a, wire.b):
        return Fix(by_hand)
    at = place(study.rig, end).strip("`")
    change = Refit("guard", wire.name, show(rating_a, "A", _WRITTEN), at)
    return Fix(f"{by_hand}: `fuse {change.to} at {at}`", "ask", (change,), otherwise=by_hand)
