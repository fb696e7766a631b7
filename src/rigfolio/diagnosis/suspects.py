"""The faults that a rig can have, one by one, each with how it changes what a meter shows.

The kinds: a joint or wire of high resistance, a wire that is open (where it leads back: a lost
return), wires of a circuit that are thinner or longer than the text says, a device whose contacts
burn or that is open, a short behind a device that stays or that comes and goes (a chafed wire), a
load that draws too much, so much that it has opened its fuse, or nothing, a load joined the wrong
way round, a battery that is flat, tired or open, or too cold to take a charge, something that goes
on drawing from it with everything off, a charger or converter that gives nothing, a converter that
lets its input through. How much a fault has is not known beforehand; `amounts` are the steps in
which it is tried.
"""

import math
from collections.abc import Callable, Collection, Iterator
from typing import Literal

from rigfolio.books import figure
from rigfolio.findings import Span
from rigfolio.model import Circuit, Conductor, Device, Load, Source
from rigfolio.network import coils_of, edge_name, ends, is_guard, with_whole_returns
from rigfolio.operating import NOTHING_WRONG, Wrong, cold_banks, drawn_at, wire_ohm
from rigfolio.record import record
from rigfolio.study import Study, once

SuspectKind = Literal[
    "nothing", "joint", "open wire", "thin wire", "contact", "open device", "short", "chafed",
    "overload", "stuck load", "dead load", "flat", "tired", "open battery", "reversed",
    "dead source", "passes through", "drain", "cold",
]  # fmt: skip

_IN_WIRES: frozenset[SuspectKind] = frozenset({"short", "chafed", "thin wire"})
OF_BATTERIES: frozenset[SuspectKind] = frozenset({"flat", "tired", "open battery"})
# What is done about a battery tells these apart: one is charged, another warmed or replaced.
_CURED_APART = OF_BATTERIES | {"cold"}
_STEPS_A_DECADE = 3
# From two gauges thinner to nine: each step of a gauge is a factor of 1.26 in resistance.
_THINNER = (1.6, 2.0, 2.5, 4.0, 8.0)
_OVERLOADS = (1.3, 1.7, 2.2, 3.0, 4.0)
_STUCK = (5.0,)
_FLAT = (0.97, 0.95, 0.92, 0.88, 0.83, 0.75, 0.6)
_TIRED_OHM = (0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 2.0, 5.0, 12.0, 30.0, 70.0)
# What still leaks through a battery that is open inside lets a meter see a little.
_CUT_OFF_OHM = (150.0, 400.0, 1e3, 3e3, 1e4)
_SHORT_OHM = 0.05


@record
class Suspect:
    """A fault that may be there.

    `name` is the edge, load or source that has it, `circuit` its circuit if it has one. `weight`
    is how likely it is before any reading, as a share of the others. `amounts` are resistances
    [ohm], or shares [-], from small to large; one where there is nothing to be tried.
    """

    kind: SuspectKind
    name: str
    circuit: str
    weight: float
    amounts: tuple[float, ...]
    span: Span | None = None
    ohms: tuple[tuple[str, float], ...] = ()
    """The wires of a circuit with what each has of resistance by the text [ohm]."""
    fuse: str = ""
    """The edge that has opened, or may have, where the fault opens one."""
    bank: str = ""
    """The battery that a drain empties."""
    through: tuple[str, str] = ("", "")
    """The terminals of the input and the output that a converter joins."""
    drain_a: float = 0.0
    """What a drain takes from it, at the most, while everything is off [A]."""
    banks: tuple[str, ...] = ()
    """The batteries that are cold at one time."""
    least_c: float = 0.0
    """Below what they take no charge [°C]."""

    @property
    def is_graded(self) -> bool:
        """Whether there may be any amount between those that are tried, and not these alone."""
        return self.kind != "chafed"

    @property
    def part(self) -> str:
        """Where to look: what is wrong behind a fuse is not in its holder."""
        if self.kind not in _IN_WIRES:
            return ", ".join(self.banks) or self.name
        return f"wires of {self.circuit}" if self.circuit else f"wires behind {self.name}"

    @property
    def cure(self) -> tuple[str, str]:
        """What is to be mended; of a battery also how."""
        return self.part, self.kind if self.kind in _CURED_APART else ""

    def wrong(self, amount: float) -> Wrong:
        """What is wrong if the fault has some amount."""
        if self.kind == "thin wire":
            return Wrong(ohm=tuple((name, ohm * (amount - 1.0)) for name, ohm in self.ohms))
        if self.kind == "passes through":
            joined = (*self.through, amount)
            return Wrong(emf=((self.name, 0.0),), shunt_ohm=(joined,))
        if self.kind == "cold":
            return Wrong(no_charge=self.banks)
        made = _WRONG[self.kind](self.bank or self.name, amount)
        return made.plus(_opened(self.fuse, amount)) if self.kind == "stuck load" else made


