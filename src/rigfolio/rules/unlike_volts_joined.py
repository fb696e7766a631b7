"""Sources of unlike volts meet on one conductor, or a converter is fed with others than its own.

Every conductor has the volts of what feeds it, in any position of a selector and with every relay
and combiner closed. Two banks of unlike volts there, a charger for another system, or a DC-DC
converter that is joined the wrong way round between two systems do not take a load to be seen.

*Why:* the higher one drives all that its wires let through into the lower one: batteries boil or
burst, converters burn, and everything on the lower system gets twice its volts.
"""

from collections.abc import Iterator

from rigfolio.books import Limit, one_system
from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.model import Device, Source
from rigfolio.natural_order import natural
from rigfolio.network import path
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import with_kind

RULE = Rule(
    "unlike-volts-joined",
    Severity.DANGER,
    Citation("every conductor has the volts of what feeds it", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every source against the bank that it is joined to, every converter against what feeds it."""
    limit = one_system()
    sources = [one for one in study.rig.sources if one.plus not in study.shorted]
    for source in sources:
        held = study.volts.get(source.plus, source.voltage_v)
        if _is_unlike(source.voltage_v, held, limit):
            yield _joined(study, source, _holder(study, sources, source, held), limit)
        fed_v = _fed_v(study, source)
        if source.input_v is not None and fed_v and _is_unlike(source.input_v, fed_v, limit):
            yield _fed(source, source.input_v, fed_v, limit)


def _is_unlike(one_v: float, two_v: float, limit: Limit) -> bool:
    return max(one_v, two_v) > limit.value * min(one_v, two_v)


def _holder(study: Study, sources: list[Source], source: Source, held_v: float) -> Source:
    """The source that sets the volts where another one is joined to it."""
    reached = study.net.walk([source.plus])
    holders = [one for one in sources if one.plus in reached and one.voltage_v == held_v]
    return min(holders, key=lambda one: (not one.stores, natural(one.about.name)))


def _fed_v(study: Study, source: Source) -> float | None:
    """The volts at the input of a converter; None where nothing feeds it."""
    load = study.rig.by_name.loads.get(source.inlet)
    return study.volts.get(load.plus) if load is not None else None


def _joined(study: Study, source: Source, bank: Source, limit: Limit) -> Finding:
    name, other = source.about.name, bank.about.name
    own, held = show(source.voltage_v, "V"), show(bank.voltage_v, "V")
    by = list(_between(study, source, bank))
    words = f"`{name}` of {own} is joined to `{other}` of {held}"
    if not source.stores:
        words = f"`{name}` gives {own} onto the {held} of `{other}`"
    way = f" by way of {by[0][1]}" if by else ""
    fix = f"part `{name}` from `{other}`: only a converter joins two systems"
    if not source.stores:
        fix = f"take `{name}` off the conductors of `{other}`; if it does give {held}, say so"
    return RULE.finding(
        f"{words}{way}",
        source.about.span,
        others=[(bank.about.span, f"has {held}"), *((span, "joins them") for span, _ in by[:2])],
        source=limit.source,
        fix=Fix(fix),
        numbers=(("own_v", source.voltage_v), ("held_v", bank.voltage_v)),
    )


def _between(study: Study, source: Source, bank: Source) -> Iterator[tuple[Span, str]]:
    """What a person can turn on the way between two sources, what selects first."""
    way = path(study.net.walk([bank.plus]), source.plus)
    devices = [edge for edge in way if isinstance(edge, Device) and not edge.protects]
    told = {device.about.name: device for device in devices}
    for device in sorted(told.values(), key=lambda one: not one.traits.selects):
        yield device.about.span, with_kind(device.kind, device.about.name)


def _fed(source: Source, made_v: float, fed_v: float, limit: Limit) -> Finding:
    made, fed = show(made_v, "V"), show(fed_v, "V")
    return RULE.finding(
        f"`{source.about.name}` is made for {made} at its input, which has {fed}",
        source.about.span,
        source=limit.source,
        fix=Fix(f"a converter made for {fed} in, or its two sides the other way round"),
        numbers=(("own_v", made_v), ("held_v", fed_v)),
    )
