"""Sources of unlike volts meet on one conductor, or a converter is fed with others than its own.

Every conductor has the volts of what feeds it, in any position of a selector and with every relay
and combiner closed. Two banks of unlike volts there, a charger for another system, or a DC-DC
converter that is joined the wrong way round between two systems do not take a load to be seen.
What is shown first is the wire, circuit or switch that joins the two systems: the one with which
taken out all volts agree again and both systems keep loads of their own, of several the nearest to
the source that does not belong there.

*Why:* the higher one drives all that its wires let through into the lower one: batteries boil or
burst, converters burn, and everything on the lower system gets twice its volts.
"""

import math
from collections.abc import Iterator

from rigfolio.books import are_one_system, one_system
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Device, Source
from rigfolio.network import Edge, is_guard, joins_now_and_then, net_of, path, volts
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import name_of, stated, with_kind

RULE = Rule(
    "unlike-volts-joined",
    Severity.DANGER,
    Citation("every conductor has the volts of what feeds it", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every source against the bank that it is joined to, every converter against what feeds it."""
    sources = [one for one in study.rig.sources if one.plus not in study.shorted]
    alike = _only_arrays(study)
    held: dict[tuple[Edge | None, Source], list[Source]] = {}
    for source in sorted(sources, key=lambda one: not one.stores):
        held_v = study.volts.get(source.plus, source.voltage_v)
        if source.about.name not in alike and not are_one_system(source.voltage_v, held_v):
            bank = _holder(study, sources, source, held_v)
            held.setdefault((_meeting(study, source, bank), bank), []).append(source)
    for (edge, bank), joined in held.items():
        yield _joined(study, joined, bank, edge)
    for source in sources:
        fed_v = _fed_v(study, source)
        if source.input_v is not None and fed_v and not are_one_system(source.input_v, fed_v):
            yield _fed(source, source.input_v, fed_v)


def _only_arrays(study: Study) -> frozenset[str]:
    """The arrays that nothing but other arrays is joined to: unlike strings are told as such."""
    others = study.net.walk(one.plus for one in study.rig.sources if not one.traits.by_light)
    arrays = (one for one in study.rig.sources if one.traits.by_light)
    return frozenset(one.about.name for one in arrays if one.plus not in others)


def _holder(study: Study, sources: list[Source], source: Source, held_v: float) -> Source:
    """The nearest source that sets the volts where another one is joined to it."""
    reached = study.net.walk([source.plus])
    near = {end: place for place, end in enumerate(reached)}
    holders = [one for one in sources if one.plus in reached and one.voltage_v == held_v]
    return min(holders, key=lambda one: (not one.stores, near[one.plus]))


def _fed_v(study: Study, source: Source) -> float | None:
    """The volts at the input of a converter; None where nothing feeds it."""
    load = study.rig.by_name.loads.get(source.inlet)
    return study.volts.get(load.plus) if load is not None else None


def _joined(study: Study, joined: list[Source], bank: Source, edge: Edge | None) -> Finding:
    source = joined[0]
    name, other = source.about.name, bank.about.name
    own, held = stated(source.voltage_v, "V"), stated(bank.voltage_v, "V")
    words = f"`{name}` of {own} is joined to `{other}` of {held}"
    if not source.stores:
        words = f"`{name}` gives {own} onto the {held} of `{other}`"
    at, by = (source.about.span, "") if edge is None else _place(study, edge)
    fix = f"part `{name}` from `{other}`: only a converter joins two systems"
    if not source.stores:
        fix = f"take `{name}` off the conductors of `{other}`; if it does give {held}, say so"
    if source.traits.by_light:
        fix = f"a controller between `{name}` and `{other}`"
    return RULE.finding(
        f"{words} by way of {by}" if by else words,
        at,
        here="joins them" if by else "",
        others=[
            *((one.about.span, f"gives {show(one.voltage_v, 'V')}") for one in joined[not by :]),
            (bank.about.span, f"has {held}"),
        ],
        source=one_system().source,
        fix=Fix(fix),
        numbers=(("own_v", source.voltage_v), ("held_v", bank.voltage_v)),
    )


def _place(study: Study, edge: Edge) -> tuple[Span, str]:
    """Where a wire, a circuit or a device stands in the text, and its name."""
    if isinstance(edge, Device):
        return edge.about.span, with_kind(edge.kind, edge.about.name)
    circuit = study.circuit(edge.circuit)
    if circuit is not None:
        return circuit.span, f"circuit `{circuit.place}`"
    return edge.span, name_of(edge)


def _meeting(study: Study, source: Source, bank: Source) -> Edge | None:
    """What joins two sources of unlike volts; None where they share a terminal."""
    is_odd = not source.traits.serves or not are_one_system(source.voltage_v, study.rig.system_v)
    one, two = (source, bank) if is_odd else (bank, source)
    way = tuple(path(study.net.walk([two.plus]), one.plus))
    parts = [edge for edge in way if not (is_guard(edge))] or way
    return min(parts, key=lambda edge: _without(study, edge, (one, two)), default=None)


def _without(study: Study, edge: Edge, both: tuple[Source, Source]) -> tuple[int, int, bool]:
    """How ill a rig is without an edge: what is still unlike, sources that would feed nothing.

    Of equals what is there to join banks is likelier than a wire.
    """
    rig = replace(
        study.rig,
        conductors=tuple(one for one in study.rig.conductors if one is not edge),
        devices=tuple(one for one in study.rig.devices if one is not edge),
    )
    net = net_of(rig)
    held = volts(rig, net)
    unlike = sum(not are_one_system(s.voltage_v, held[s.plus]) for s in rig.sources)
    above = sum(
        1 for load in rig.loads if held.get(load.plus, 0.0) > (load.about.rated_v or math.inf)
    )
    idle = sum(
        one.traits.serves and not any(load.plus in out for load in rig.loads)
        for one in both
        for out in (net.walk([one.plus]),)
    )
    return unlike + above, idle, not joins_now_and_then(study.rig, edge)


def _fed(source: Source, made_v: float, fed_v: float) -> Finding:
    made, fed = show(made_v, "V"), show(fed_v, "V")
    return RULE.finding(
        f"`{source.about.name}` is made for {made} at its input, which has {fed}",
        source.about.span,
        source=one_system().source,
        fix=Fix(f"a converter made for {fed} in, or its two sides the other way round"),
        numbers=(("own_v", made_v), ("held_v", fed_v)),
    )
