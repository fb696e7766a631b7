"""The faults that a rig can have, one by one, each with how it changes what a meter shows.

The kinds: a joint or wire of high resistance, a wire that is open (where it leads back: a lost
return), a device whose contacts burn or that is open, a short behind a device, a load that draws
too much or nothing, a battery that is flat, tired or open, a load joined the wrong way round. How
much a fault has is not known beforehand; `amounts` are the steps in which it is tried.
"""

import math
from collections.abc import Callable, Iterator
from typing import Literal

from rigfolio.books import figure
from rigfolio.findings import Span
from rigfolio.model import Conductor, Device, Load, Source
from rigfolio.network import edge_name
from rigfolio.operating import NOTHING_WRONG, Wrong
from rigfolio.record import record
from rigfolio.study import Study

SuspectKind = Literal[
    "nothing", "joint", "open wire", "contact", "open device", "short", "overload", "dead load",
    "flat", "tired", "open battery", "reversed",
]  # fmt: skip

_STEPS_A_DECADE = 3
_OVERLOADS = (1.3, 1.7, 2.2, 3.0, 4.0)
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

    def wrong(self, amount: float) -> Wrong:
        """What is wrong if the fault has some amount."""
        return _WRONG[self.kind](self.name, amount)


def joint_ohms() -> tuple[float, ...]:
    """The resistances that a bad joint is tried with [ohm], evenly spaced by their logarithm."""
    least, most = figure("joint", "least_mohm") / 1000.0, figure("joint", "most_ohm")
    steps = round(math.log10(most / least) * _STEPS_A_DECADE)
    return tuple(least * (most / least) ** (step / steps) for step in range(steps + 1))


def suspects(study: Study) -> tuple[Suspect, ...]:
    """All faults that one part of a rig can have, and the one that nothing is wrong."""
    return (
        Suspect("nothing", "", "", figure("weight", "nothing"), (0.0,)),
        *(one for wire in study.rig.conductors for one in _of_wire(study, wire)),
        *(one for device in study.rig.devices for one in _of_device(study, device)),
        *(one for load in study.rig.loads for one in _of_load(load)),
        *(one for source in study.rig.sources for one in _of_source(source)),
    )


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
    holder = next((c for c in study.rig.circuits if c.device == device.about.name), None)
    circuit = holder.place if holder else ""
    marked = bool(device.about.condition or (holder and holder.condition))
    factor = figure("weight", "damaged") if marked else 1.0
    contact = figure("weight", "contact") * factor
    span = device.about.span
    yield Suspect("contact", name, circuit, contact, joint_ohms(), span)
    if device.protects or device.traits.opens:
        weight = figure("weight", "blown" if device.protects else "switch")
        opened = (figure("joint", "open_ohm"),)
        yield Suspect("open device", name, circuit, weight, opened, span)
    if holder is not None:
        weight = figure("weight", "short")
        yield Suspect("short", name, circuit, weight, (_SHORT_OHM,), span)


def _of_load(load: Load) -> Iterator[Suspect]:
    if load.about.name.endswith(".in"):
        return
    name, circuit, span = load.about.name, load.circuit, load.about.span
    factor = figure("weight", "damaged") if load.about.condition else 1.0
    weight = figure("weight", "load") * factor
    yield Suspect("dead load", name, circuit, weight, (0.0,), span)
    yield Suspect("overload", name, circuit, figure("weight", "overload"), _OVERLOADS, span)
    yield Suspect("reversed", name, circuit, figure("weight", "reversed"), (0.0,), span)


def _of_source(source: Source) -> Iterator[Suspect]:
    if source.stores:
        name, span = source.about.name, source.about.span
        yield Suspect("flat", name, "", figure("weight", "flat"), _FLAT, span)
        yield Suspect("tired", name, "", figure("weight", "tired"), _TIRED_OHM, span)
        cut = (*_CUT_OFF_OHM, figure("joint", "open_ohm"))
        yield Suspect("open battery", name, "", figure("weight", "cut_off"), cut, span)


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
    "overload": lambda name, share: Wrong(draws=((name, share),)),
    "dead load": lambda name, _: Wrong(draws=((name, 0.0),)),
    "flat": lambda name, share: Wrong(emf=((name, share),)),
    "tired": lambda name, ohm: Wrong(inner_ohm=((name, ohm),)),
    "open battery": lambda name, ohm: Wrong(inner_ohm=((name, ohm),)),
    "reversed": lambda name, _: Wrong(reversed_loads=(name,)),
}