def joint_ohms() -> tuple[float, ...]:
    """The resistances that a bad joint is tried with [ohm], evenly spaced by their logarithm."""
    least, most = figure("joint", "least_mohm") / 1000.0, figure("joint", "most_ohm")
    steps = round(math.log10(most / least) * _STEPS_A_DECADE)
    return tuple(least * (most / least) ** (step / steps) for step in range(steps + 1))


def suspects(study: Study) -> tuple[Suspect, ...]:
    """All faults that one part of a rig can have, and the one that nothing is wrong.

    A return that is assumed is one wire: nobody knows of a joint in it.
    """
    whole = with_whole_returns(study.rig)
    return (
        Suspect("nothing", "", "", figure("weight", "nothing"), (0.0,)),
        *(one for wire in whole.conductors for one in _of_wire(study, wire)),
        *(one for device in study.rig.devices for one in _of_device(study, device)),
        *(one for circuit in study.rig.circuits for one in _of_circuit(study, circuit)),
        *(one for load in study.rig.loads for one in _of_load(study, load)),
        *(one for source in study.rig.sources for one in _of_source(source)),
        *_cold(study),
    )


def drains(
    study: Study, bank: str, behind: Collection[str], *, overnight: bool = False
) -> Iterator[Suspect]:
    """What may have gone on drawing from a battery, of the loads behind it: some of them or none.

    One whose draw is not known is left out. A battery that empties `overnight` is more often
    drained than one that was found flat.
    """
    weight = figure("weight", "drain_overnight" if overnight else "drain")
    loads = [study.rig.by_name.loads[name] for name in sorted(behind)]
    volts = study.rig.by_name.sources[bank].voltage_v
    drawn = [(load, drawn_at(load, volts)) for load in loads]
    known = [(load, drawn_a) for load, drawn_a in drawn if drawn_a > 0.0]
    for load, drawn_a in known:
        yield Suspect(
            "drain", load.about.name, load.circuit, weight / len(known),
            (1.0, *_FLAT), load.about.span, bank=bank, drain_a=drawn_a,
        )  # fmt: skip


def _of_wire(study: Study, wire: Conductor) -> Iterator[Suspect]:
    back = figure("weight", "return") if study.side.get(wire.a) == "-" else 1.0
    marked = figure("weight", "damaged") if wire.condition else 1.0
    # Two joints, one at either end; the wire between is of one piece.
    joint = 2.0 * figure("weight", "joint") * back * marked
    yield Suspect("joint", wire.name, wire.circuit, joint, joint_ohms(), wire.span)
    opened = figure("weight", "open") * back * marked
    yield Suspect(
        "open wire", wire.name, wire.circuit, opened, (figure("joint", "open_ohm"),), wire.span
    )


def _of_device(study: Study, device: Device) -> Iterator[Suspect]:
    name = edge_name(device)
    holder = next(iter(study.rig.begun.get(device.about.name, ())), None)
    circuit = holder.place if holder else ""
    marked = bool(device.about.condition or (holder and holder.condition))
    factor = figure("weight", "damaged") if marked else 1.0
    contact = figure("weight", "contact") * factor
    span = device.about.span
    yield Suspect("contact", name, circuit, contact, joint_ohms(), span)
    if device.protects or device.traits.opens:
        weight = figure("weight", _opening(study, device))
        opened = (figure("joint", "open_ohm"),)
        yield Suspect("open device", name, circuit, weight, opened, span)
    if device.protects and len(study.net.steps(device.load)) > 1:
        weight = figure("weight", "short")
        yield Suspect("short", name, circuit, weight, (_SHORT_OHM,), span)
        # Its fuse may have been replaced since, or may have opened again.
        weight = figure("weight", "chafed")
        yield Suspect("chafed", name, circuit, weight, (0.0, 1.0), span)


def _opening(study: Study, device: Device) -> str:
    """How a device comes to be open; all that closes it by a signal fails with it, if unwritten."""
    if device.protects:
        return "blown"
    is_signalled = device.traits.opened_by == "signal"
    return "signal" if is_signalled and edge_name(device) not in coils_of(study.rig) else "switch"


def _of_circuit(study: Study, circuit: Circuit) -> Iterator[Suspect]:
    """The wires of a circuit as they may be in truth: of another gauge, or by another way."""
    names = (*circuit.wires, *circuit.returns)
    found = ((name, _stated_ohm(study, name)) for name in names)
    ohms = tuple((name, ohm) for name, ohm in found if ohm)
    if ohms:
        place, weight = circuit.place, figure("weight", "thin")
        yield Suspect("thin wire", place, place, weight, _THINNER, circuit.span, ohms)


