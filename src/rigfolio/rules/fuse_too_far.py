"""A fuse protects the wire, but sits too far along it from where the supply connects.

*Why:* everything before the fuse is unprotected. The rule books allow a short piece, measured along
the wire.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    Exposure,
    behind_a_missing_fuse,
    exposures_of,
    missing_fuses,
    sure_a,
    unfused_of,
)
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import distance, listed, listed_wires, name_of, place

RULE = Rule(
    "fuse-too-far",
    Severity.DANGER,
    Citation("distance from the supply to the protecting device", "common practice"),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every way to a device that comes too late, once, told at the wire where it begins.

    Where it does so only for want of a fuse that is told to be missing, it is told there.
    """
    groups: dict[tuple[str, ...], list[Exposure]] = {}
    bare = {e.wire.name for e in exposures_of(study) if e.fault == "bare" and _is_alone(study, e)}
    for exposure in exposures_of(study):
        sources = {source.about.name for source in exposure.sources}
        is_told = bool(sources) and sources.issubset(unfused_of(study))
        is_told |= (exposure.wire.name, exposure.end) in behind_a_missing_fuse(study)
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
        f"{run} along {listed_wires(first.way)} to {names} that protects it, {reach} are allowed",
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
    if lacking := _lacking(study, exposure):
        return _beside(study, exposure, lacking)
    beyond = study.net.walk([device.line, device.load], lambda edge: edge is exposure.wire)
    others = [s for s in study.rig.sources if s not in exposure.sources and s.plus in beyond]
    if not others and len(exposure.devices) == 1:
        return Fix(f"move `{device.about.name}` to {where}")
    most = rating_below(sure_a(exposure.limit))
    if most is None:
        return Fix(f"thicker wire, and one more fuse to match it, {where}")
    return Fix(f"one more fuse, {show_limit(most, 'A')} at most, {where}")


def _beside(study: Study, exposure: Exposure, lacking: list[Conductor]) -> Fix:
    """A fuse where the wire itself begins: the one that is missing before it is not enough."""
    own = f"for {name_of(exposure.wire)} at {place(study.rig, exposure.end)}"
    verb = "lacks" if len(lacking) == 1 else "lack"
    those = f"; the one that {listed_wires(lacking)} {verb} is not enough for it"
    most = rating_below(sure_a(exposure.limit))
    if most is None:
        return Fix(f"thicker wire, and one more fuse to match it, {own}{those}")
    return Fix(f"one more fuse, {show_limit(most, 'A')} at most, {own}{those}")


def _lacking(study: Study, exposure: Exposure) -> list[Conductor]:
    """The wires on the way from the supply of which it is told that they lack a fuse."""
    told = [one.wire for missing in missing_fuses(study) for one in missing.wires]
    return [wire for wire in exposure.way if wire in told and wire is not exposure.wire]
