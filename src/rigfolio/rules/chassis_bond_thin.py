"""The wire that bonds the battery to the chassis is thinner than the rule book asks for.

It is no thinner than the book's gauge, and no thinner than the lead on the plus post. A book that
asks for no gauge leaves it to the largest fuse or breaker that comes first from the battery: a bond
that may carry that is enough, and so is the copper that codes ask of a bond by the device before
the wires. What is less is advice. All bonds of a frame count together; those that bring a starter's
current back are left to its cable.

*Why:* a plus wire that chafes on the frame sends all that the battery gives through this wire until
the fuse opens. The bond itself has no fuse, and needs none.
"""

from collections.abc import Iterator

from rigfolio.books import Book, Limit, bond_m2
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge, edge_name, ends, is_guard, path, plug_pins
from rigfolio.protection import is_cranking, limit_of, other_gauge, rating
from rigfolio.rule import Rule
from rigfolio.standard_sizes import sizes_like
from rigfolio.study import Study
from rigfolio.units import Size, is_over, show_limit
from rigfolio.wording import name_of, with_kind

RULE = Rule(
    "chassis-bond-thin",
    Severity.FAULT,
    Citation("NFPA 70-2008 552.10(C)(4)", "seen"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire that leads from the minus of a battery to a frame."""
    least = study.book.chassis_bond_m2()
    if least is None:
        yield from _by_device(study)
        return
    found: dict[str, tuple[Conductor, Conductor | None]] = {}
    frames = _frames(study)
    for battery in study.rig.sources:
        if battery.stores:
            lead = _lead(study, battery)
            for _, bond in _bonds(study, battery, frames):
                kept = found.get(bond.name)
                if kept is None or _rank(lead) > _rank(kept[1]):
                    found[bond.name] = (bond, lead)
    for bond, lead in found.values():
        yield from _judged(study.book, bond, lead, least)


def _frames(study: Study) -> set[str]:
    return {j.terminal for j in study.rig.junctions if j.traits.is_frame}


def _by_device(study: Study) -> Iterator[Finding]:
    """Every bond against the largest device of a battery that it serves, each frame once."""
    worst: dict[str, tuple[Device, tuple[Conductor, ...]]] = {}
    for battery in study.rig.sources:
        device = _largest(study, battery) if battery.stores else None
        for frame, bond in _bonds(study, battery, _frames(study)) if device is not None else ():
            if device and (frame not in worst or rating(device) > rating(worst[frame][0])):
                # Where a device sits between wire and frame no other wire is beside it.
                worst[frame] = (device, _beside(study, battery, frame) or (bond,))
    for device, bonds in worst.values():
        yield from _against(study, device, bonds)


def _largest(study: Study, battery: Source) -> Device | None:
    """The largest of the devices that come first from the plus post; of equals by name."""
    near = study.net.walk([battery.plus], is_guard)
    first = {
        edge.about.name: edge
        for end in near
        for edge, _ in study.net.steps(end)
        if is_guard(edge) and isinstance(edge.rating_a, float)
    }
    return max(first.values(), key=lambda one: (rating(one), one.about.name), default=None)


def _beside(study: Study, battery: Source, frame: str) -> tuple[Conductor, ...]:
    """The wires that join a frame to the minus of a battery, thinnest first."""
    wires = [e for e, _ in study.net.steps(frame) if isinstance(e, Conductor) and not e.circuit]
    back = study.net.walk([battery.minus], lambda edge: edge in wires)
    bonds = (wire for wire in wires if {wire.a, wire.b} - {frame} <= back.keys())
    return tuple(sorted(bonds, key=_rank))


def _against(study: Study, device: Device, bonds: tuple[Conductor, ...]) -> Iterator[Finding]:
    """The thinnest of the bonds of a frame, all of them held against a device."""
    least, limits = bond_m2(rating(device)), [limit_of(study, bond) for bond in bonds]
    has_m2 = sum(_copper_m2(bond) for bond in bonds)
    bears_a = sum(limit.value for limit in limits if limit is not None)
    if any(not isinstance(one.size, Size) or is_cranking(study, one) for one in bonds):
        return
    if least is None or not is_over(least.value, has_m2) or not is_over(rating(device), bears_a):
        return
    bond = bonds[0]
    needed_m2 = least.value - has_m2 + _copper_m2(bond)
    rated, what = show_limit(rating(device), "A"), with_kind(device.kind, device.about.name)
    bonding = f"{bond.size.text} bonds" if isinstance(bond.size, Size) else "a wire bonds"
    if len(bonds) > 1:
        bonding = f"{len(bonds)} wires, {bonding.removesuffix(' bonds')} the thinnest, bond"
    yield RULE.finding(
        f"{bonding} the battery to the frame, {what} of {rated} asks for {least.how}",
        bond.size_span,
        others=[(device.rating_span or device.about.span, "comes first from the battery")],
        source=least.source,
        fix=_fix(study.book, bond, least.how if len(bonds) == 1 else "", needed_m2),
        numbers=(("bond_m2", _copper_m2(bond)), ("needed_m2", needed_m2)),
        severity=Severity.ADVICE,
    )


def _lead(study: Study, battery: Source) -> Conductor | None:
    """The thickest wire on the plus post, a device on the post passed over."""
    ends = study.net.walk([battery.plus], lambda edge: isinstance(edge, Conductor))
    wires = [e for end in ends for e, _ in study.net.steps(end) if isinstance(e, Conductor)]
    known = [w for w in wires if isinstance(w.size, Size) and not is_cranking(study, w)]
    return max(known, key=_rank, default=None)


def _rank(wire: Conductor | None) -> tuple[float, str]:
    """Thickest first; of equals the one by name, so that the order of a text changes nothing."""
    return (0.0, "") if wire is None else (_copper_m2(wire), wire.name)


def _copper_m2(wire: Conductor) -> float:
    return wire.size.area_m2 * wire.count if isinstance(wire.size, Size) else 0.0


def _bonds(study: Study, battery: Source, frames: set[str]) -> Iterator[tuple[str, Conductor]]:
    """Each frame with the last wire of the way there from the minus post, loads' returns aside.

    The frame of what is coupled by a plug has a battery and a bond of its own, and so has one that
    lies behind another.
    """
    plugs = plug_pins(study.rig)

    def leaves_frame(edge: Edge) -> bool:
        return edge_name(edge) in plugs or (isinstance(edge, Conductor) and bool(edge.circuit))

    back = study.net.walk([battery.minus], leaves_frame)
    for frame in sorted(frames & back.keys()):
        way = tuple(path(back, frame))
        wires = [edge for edge in way if not isinstance(edge, Device)]
        between = {end for edge in way for end in ends(edge)} - {frame}
        if wires and not between & frames:
            yield frame, wires[0]


def _judged(book: Book, bond: Conductor, lead: Conductor | None, least: Limit) -> Iterator[Finding]:
    if not isinstance(bond.size, Size):
        return
    needed, why = least.how, f"the least is {least.how}"
    needed_m2 = least.value
    if lead is not None and isinstance(lead.size, Size) and _copper_m2(lead) > needed_m2:
        needed_m2 = _copper_m2(lead)
        needed = f"{lead.count} x {lead.size.text}" if lead.count > 1 else lead.size.text
        why = f"{name_of(lead)} on the plus post is {needed}"
    has_m2 = _copper_m2(bond)
    if not is_over(needed_m2, has_m2):
        return
    yield RULE.finding(
        f"{bond.size.text} bonds the battery to the frame, {why}",
        bond.size_span,
        others=[(lead.size_span, "the lead to match")] if lead is not None else [],
        source=least.source,
        fix=_fix(book, bond, needed, needed_m2),
        numbers=(("bond_m2", has_m2), ("needed_m2", needed_m2)),
    )


def _fix(book: Book, bond: Conductor, needed: str, needed_m2: float) -> Fix:
    """The thinnest stock size that is enough."""
    by_hand = f"`{needed}` for {name_of(bond)}" if needed else f"thicker wire for {name_of(bond)}"
    stock = (
        size for size in sizes_like(bond, book) if not is_over(needed_m2, size.area_m2 * bond.count)
    )
    size = next(stock, None)
    if size is None:
        return Fix(by_hand)
    return Fix(f"`{size.text}` for {name_of(bond)}", "ask", other_gauge([bond], size),
               otherwise=by_hand)  # fmt: skip
