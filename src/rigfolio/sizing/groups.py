"""What is sized as one: the conductors that one line writes, and the section that they belong to.

A wire and the return that is taken to lie beside it, or the two parts of a wire with a fuse on it,
are written by one line and so have one size. A circuit is a section; wires outside circuits are
sections by what joins them without a protecting device between, returns each by themselves.
"""

from collections.abc import Iterable, Mapping
from typing import Literal

from rigfolio.books import awg_sizes, metric_sizes
from rigfolio.demand import flows_of
from rigfolio.findings import Finding, Span, Unknown
from rigfolio.model import Conductor, Device, Load
from rigfolio.network import edge_name
from rigfolio.protection import reach_of, slot_limit_a
from rigfolio.record import record, replace
from rigfolio.study import Study
from rigfolio.units import Size
from rigfolio.wording import label_of, name_of, short_end

SectionKind = Literal["circuit", "feed", "return"]


@record
class WireGroup:
    """The conductors that the line at `key` writes; `stock` are the sizes that suit it."""

    key: Span
    wires: tuple[Conductor, ...]
    stock: tuple[Size, ...]

    @property
    def first(self) -> Conductor:
        """The conductor that the group is called by."""
        return self.wires[0]

    @property
    def has(self) -> Size | Unknown:
        """The size that the text gives."""
        return self.first.size


@record
class Section:
    """Conductors and the devices before them, sized together; `missing` is what must be known.

    Where `is_part_known` only what some loads draw is not: what hangs on it can be sized for that
    which is known.
    """

    place: str
    label: str
    kind: SectionKind
    groups: tuple[WireGroup, ...]
    devices: tuple[Device, ...]
    leads: tuple[Conductor, ...] = ()
    missing: tuple[str, ...] = ()
    is_part_known: bool = False


def sections(study: Study) -> tuple[Section, ...]:
    """Every circuit and every feed of a rig, in the order of the text."""
    circuits = tuple(_circuits(study))
    loads = study.rig.by_name.loads
    found = (*_feeds(study, circuits), *circuits)
    return tuple(_with_missing(study, one, loads) for one in found)


def points_at(study: Study, section: Section, finding: Finding) -> bool:
    """Whether a finding points at a wire, a device, a load or the line of a section."""
    spans = [group.key for group in section.groups]
    spans += [span for d in section.devices for span in (d.rating_span, d.about.span) if span]
    circuit = study.circuit(section.place) if section.kind == "circuit" else None
    if circuit is not None:
        spans.append(circuit.span)
        spans += [one.about.span for one in study.rig.loads if one.circuit == section.place]
    return any(_touches(finding.at.span, span) for span in spans)


def _touches(one: Span, two: Span) -> bool:
    return one.file == two.file and one.start < two.end and two.start < one.end


def _circuits(study: Study) -> Iterable[Section]:
    inner: dict[str, list[Device]] = {}
    for device in study.rig.devices:
        if device.protects and _is_of(device):
            inner.setdefault(device.line, []).append(device)
    for circuit in study.rig.circuits:
        every = study.wires_of(circuit.place)
        wires = [wire for wire in every if not wire.lead]
        own = study.device(circuit.device)
        held = [] if own is None or not own.protects else [own]
        ends = dict.fromkeys(end for wire in wires for end in (wire.a, wire.b))
        held += [one for end in ends for one in inner.get(end, ()) if one.load in ends]
        devices = tuple({device.about.name: device for device in held}.values())
        leads = tuple(wire for wire in every if wire.lead and study.is_judged_lead(wire))
        yield Section(
            circuit.place, circuit.label, "circuit", groups_of(study, wires), devices, leads
        )


def _is_of(device: Device) -> bool:
    """Whether a device within a circuit is not the one of a slot further on."""
    return not device.in_slot and not device.on_wire


def _feeds(study: Study, circuits: tuple[Section, ...]) -> Iterable[Section]:
    zones: dict[int, list[Conductor]] = {}
    returns: list[Conductor] = []
    for wire in study.rig.conductors:
        if wire.circuit or wire.cranking or wire.lead:
            continue
        if study.side.get(wire.a) == "+":
            zones.setdefault(reach_of(study).zone[wire.a], []).append(wire)
        elif study.side.get(wire.a) == "-":
            returns.append(wire)
    owned = _owners(study, zones, circuits)
    for number, wires in zones.items():
        yield _feed(study, wires, owned.get(number, ()))
    alone = [d for d in owned.get(-1, ()) if study.side.get(d.line) == "+"]
    for device in alone:
        yield Section(device.about.name, device.about.label, "feed", (), (device,))
    for group in groups_of(study, returns):
        label = _run(study, group.first, "return")
        yield Section(group.first.name, label, "return", (group,), ())


def _run(study: Study, wire: Conductor, word: str) -> str:
    """A wire outside circuits as a list calls it: `return, N1 to B1−`."""
    return f"{word}, {short_end(study.rig, wire.a)} to {short_end(study.rig, wire.b)}"