def _stated_ohm(study: Study, name: str) -> float | None:
    wire = study.rig.by_name.conductors.get(name)
    return wire_ohm(study, wire, study.heat(wire)[0]) if wire is not None else None


def _of_load(study: Study, load: Load) -> Iterator[Suspect]:
    if load.about.name.endswith(".in"):
        return
    name, circuit, span = load.about.name, load.circuit, load.about.span
    factor = figure("weight", "damaged") if load.about.condition else 1.0
    weight = figure("weight", "load") * factor
    yield Suspect("dead load", name, circuit, weight, (0.0,), span)
    yield Suspect("overload", name, circuit, figure("weight", "overload"), _OVERLOADS, span)
    yield Suspect("reversed", name, circuit, figure("weight", "reversed"), (0.0,), span)
    for fuse in sorted(guards_before(study, load.plus)):
        weight = figure("weight", "stuck")
        yield Suspect("stuck load", name, circuit, weight, _STUCK, span, fuse=fuse)


@once
def guards_before(study: Study, terminal: str) -> frozenset[str]:
    """The edges of the fuses and breakers next before a place, without which nothing feeds it."""
    net = study.net
    near = net.walk([terminal], is_guard)
    guards = (one for one in study.rig.devices if one.protects and near.keys() & {*ends(one)})

    def is_fed(without: Device) -> bool:
        """Whether some source still reaches the place with a fuse out."""
        reached = net.walk([terminal], lambda edge: edge is without)
        return any(source.plus in reached for source in study.rig.sources)

    # Beside its own there are those of others on the same bar: they leave it fed.
    return frozenset(edge_name(one) for one in guards if not is_fed(one))


def _of_source(source: Source) -> Iterator[Suspect]:
    name, span = source.about.name, source.about.span
    if source.stores:
        yield Suspect("flat", name, "", figure("weight", "flat"), _FLAT, span)
        yield Suspect("tired", name, "", figure("weight", "tired"), _TIRED_OHM, span)
        cut = (*_CUT_OFF_OHM, figure("joint", "open_ohm"))
        yield Suspect("open battery", name, "", figure("weight", "cut_off"), cut, span)
    else:
        yield Suspect("dead source", name, "", figure("weight", "gives_nothing"), (0.0,), span)
        if source.inlet and not source.isolated:
            weight = figure("weight", "passes_through")
            through = (source.inlet, source.plus)
            yield Suspect("passes through", name, "", weight, (_SHORT_OHM,), span, through=through)


def _cold(study: Study) -> Iterator[Suspect]:
    """Batteries that may be too cold to take a charge: those of one kind are so at one time."""
    kinds: dict[tuple[str, float, bool], list[Source]] = {}
    for one in cold_banks(study):
        kind = (one.battery.chemistry, one.least_c, one.source is None)
        kinds.setdefault(kind, []).append(one.battery)
    for (_, least_c, is_stated), banks in kinds.items():
        names = tuple(bank.about.name for bank in banks)
        weight = figure("weight", "too_cold" if is_stated else "may_be_too_cold")
        yield Suspect("cold", names[0], "", weight, (0.0,), banks[0].about.span,
                      banks=names, least_c=least_c)  # fmt: skip


def _opened(name: str, _: float) -> Wrong:
    # What lies behind a short is cut off by its own fuse.
    return Wrong(ohm=((name, figure("joint", "open_ohm")),))


_WRONG: dict[SuspectKind, Callable[[str, float], Wrong]] = {
    "nothing": lambda _, __: NOTHING_WRONG,
    "joint": lambda name, ohm: Wrong(ohm=((name, ohm),)),
    "open wire": lambda name, ohm: Wrong(ohm=((name, ohm),)),
    "contact": lambda name, ohm: Wrong(ohm=((name, ohm),)),
    "open device": lambda name, ohm: Wrong(ohm=((name, ohm),)),
    "short": _opened,
    "chafed": lambda name, is_open: _opened(name, 0.0) if is_open else NOTHING_WRONG,
    "overload": lambda name, share: Wrong(draws=((name, share),)),
    "stuck load": lambda name, share: Wrong(draws=((name, share),)),
    "dead load": lambda name, _: Wrong(draws=((name, 0.0),)),
    "flat": lambda name, share: Wrong(emf=((name, share),)),
    "drain": lambda bank, share: Wrong(emf=((bank, share),)),
    "dead source": lambda name, _: Wrong(emf=((name, 0.0),)),
    "tired": lambda name, ohm: Wrong(inner_ohm=((name, ohm),)),
    "open battery": lambda name, ohm: Wrong(inner_ohm=((name, ohm),)),
    "reversed": lambda name, _: Wrong(reversed_loads=(name,)),
}
