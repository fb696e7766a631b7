"""A breaker that closes again of itself stands where that is no good.

It is told of brakes as a danger; in a boat, whose law wants breakers that a hand resets, as a
fault; anywhere else as advice, unless a fuse or another breaker stands ahead of it as well.

*Why:* after it has opened on a short it closes onto the short, again and again, and each time heats
the wire. Brakes behind it come and go: nobody can tell when they will be there.
"""

from collections.abc import Iterator

from rigfolio.books import kept_by_name
from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Load
from rigfolio.network import Edge, is_guard
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import with_kind

RULE = Rule(
    "breaker-resets-itself",
    Severity.FAULT,
    Citation("33 CFR 183.455: breakers reset by hand, trip-free", "seen"),
    also=(Severity.DANGER, Severity.ADVICE),
)
_TRADE = Citation("SAE J553 type 1, cycles while the fault lasts: only behind a fuse", "seen")
_BRAKES = Citation("brakes never come and go by themselves", "common practice")


def check(study: Study) -> Iterator[Finding]:
    """Every breaker that says that it resets by itself."""
    for device in study.rig.devices:
        if not device.resets_itself:
            continue
        brake = _brake(study, device)
        is_law = study.book.name == "boat"
        if brake is None and not is_law and _has_guard_ahead(study, device):
            continue
        what = with_kind(device.kind, device.about.name)
        behind = f", and `{brake.about.name}` hangs on it" if brake is not None else ""
        severity, source = Severity.ADVICE, _TRADE
        if brake is not None:
            severity, source = Severity.DANGER, _BRAKES
        elif is_law:
            severity, source = Severity.FAULT, RULE.source
        yield RULE.finding(
            f"{what} closes again of itself after it has opened{behind}",
            device.rating_span or device.about.span,
            others=[(brake.about.span, "comes and goes with it")] if brake is not None else [],
            source=source,
            severity=severity,
            fix=Fix("one that is reset by hand, or a fuse, of the same rating"),
        )


def _brake(study: Study, device: Device) -> Load | None:
    """A load behind a breaker that is a brake, by its words."""
    users = flows_of(study).users(device.about.name)
    for load in study.rig.loads:
        if (load.circuit or load.about.name) not in users:
            continue
        circuit = study.circuit(load.circuit)
        label = load.about.label or load.about.name
        named = kept_by_name(label, circuit.label if circuit is not None else "")
        if named is not None and named.is_plain and "brake" in named.keep.what:
            return load
    return None


def _has_guard_ahead(study: Study, device: Device) -> bool:
    """Whether every battery reaches a breaker only through something else that opens for good.

    So does each tow vehicle, behind whose line stands a battery. A fuse at the far end of a cable
    does not stand ahead: what one source drives into a fault between never meets it.
    """

    def opens(edge: Edge) -> bool:
        return is_guard(edge) and not edge.resets_itself

    posts = [s.plus for s in study.rig.sources if s.stores or s.traits.own_frame]
    near = study.net.walk(posts, opens)
    return device.line not in near and device.load not in near