def _owners(
    study: Study, zones: Mapping[int, object], circuits: tuple[Section, ...]
) -> dict[int, tuple[Device, ...]]:
    """The devices by the zone of the wires that they are listed with; -1 where there is none."""
    of_circuits = {device.about.name for one in circuits for device in one.devices}
    held: dict[int, list[Device]] = {}
    for device in study.rig.devices:
        if not device.protects or device.about.name in of_circuits:
            continue
        ends = [reach_of(study).zone.get(end, -1) for end in (device.load, device.line)]
        zone = next((end for end in ends if end in zones), -1)
        held.setdefault(zone, []).append(device)
    return {zone: tuple(devices) for zone, devices in held.items()}


def _feed(study: Study, wires: list[Conductor], devices: tuple[Device, ...]) -> Section:
    ends = {end for wire in wires for end in (wire.a, wire.b)}
    fed = [str(p.about) for p in study.rig.panels if p.feed in ends]
    driving = [s for s in study.rig.sources if s.plus in ends and not s.stores]
    fed += [str(s.about) for s in driving if not s.traits.by_light]
    lit = [str(s.about) for s in driving if s.traits.by_light]
    banks = [str(s.about) for s in study.rig.sources if s.plus in ends and s.stores]
    if fed and banks:
        # Nothing guards what stands on the posts of a bank: it is one with the lead of that.
        label = f"lead of {' and '.join((*banks, *fed))}"
    elif fed:
        label = f"feed of {' and '.join(fed)}"
    elif lit:
        label = f"lead of {' and '.join(lit)}"
    else:
        label = _run(study, wires[0], "feed")
    place = devices[0].about.name if devices else wires[0].name
    return Section(place, label, "feed", groups_of(study, wires), devices)


def groups_of(study: Study, wires: Iterable[Conductor]) -> tuple[WireGroup, ...]:
    """Conductors by the line that writes them."""
    held: dict[Span, list[Conductor]] = {}
    for wire in wires:
        held.setdefault(wire.span, []).append(wire)
    return tuple(
        WireGroup(key, tuple(group), _stock(study, group[0])) for key, group in held.items()
    )


def _stock(study: Study, wire: Conductor) -> tuple[Size, ...]:
    """Gauges or metric sizes, as the wire has, or most wires where its size is not known."""
    if isinstance(wire.size, Size):
        return metric_sizes() if wire.size.awg is None else awg_sizes()
    known = [w.size.awg is None for w in study.rig.conductors if isinstance(w.size, Size)]
    return metric_sizes() if 2 * sum(known) > len(known) else awg_sizes()


def _with_missing(study: Study, section: Section, loads: Mapping[str, Load]) -> Section:
    """A section with what must be known before it can be sized."""
    found: dict[str, None] = {}
    draws: set[str] = set()
    edges = [edge_name(device) for device in section.devices]
    for group in section.groups:
        for wire in group.wires:
            edges.append(wire.name)
            used = bool(flows_of(study).users(wire.name))
            if used and isinstance(wire.length_m, Unknown) and not wire.assumed:
                found[f"the length of {name_of(wire)}"] = None
    for name in flows_of(study).most(edges).open:
        if name == section.place and section.kind == "circuit":
            # Nobody has read what hangs on it: its fuse is held against its wires all the same.
            continue
        word = label_of(loads[name]) if name in loads else name
        does = "gives" if name in study.rig.by_name.sources else "draws"
        found[f"what `{word}` {does}"] = None
        draws |= {f"what `{word}` draws"}
    found |= dict.fromkeys(_no_way(study, section, loads))
    found |= dict.fromkeys(_not_rated(study, section))
    for device in section.devices:
        panel = study.panel(device.load.rsplit(".", 1)[0]) if device.in_slot else None
        if panel is not None and isinstance(panel.slot_a, Unknown):
            found[f"what the slots of `{panel.about.name}` are made for"] = None
    return replace(section, missing=tuple(found), is_part_known=draws >= found.keys())


def _no_way(study: Study, section: Section, loads: Mapping[str, Load]) -> Iterable[str]:
    """Loads of a circuit, or of the panels that a feed leads to, that no current runs through."""
    ends = ends_of(section)
    fed = {panel.about.name for panel in study.rig.panels if panel.feed in ends}
    for circuit in study.rig.circuits:
        is_fed = section.kind == "feed" and circuit.panel in fed
        if circuit.place != section.place and not is_fed:
            continue
        for name in circuit.loads:
            if name in loads and not flows_of(study).ways.get(name):
                yield f"the way of `{label_of(loads[name])}` from a source and back"


def _not_rated(study: Study, section: Section) -> Iterable[str]:
    """Sources that drive into a section by themselves, and nobody knows how much."""
    ends = ends_of(section)
    for source in study.rig.sources:
        if not source.stores and isinstance(source.limit_a, Unknown) and source.plus in ends:
            yield f"what `{source.about.name}` gives"


def ends_of(section: Section) -> set[str]:
    """The terminals that the wires and devices of a section join."""
    ends = {end for group in section.groups for wire in group.wires for end in (wire.a, wire.b)}
    return ends | {end for device in section.devices for end in (device.line, device.load)}


def slot_a(study: Study, device: Device) -> float | None:
    """What the slot of a device is made for [A]; None where it sits in none."""
    return slot_limit_a(study, device)
