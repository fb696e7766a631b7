"""The wire that bonds the battery to the chassis is thinner than the rule book asks for.

It is no thinner than the book's gauge, and no thinner than the lead on the plus post.

*Why:* a plus wire that chafes on the frame sends all that the battery gives through this wire until
the fuse opens. The bond itself has no fuse, and needs none.
"""

from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Edge, path
from rigfolio.protection import is_cranking, name_of, other_gauge
from rigfolio.rule import Rule
from rigfolio.standard_sizes import sizes_like
from rigfolio.study import Study
from rigfolio.units import Size, is_over

RULE = Rule(
    "chassis-bond-thin",
    Severity.FAULT,
    Citation("NFPA 70-2008 552.10(C)(4)", "seen"),
    frozenset({"rv"}),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire that leads from the minus of a battery to a frame."""
    least = study.book.chassis_bond_m2()
    if least is None:
        return
    found: dict[str, tuple[Conductor, Conductor | None]] = {}
    frames = {j.terminal for j in study.rig.junctions if j.traits.is_frame}
    for battery in study.rig.sources:
        if battery.stores:
            lead = _lead(study, battery)
            for bond in _bonds(study, battery, frames):
                kept = found.get(bond.name)
                if kept is None or _rank(lead) > _rank(kept[1]):
                    found[bond.name] = (bond, lead)
    for bond, lead in found.values():
        yield from _judged(bond, lead, least)


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


def _bonds(study: Study, battery: Source, frames: set[str]) -> Iterator[Conductor]:
    """The last wire of the way from the minus post to each frame, loads' returns left aside."""

    def leaves_frame(edge: Edge) -> bool:
        return isinstance(edge, Conductor) and bool(edge.circuit)

    back = study.net.walk([battery.minus], leaves_frame)
    for frame in sorted(frames & back.keys()):
        wires = [edge for edge in path(back, frame) if not isinstance(edge, Device)]
        if wires:
            yield wires[0]


def _judged(bond: Conductor, lead: Conductor | None, least: Limit) -> Iterator[Finding]:
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
        fix=_fix(bond, needed, needed_m2),
        numbers=(("bond_m2", has_m2), ("needed_m2", needed_m2)),
    )


def _fix(bond: Conductor, needed: str, needed_m2: float) -> Fix:
    """The thinnest stock size that is enough."""
    by_hand = f"`{needed}` for {name_of(bond)}"
    stock = (size for size in sizes_like(bond) if not is_over(needed_m2, size.area_m2 * bond.count))
    size = next(stock, None)
    if size is None:
        return Fix(by_hand)
    return Fix(f"`{size.text}` for {name_of(bond)}", "ask", other_gauge([bond], size),
               otherwise=by_hand)  # fmt: skip
