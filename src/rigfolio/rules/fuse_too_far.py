"""A fuse protects the wire, but sits too far along it from where the supply connects.

*Why:* everything before the fuse is unprotected. The rule books allow a short piece, measured along
the wire.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.protection import Exposure, exposures_of, sure_a, unfused_of
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import distance, listed, name_of, place

RULE = Rule(
    "fuse-too-far",
    Severity.DANGER,
    Citation("distance from the supply to the protecting device", "common practice"),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every way to a device that comes too late, once, told at the wire where it begins."""
    groups: dict[tuple[str, ...], list[Exposure]] = {}
    bare = {e.wire.name for e in exposures_of(study) if e.fault == "bare" and _is_alone(study, e)}
    for exposure in exposures_of(study):
        sources = {source.about.name for source in exposure.sources}
        is_told = bool(sources) and sources.issubset(unfused_of(study))
        if exposure.fault == "far" and not is_told and exposure.wire.name not in bare:
            names = [device.about.name for device in exposure.devices]
            names += [source.about.name for source in exposure.sources]
            groups.setdefault(tuple(names), []).append(exposure)
    for group in groups.values():
        yield _finding(study, sorted(group, key=lambda one: one.before_m))


def _is_alone(study: Study, exposure: Exposure) -> bool:
    """Whether nothing protects a wire from a source at its other end, of which a rule tells."""
    return any(source.about.name not in unfused_of(study) for source in exposure.sources)


def _finding(study: Study, group: list[Exposure]) -> Finding:
    first = group[0]
    wire, device = first.wire, first.devices[0]
    run, reach = distance(first.run_m, wire, first.reach.value), distance(first.reach.value, wire)
    names = listed(d.about.name for d in first.devices)
    return RULE.finding(
        f"{run} along {name_of(wire)} to {names} that protects it, {reach} are allowed",
        wire.span,
        here=f"unprotected for {run} from {place(study.rig, first.start)}",
        others=[
            *((d.rating_span or d.about.span, "protects it") for d in first.devices),
            *((one.wire.span, "on the way") for one in group[1:]),
        ],
        source=first.reach.source,
        fix=_fix(study, first, device, reach),
        numbers=(("run_m", first.run_m), ("reach_m", first.reach.value)),
    )


def _fix(study: Study, exposure: Exposure, device: Device, reach: str) -> Fix:
    """Move the device, or add one where it also stands against a source on its other side."""
    where = f"within {reach} of {place(study.rig, exposure.start)}"
    beyond = study.net.walk([device.line, device.load], lambda edge: edge is exposure.wire)
    others = [s for s in study.rig.sources if s not in exposure.sources and s.plus in beyond]
    if not others and len(exposure.devices) == 1:
        return Fix(f"move `{device.about.name}` to {where}")
    most = rating_below(sure_a(exposure.limit))
    if most is None:
        return Fix(f"thicker wire, and one more fuse to match it, {where}")
    return Fix(f"one more fuse, {show_limit(most, 'A')} at most, {where}")
