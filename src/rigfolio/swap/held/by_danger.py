"""Dangers, and what is not run, not read and not put in until they are put right."""

from collections.abc import Collection, Iterator, Mapping

from rigfolio.findings import Finding, Severity, Span
from rigfolio.model import Conductor, Device, Load
from rigfolio.network import Edge, coils_of, own_edges
from rigfolio.operating import set_going, with_contacts
from rigfolio.protection import behind_a_missing_fuse, exposures_of
from rigfolio.rule import judged
from rigfolio.shorts import is_barred
from rigfolio.study import Study, once
from rigfolio.wording import called, part_at

_RUNS = frozenset({"always-on-behind-disconnect"})
"""Dangers of what is dead where it must not be."""


@once
def barred(study: Study) -> frozenset[str]:
    """What stays out or off until something is mended: nothing is read behind it.

    Devices by name, relays whose coil stays dead among them, circuits that begin with none by
    place, and converters whose lone input has a danger on its way.
    """
    # A coil that is not run for what it sets going is itself no reason why that stays dead.
    return with_contacts(study, _barred(study, _stopped(study))) | _barred(study, stopped(study))


def _barred(study: Study, held: Collection[str]) -> frozenset[str]:
    begins = {c.device or c.place for c in study.rig.circuits if c.place in held}
    barred_now = {one.about.name for one in study.rig.devices if is_barred(study, one)}
    unfed = {one.about.name for one in study.rig.sources if one.inlet and one.inlet in held}
    return frozenset(barred_now | begins | unfed)


@once
def dangers(study: Study) -> tuple[Finding, ...]:
    """The dangers that nobody has accepted."""
    return tuple(
        one for one in judged(study) if one.severity is Severity.DANGER and one.accepted is None
    )


@once
def stopped(study: Study) -> Mapping[str, Finding]:
    """What is not run until a danger on its own way is put right, with the danger.

    Circuits by place and lone loads by name. That something goes dark with a switch is told before
    power comes back; it is no reason not to run it.
    """
    found = dict(_stopped(study))
    return found | {of: one for of, one in _coils_of_stopped(study, found) if of not in found}


@once
def _stopped(study: Study) -> Mapping[str, Finding]:
    """The same but for coils that are not run only for what they set going."""
    rig = study.rig
    found: dict[str, Finding] = {}
    at = dangers_at(study)
    if not at:
        return found
    for circuit in rig.circuits:
        wires = (*circuit.wires, *circuit.returns)
        words = [called(circuit.place, circuit.label), *(f"wire {name}" for name in wires)]
        words += [str(rig.by_name.loads[name].about) for name in circuit.loads]
        found.update((circuit.place, at[one]) for one in words if one in at)
    for load in rig.loads:
        if not load.circuit:
            edges = tuple(_own_way(study, load))
            way = (str(load.about), *map(part_of, edges))
            danger = next((at[one] for one in way if one in at), None)
            if danger is not None:
                found[load.about.name] = danger
                # The circuit that leads to a converter is not put in where the way back may burn.
                circuits = (one.circuit for one in edges if isinstance(one, Conductor))
                for place in filter(None, circuits):
                    found.setdefault(place, danger)
    return found


def dangers_at(study: Study) -> Mapping[str, Finding]:
    """The part that each danger is told at, and the wires that it exposes, as parts are printed."""
    at: dict[str, Finding] = {}
    exposed = _exposed(study)
    for one in dangers(study):
        if one.rule not in _RUNS:
            spans = [one.at.span, *(o.span for o in one.others if o.span in exposed)]
            for span in spans:
                at.setdefault(part_at(study.rig, span), one)
    return at


def _exposed(study: Study) -> frozenset[Span]:
    """Where the wires stand that too much can flow into, whatever is dead before them."""
    served = behind_a_missing_fuse(study)
    wires = [one.wire for one in exposures_of(study) if (one.wire.name, one.end) not in served]
    return frozenset(span for wire in wires for span in (wire.span, wire.size_span))


def _coils_of_stopped(study: Study, found: Mapping[str, Finding]) -> Iterator[tuple[str, Finding]]:
    """What sets going what is not run, as that is named: its coil is not switched on either."""
    for coil in coils_of(study.rig).values():
        going = set_going(study, coil.about.name)
        for load in going.loads if going is not None else ():
            if (load.circuit or load.about.name) in found:
                yield coil.circuit or coil.about.name, found[load.circuit or load.about.name]


def _own_way(study: Study, load: Load) -> Iterator[Edge]:
    """The wires and devices that nothing but a load hangs on, those side by side among them."""
    others = [one for one in study.rig.loads if one is not load]
    # What a converter gives feeds nothing on the way to its own input.
    sources = [one for one in study.rig.sources if one.inlet != load.about.name]
    yield from own_edges(study.net, load.plus, [s.plus for s in sources], [o.plus for o in others])
    yield from own_edges(
        study.net, load.minus, [s.minus for s in sources], [o.minus for o in others]
    )


def part_of(edge: Edge) -> str:
    """A wire or a device as parts are printed."""
    return str(edge.about) if isinstance(edge, Device) else f"wire {edge.name}"
