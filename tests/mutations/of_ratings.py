"""Hazards of ratings and demand, of what cannot be interrupted, and of what nobody has read."""

import re
from collections.abc import Iterator

from mutations.edits import AMPERE, Example, Mutant, is_plus, needed, said, sized, stated
from mutations.hazard import hazard
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Unknown
from rigfolio.model.graph import Device, Load
from rigfolio.protection.inflow import reach_of

DRAWS = re.compile(r"(?<=[\s,])[\d.]+ (?:A|W|ohm)\b")
LENGTH = re.compile(r"(?<=[\s,])[\d.]+ (?:ft|m|in)\b")


@hazard("slots made for less", "fuse-over-slot", "slot-overloaded")
def slots_weak(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("panel"):
        fuses = [one for one, _, circuit in example.circuits() if circuit.panel == name]
        weak = re.sub(r"of [\d.]+ A", "of 1 A", row, count=1)
        yield example.changed(name, {number: weak}, also=fuses)


@hazard("panel made for less", "panel-overloaded")
def panel_weak(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("panel"):
        weak = re.sub(r"[\d.]+ A in all", "0.1 A in all", row, count=1)
        yield example.changed(name, {number: weak})


@hazard("panel made for less than its fuse", "fuse-over-panel")
def panel_below_fuse(example: Example) -> Iterator[Mutant]:
    """A bar that carries its loads, and half of what the largest fuse ahead lets through."""
    study = example.study
    for number, row, name in example.statements("panel"):
        bus = next(panel.bus for panel in study.rig.panels if panel.about.name == name)
        slots = [one for one in study.rig.devices if one.in_slot and one.line == bus]
        demand_a = flows_of(study).together_a([one.about.name for one in slots])
        slots_a = sum(one.rating_a for one in slots if isinstance(one.rating_a, float))
        ahead = [one.rating_a for one in reach_of(study).into([bus]).by if isinstance(one, Device)]
        most_a = max((each for each in ahead if isinstance(each, float)), default=0.0)
        half_a = min(most_a, slots_a) / 2.0
        if demand_a < half_a:
            weak = re.sub(r"[\d.]+ A in all", f"{half_a:g} A in all", row, count=1)
            yield example.changed(name, {number: weak})


@hazard("fuse of a rating that is in no stock", "rating-not-made", every=3)
def rating_of_no_stock(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        if circuit.panel and re.search(r"\bfuse [\d.]+ A", row):
            other = re.sub(r"\bfuse [\d.]+ A", "fuse 17 A", row, count=1)
            yield example.changed(circuit.place, {number: other})


@hazard("alternator made for less than its fuse", "alternator-fuse-large")
def alternator_weak(example: Example) -> Iterator[Mutant]:
    """An alternator of half the rating of the fuse in its output, in the book that minds that."""
    if example.study.book.alternator_share() is None:
        return
    for number, row, name in example.statements("alternator"):
        plus = f"{name}+"
        lines = [w for w in example.study.rig.conductors if plus in (w.a, w.b)]
        fuses = re.findall(r"fuse ([\d.]+) A", example.rows[example.row(lines[0].span)])
        if len(lines) == 1 and fuses:
            weak = re.sub(AMPERE, f"{float(fuses[0]) / 2.0:g} A", row, count=1)
            yield example.changed(name, {number: weak})


@hazard("bar made for less", "busbar-overloaded")
def bar_weak(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("busbar"):
        yield example.changed(name, {number: re.sub(AMPERE, "0.1 A", row, count=1)})


@hazard("switch made for less", "switch-overloaded")
def switch_weak(example: Example) -> Iterator[Mutant]:
    kinds = "disconnect|selector|combiner|relay|shunt|switch|connector"
    for number, row, name in example.statements(kinds):
        yield example.changed(name, {number: re.sub(AMPERE, "0.1 A", row, count=1)})


@hazard("load larger than its fuse", "fuse-overloaded", "wire-overloaded")
def load_large(example: Example) -> Iterator[Mutant]:
    cranked = {end for w in example.study.rig.conductors if w.cranking for end in (w.a, w.b)}
    for load in example.study.rig.loads:
        number = example.row(load.about.span)
        fuses = [example.row(d.rating_span or d.about.span) for d in _before(example, load)]
        # What a converter draws follows from its output; a starter has no fuse.
        if not load.about.name.endswith(".in") and load.plus not in cranked:
            large = "9000 W" if load.nature == "inverter" else "900 A"
            rows = {number: said(DRAWS, large, example.rows[number])}
            yield example.changed(f"{load.about.name} {load.about.label}", rows, also=fuses)


def _before(example: Example, load: Load) -> list[Device]:
    """The protecting devices between the sources and a load."""
    ways = flows_of(example.study).ways.get(load.about.name, ())
    edges = [edge for way in ways for edge in way.out]
    return [edge for edge in edges if isinstance(edge, Device) and edge.protects]


@hazard("load that runs on near the limit", "fuse-near-limit")
def near_limit(example: Example) -> Iterator[Mutant]:
    for _, row, circuit in example.circuits():
        device = example.study.device(circuit.device)
        if device is None or not isinstance(device.rating_a, float) or len(circuit.loads) != 1:
            continue
        load = next(one for one in example.study.rig.loads if one.about.name == circuit.loads[0])
        number = example.row(load.about.span)
        words = f'    load "Runs on" {0.9 * device.rating_a:.2f} A, continuous, 12 h/day'
        yield example.changed(row, {number: words}, also=example.block(example.row(circuit.span)))


@hazard("wire too long", "voltage-drop", "feeder-drop", "voltage-collapse", every=3)
def too_long(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        number = example.row(wire.span)
        row = example.rows[number]
        loads = [example.row(load.about.span) for load in needed(example, wire)]
        if loads and LENGTH.search(row):
            far = "9000 ft" if wire.size_is_awg else "3000 m"
            yield example.changed(wire.name, {number: said(LENGTH, far, row)}, also=loads)


@hazard("gauge that nobody has read", "not-surveyed", every=3)
def gauge_unread(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        if wire.size_span.start >= wire.span.start and not isinstance(wire.size, Unknown):
            yield example.changed(wire.name, sized(example, wire, "? AWG"))


@hazard("fuse that nobody has read", "not-surveyed")
def fuse_unread(example: Example) -> Iterator[Mutant]:
    for number, name, _, _ in example.rated():
        row = example.rows[number]
        unread = re.sub(rf"((?:fuse|breaker)\b[^,]*?){AMPERE}", r"\g<1>? A", row, count=1)
        yield example.changed(name, {number: unread})


@hazard("length that nobody has measured", "not-surveyed", every=3)
def length_unread(example: Example) -> Iterator[Mutant]:
    for wire in stated(example):
        number = example.row(wire.span)
        row = example.rows[number]
        if flows_of(example.study).users(wire.name) and LENGTH.search(row):
            yield example.changed(wire.name, {number: said(LENGTH, "? ft", row)})


@hazard("load that nobody has measured", "not-surveyed")
def load_unread(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("load|inverter"):
        unit = "? W" if "inverter" in row.split()[0] else "? A"
        where = f"{name} {number + 1}"
        yield example.changed(where, {number: said(DRAWS, unit, row)})


@hazard("output that nobody has read", "not-surveyed")
def output_unread(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("charger|solar|alternator|dc-dc"):
        yield example.changed(name, {number: re.sub(AMPERE, "? A", row, count=1)})


@hazard("colour that nobody has looked at", "colour-not-surveyed", every=3)
def colour_unread(example: Example) -> Iterator[Mutant]:
    colour = re.compile(r"(?<=AWG |mm2 )(?:dark )?[a-z]+(?:/[a-z]+)?(?=\s)")
    for number, row in enumerate(example.rows):
        if re.match(r"\s*(?:wire|return)\b", row) and colour.search(row):
            yield example.changed(row.strip(), {number: colour.sub("?", row, count=1)})


@hazard("fuse that cannot interrupt", "interrupt-too-low")
def interrupt_weak(example: Example) -> Iterator[Mutant]:
    for number, row, name in _at_posts(example):
        rest = re.sub(r",?\s*interrupts [\d.]+ k?A|,? (?:class-t|terminal-cube|midi|anl)", "", row)
        weak = re.sub(rf"((?:fuse|breaker)\b[^,]*?{AMPERE})", r"\1 interrupts 50 A", rest, count=1)
        yield example.changed(name, {number: weak})


@hazard("fuse of which nobody knows what it interrupts", "interrupt-too-low")
def interrupt_unread(example: Example) -> Iterator[Mutant]:
    for number, row, name in _at_posts(example):
        rest = re.sub(r",?\s*interrupts [\d.]+ k?A|,? (?:class-t|terminal-cube|midi|anl)", "", row)
        bare = re.sub(rf"((?:fuse|breaker)\b[^,]*?{AMPERE})", r"\1 interrupts ? A", rest, count=1)
        posts = [at for at, _, _ in example.statements("battery")]
        yield example.changed(name, {number: bare}, also=posts)


def _at_posts(example: Example) -> Iterator[tuple[int, str, str]]:
    """The lines of devices that sit on a battery post or at the end of the wire from it."""
    posts = {s.plus for s in example.study.rig.sources if s.kind == "battery"}
    ends = set(posts)
    for wire in example.study.rig.conductors:
        if {wire.a, wire.b} & posts:
            ends |= {wire.a, wire.b}
    for device in example.study.rig.devices:
        if device.protects and {device.line, device.load} & ends:
            number = example.row(device.rating_span or device.about.span)
            yield number, example.rows[number], device.about.name


@hazard("battery that drives more than its fuse breaks", "interrupt-too-low")
def battery_strong(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("battery"):
        strong = re.sub(r"delivers [\d.]+ k?A|internal \d+ mohm", "delivers 900 kA", row)
        fuses = [at for at, _, _ in _at_posts(example)]
        yield example.changed(name, {number: strong}, also=fuses)


@hazard("battery of which nobody has a figure", "interrupt-too-low")
def battery_unread(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements("battery"):
        unread = re.sub(r"delivers [\d.]+ k?A", "delivers ? A", row)
        unread = re.sub(r"internal \d+ mohm", "internal ? mohm", unread)
        yield example.changed(name, {number: unread})


@hazard("feeder of a panel too thin for its loads", "wire-overloaded", "fuse-over-wire",
        "unprotected-wire", "fuse-too-far")  # fmt: skip
def feeder_thin(example: Example) -> Iterator[Mutant]:
    feeds = {panel.feed for panel in example.study.rig.panels}
    for wire in stated(example):
        demand_a = flows_of(example.study).demand(wire.name).current_a
        # No book lets 20 A through 18 AWG at any time: 20 A at 105 °C and 30 °C is the most, of 33
        # CFR 183.425 Table 5 (seen), before correction for 40 °C.
        if is_plus(example, wire) and {wire.a, wire.b} & feeds and demand_a > 20.0:
            thin = "18 AWG" if wire.size_is_awg else "0.75 mm2"
            yield example.changed(wire.name, sized(example, wire, thin))
