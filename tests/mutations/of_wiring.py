"""Hazards of what is joined to what: polarity, returns, names, slots, what must stay on."""

import re
from collections.abc import Iterator
from itertools import pairwise

from mutations.edits import Example, Mutant, is_plus, needed, sized, stated, with_facts
from mutations.hazard import hazard
from mutations.of_protection import FUSES
from rigfolio.model.graph import Conductor, Device, Load, Source
from rigfolio.network.graph import Edge

TO = re.compile(r"\bto (\S+)")
PARTS = (
    "battery|fuse|breaker|disconnect|selector|combiner|relay|shunt|busbar|chassis|panel|charger"
    "|solar|alternator|dc-dc|inverter|load|connector"
)


@hazard("plus wire on a minus bar", "plus-joined-to-minus")
def plus_on_minus(example: Example) -> Iterator[Mutant]:
    minus = example.study.rig.sources[0].minus
    for wire in stated(example):
        number = example.row(wire.span)
        row = example.rows[number]
        if is_plus(example, wire) and re.match(r"\s*wire\s+\S+\s+to ", row):
            wrong = re.sub(r",?\s*(?:fuse|breaker) .*", "", TO.sub(f"to {minus}", row, count=1))
            yield example.changed(wire.name, {number: wrong})


@hazard("load the wrong way round", "load-reversed")
def load_reversed(example: Example) -> Iterator[Mutant]:
    for number, _, name in example.statements("load|inverter"):
        if re.fullmatch(r"[A-Z]+\d+", name):
            yield example.changed(name, _over(example, name), also=[number])


@hazard("charger the wrong way round", "source-reversed", "plus-joined-to-minus")
def charger_reversed(example: Example) -> Iterator[Mutant]:
    for number, _, name in example.statements("charger|solar|alternator"):
        yield example.changed(name, _over(example, name), also=[number])


def _over(example: Example, name: str) -> dict[int, str]:
    """The wires of a part changed over."""
    other = {"+": "-", "-": "+"}
    found = {}
    for number, row in example.wires():
        new = re.sub(rf"\b{name}([+-])(?=\s)", lambda m: name + other[m[1]], row)
        if new != row:
            found[number] = new
    return found


@hazard("battery the wrong way round", "source-reversed", "plus-joined-to-minus")
def battery_reversed(example: Example) -> Iterator[Mutant]:
    other = {"+": "-", "-": "+"}
    for number, _, name in example.statements("battery"):
        new = {}
        for at, one in enumerate(example.rows):
            turned = re.sub(
                rf"\b{name}([+-])(?=[\s,]|$)", lambda m, name=name: name + other[m[1]], one
            )
            if turned != one:
                new[at] = turned
        yield example.changed(name, new, also=_ends_of_loads(example, number))


def _ends_of_loads(example: Example, number: int) -> list[int]:
    """A line and those of all loads, whose polarity turns on it."""
    return [number, *(example.row(load.about.span) for load in example.study.rig.loads)]


