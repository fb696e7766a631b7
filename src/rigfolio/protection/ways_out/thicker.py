"""Thicker copper, and what it is needed for."""

from collections.abc import Collection, Iterable, Sequence
from functools import partial

from rigfolio.demand import flows_of
from rigfolio.findings import Fix, Refit, Unknown
from rigfolio.model import Conductor
from rigfolio.network import edge_name
from rigfolio.protection.limits import limit_in
from rigfolio.protection.ways_out.left import LimitOf, copper_left, or_parted
from rigfolio.standard_sizes import is_thicker, thinnest
from rigfolio.study import Study
from rigfolio.units import Size, show_added
from rigfolio.wording import listed_wires, may_words


def other_gauge(wires: Iterable[Conductor], size: Size) -> tuple[Refit, ...]:
    """The changes that give some wires another gauge."""
    return tuple(Refit("gauge", wire.name, size.text) for wire in wires)


def need_of(study: Study, edges: Iterable[str]) -> str:
    """What some edges must carry, in words: what the loads need, or what charging needs."""
    most = flows_of(study).most(edges)
    if most.charge_a > most.loads_a:
        return f"charging needs {show_added(most.charge_a, 'A')}"
    return f"the loads need {show_added(most.loads_a, 'A')}"


def unread_source(study: Study, edges: Collection[str]) -> str:
    """A source that drives into some edges and of which nobody knows how much; empty if none."""
    for ways in flows_of(study).ways.values():
        for way in ways:
            is_unread = isinstance(way.source.limit_a, Unknown) and not way.source.stores
            on = (edge_name(e) for one in way.every for e in (*one.out, *one.back))
            if is_unread and any(name in edges for name in on):
                return way.source.about.name
    return ""


def copper(study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf) -> Fix:
    """A thicker wire for a current, to be tried; not for one that nobody has read."""
    unread = unread_source(study, {wire.name for wire in wires})
    if unread:
        return Fix(f"read first what `{unread}` gives")
    where = _thicker(study, wires, current_a, limit_of)
    if where is None:
        left = copper_left(study, wires, current_a, limit_of)
        return Fix(f"no stock size carries {show_added(current_a, 'A')}: {left}")
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
    rest = f"wire that {may} {need}: what else that asks for is to be seen first"
    return Fix(
        " and ".join(parts), "ask", changes,
        otherwise=or_parted(study, [wire.name for wire in wires], rest),
    )  # fmt: skip