@hazard("return on the plus side", "missing-return", "load-reversed", "plus-joined-to-minus")
def return_on_plus(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        if circuit.loads:
            feed = circuit.panel or row.split()[1]
            yield _returning(example, number, f"return to {feed}", [])


@hazard("return that leads nowhere", "missing-return")
def return_nowhere(example: Example) -> Iterator[Mutant]:
    for number, _, circuit in example.circuits():
        if circuit.loads:
            yield _returning(example, number, "return to Z99", ["busbar Z99"])


def _returning(example: Example, head: int, words: str, added: list[str]) -> Mutant:
    """A circuit with another return."""
    block = example.block(head)
    last = example.rows[block[-1]]
    own = f"    {words}"
    row = own if last.strip().startswith("return") else f"{last}\n{own}"
    return example.changed(example.rows[head], {block[-1]: row}, added, also=block)


@hazard("minus wire left out", "missing-return")
def minus_gone(example: Example) -> Iterator[Mutant]:
    yield from _gone(example, plus=False)


@hazard("plus wire left out", "load-without-path")
def plus_gone(example: Example) -> Iterator[Mutant]:
    yield from _gone(example, plus=True)


def _gone(example: Example, *, plus: bool) -> Iterator[Mutant]:
    """Without a wire that some load depends on; it may be told at any of its loads."""
    chargers = frozenset({"charger", "solar", "alternator"})
    for wire in stated(example):
        loads = needed(example, wire)
        # What a charger alone still reaches has a way, of the charger.
        others = {
            one.about.name
            for load in loads
            for one in example.study.rig.sources
            if one.kind in chargers and _reaches(example, wire, one, load)
        }
        if loads and not wire.circuit and is_plus(example, wire) == plus and not others:
            rows = [example.row(load.about.span) for load in loads]
            yield example.changed(wire.name, {example.row(wire.span): "# gone"}, also=rows)


def _reaches(example: Example, wire: Conductor, source: Source, load: Load) -> bool:
    """Whether a source feeds a load without a wire."""
    net = example.study.net
    plus = net.walk([source.plus], lambda edge: edge is wire)
    return load.plus in plus and load.minus in net.walk([source.minus], lambda edge: edge is wire)


@hazard("bond to the frame too thin", "chassis-bond-thin")
def thin_bond(example: Example) -> Iterator[Mutant]:
    frames = {j.terminal for j in example.study.rig.junctions if j.kind == "chassis"}
    posts = {s.minus for s in example.study.rig.sources if s.kind == "battery"}
    posts |= {j.terminal for j in example.study.rig.junctions if j.traits.is_bar}
    for wire in stated(example):
        # A bond that brings a starter's current back is left to its cable.
        ends = {wire.a, wire.b}
        if not wire.cranking and ends & frames and ends <= frames | posts:
            yield example.changed(wire.name, sized(example, wire, "14 AWG"))


@hazard("name never defined", "name-not-defined")
def misspelt(example: Example) -> Iterator[Mutant]:
    for number, row in example.wires():
        yield example.changed(row.strip(), {number: TO.sub("to ZZ9", row, count=1)})


@hazard("name used twice", "name-used-twice")
def twice(example: Example) -> Iterator[Mutant]:
    for _, row, name in example.statements(PARTS):
        if re.fullmatch(r"[A-Z]+\d+", name) and not row.startswith(" "):
            yield example.changed(name, {}, [f'busbar {name} "Once more"'])


@hazard("slot used twice", "slot-used-twice")
def slot_twice(example: Example) -> Iterator[Mutant]:
    for panel in example.study.rig.panels:
        own = [one for one in example.circuits() if one[2].panel == panel.about.name]
        for (_, _, one), (number, row, two) in pairwise(own):
            moved = row.replace(f"circuit {two.place} ", f"circuit {one.place} ", 1)
            yield example.changed(two.place, {number: moved})


@hazard("slot that is not there", "slot-not-in-panel")
def no_slot(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        if circuit.panel:
            moved = row.replace(f"circuit {circuit.place} ", f"circuit {circuit.panel}.99 ", 1)
            yield example.changed(circuit.place, {number: moved})


@hazard("always on behind a disconnect", "always-on-behind-disconnect")
def always_on(example: Example) -> Iterator[Mutant]:
    for number, row, circuit in example.circuits():
        if circuit.loads and not circuit.always_on and _is_behind(example, circuit.start):
            rows = {number: with_facts(row, "always on")}
            yield example.changed(circuit.place, rows, also=example.block(number))


def _is_behind(example: Example, terminal: str) -> bool:
    """Whether no battery reaches a place with disconnects and selectors open.

    A converter from one house side to the other passes on what reaches it. That from the engine's
    side is off while the engine stands.
    """
    net, rig = example.study.net, example.study.rig

    def is_open(edge: Edge) -> bool:
        return isinstance(edge, Device) and edge.kind in ("disconnect", "selector")

    reached = net.walk((s.plus for s in rig.sources if s.kind == "battery"), is_open)
    return terminal not in reached


@hazard("disconnect bridged", "disconnect-isolates-nothing")
def bridged(example: Example) -> Iterator[Mutant]:
    """A wire, or a fuse with one, led past a disconnect from one of its sides to the other."""
    for number, row, name in example.statements("disconnect"):
        wire = f"wire {name}.line to {name}.load 2/0 AWG red 1 ft"
        yield example.changed(f"{name} by a wire", {number: f"{row}\n{wire}"})
        fused = f"fuse F99 30 A\nwire {name}.line to F99.line 2/0 AWG red 1 ft\n"
        fused += f"wire F99.load to {name}.load 2/0 AWG red 1 ft"
        yield example.changed(f"{name} by a fuse", {number: f"{row}\n{fused}"})


@hazard("alarm moved behind the disconnect", "always-on-behind-disconnect")
def alarm_moved(example: Example) -> Iterator[Mutant]:
    for number, row in enumerate(example.rows):
        if "always on" in row and "S1.line" in row:
            moved = {number: row.replace("S1.line", "S1.load")}
            yield example.changed(row, moved, also=example.block(number))
        elif re.match(r"wire\s+F4\.load to P2", row):
            loads = [at for at, one in enumerate(example.rows) if "Bilge pump, deep" in one]
            yield example.changed(row, {number: row.replace("F4.load", "F3.load")}, also=loads)


@hazard("condition that tells of heat", "part-damaged", every=3)
def scorched(example: Example) -> Iterator[Mutant]:
    for number, row, name in example.statements(PARTS + "|circuit"):
        if re.match(r"[A-Z]+\d+", name):
            yield example.changed(name, {number: with_facts(row, "scorched")})
    for number, row in example.wires():
        yield example.changed(row.strip(), {number: with_facts(row, "melted")})


@hazard("inverter ahead of the disconnect", "inverter-ahead-of-disconnect")
def inverter_ahead(example: Example) -> Iterator[Mutant]:
    for source in example.study.rig.sources:
        if source.kind == "battery" and example.study.book.name == "boat":
            yield example.changed(source.plus, {}, [
                'inverter X9 "Inverter" 1000 W, intermittent',
                f"wire {source.plus} to X9+ 4/0 AWG red 4 ft, fuse 150 A terminal-cube at "
                f"{source.plus}",
                f"wire X9- to {source.minus} 4/0 AWG black 4 ft",
            ])  # fmt: skip


@hazard("more terminals on a post than belong there", "stud-crowded")
def crowded(example: Example) -> Iterator[Mutant]:
    for source in example.study.rig.sources:
        if source.kind == "battery":
            rows = {example.row(source.about.span): example.rows[example.row(source.about.span)]}
            yield example.changed(source.plus, {}, [
                line
                for number in range(5)
                for line in (
                    f'load M9{number} "Clock {number}" 0.1 A',
                    f"wire {source.plus} to M9{number}+ 10 AWG red 3 ft, fuse 2 A at {source.plus}",
                    f"wire M9{number}- to {source.minus} 10 AWG black 3 ft",
                )
            ], also=rows)  # fmt: skip


@hazard("position of a switch wired to nothing", "position-makes-nothing")
def position_bare(example: Example) -> Iterator[Mutant]:
    """A lamp on one of two positions, and nothing on the other."""
    yield from _with_changeover(example, "wire SW99.1 to L99+ 16 AWG red 3 ft")


@hazard("switch between plus and minus", "switch-reverses")
def switch_reversing(example: Example) -> Iterator[Mutant]:
    """What hangs on a switch taken from its common end, with plus and minus at its positions."""
    lines = "wire {post}- to SW99.2 16 AWG black 6 in\nwire SW99.common to L99+ 16 AWG red 3 ft"
    yield from _with_changeover(example, lines, ".1")


def _with_changeover(example: Example, lines: str, end: str = "") -> Iterator[Mutant]:
    for number, row, name in example.statements("battery"):
        more = (
            "changeover SW99 5 A, centre off", 'load L99 "Lamp 99" 0.1 A',
            f"wire {name}+ to SW99{end} 16 AWG red 6 in, fuse 3 A at {name}+",
            lines.format(post=name), f"wire L99- to {name}- 16 AWG black 3 ft",
        )  # fmt: skip
        yield example.changed(name, {number: "\n".join((*more, row))}, also=[number])


@hazard("part rated for too few volts", "voltage-rating-low", every=3)
def volts_low(example: Example) -> Iterator[Mutant]:
    rig, side = example.study.rig, example.study.side
    minus = {j.about.name for j in rig.junctions if side.get(j.terminal) == "-"}
    minus |= {d.about.name for d in rig.devices if side.get(d.line) == "-"}
    kinds = f"{FUSES}|disconnect|selector|combiner|busbar|panel|inverter|load"
    for number, row, name in example.statements(kinds):
        if name in minus:
            continue
        low = re.sub(r" rated \d+ V", "", row, count=1)
        yield example.changed(f"{name} {number + 1}", {number: with_facts(low, "rated 6 V")})
