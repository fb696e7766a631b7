"""The wire that was found is not the one that belongs there.

A gauge that is written into a text for a wire that is to come does not change the wire that is
there: until it is pulled, what was found is what carries the current. So it is judged as any wire
is, by what stands before it, by what may come back through it and by what its loads draw. Where it
burns behind its fuse a smaller one is the way out until then, as far as its loads can live with it.

*Why:* who reads the text alone takes the thin wire for the thick one, and puts its fuse in.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Span, Unknown
from rigfolio.model import Conductor, Device, is_found_thinner, thinner_of
from rigfolio.protection import (
    Exposure,
    exposures_by_wire,
    overload_back,
    overload_out,
    returns_of,
    smaller_device,
    too_much_back,
    until_pulled,
)
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.study import Study, as_found, fused_as_found
from rigfolio.units import show_against
from rigfolio.wording import gauge_words, may_bear

RULE = Rule(
    "wrong-wire-found",
    Severity.FAULT,
    Citation("the wire that is found is compared with what belongs there", "common practice"),
    also=(Severity.DANGER, Severity.ADVICE, Severity.UNKNOWN),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire of which the text says what was found; out and back on one line are told once."""
    lines: dict[Span, list[Conductor]] = {}
    for wire in study.rig.conductors:
        if wire.found is not None:
            lines.setdefault(wire.span, []).append(wire)
    for wires in lines.values():
        stated = [wire for wire in wires if not wire.assumed]
        if not stated:
            continue
        wire = stated[0]
        if isinstance(wire.found, Unknown):
            yield RULE.cannot_judge(f"which wire is in place of `{wire.name}` now is unknown",
                                    wire.span, fix="read its gauge, or measure it")  # fmt: skip
        elif wire.found != wire.size:
            yield _finding(study, stated)


def _finding(study: Study, wires: list[Conductor]) -> Finding:
    """What is said of the wires of a line, in the words of the first that is in danger."""
    told = ((wire, why) for wire in wires if (why := _danger(study, wire)))
    wire, danger = next(told, (wires[0], ""))
    assert not isinstance(wire.found, Unknown)  # noqa: S101
    assert wire.found is not None  # noqa: S101
    is_thinner = is_found_thinner(wire)
    severity = Severity.DANGER if danger else None if is_thinner else Severity.ADVICE
    found = RULE.finding(
        f"{wire.found.text} found in place of `{wire.name}`, "
        f"{gauge_words(wire)} belongs there{danger}",
        wire.span,
        fix=_fix(study, wire, until_pulled(study, wire) if danger else ()),
        severity=severity,
        numbers=(("found_mm2", wire.found.area_m2 * 1e6),),
    )
    # Where nothing burns only the wire is left to be pulled.
    return replace(found, until_pulled=is_thinner and not danger)


def _fix(study: Study, wire: Conductor, before: tuple[tuple[Device, float | None], ...]) -> Fix:
    """What belongs there; until then a smaller device, where one alone is too large."""
    last = "then take `found` out of the text"
    if isinstance(wire.size, Unknown):
        until, pull = "until what belongs there is pulled", "find out what belongs there, pull that"
    else:
        until, pull = f"until {gauge_words(wire)} is pulled", f"pull {gauge_words(wire)}"
    if len(before) != 1:
        return Fix(f"{pull}, {last}")
    device, most_a = before[0]
    if most_a is None:
        return Fix(f"{pull}, {last}; until then no {device.kind} serves: leave it out")
    smaller = smaller_device(study, device, most_a, otherwise=f"{pull}, {last}")
    # It is for a person to decide whether the wire is not pulled at once.
    return replace(smaller, kind="ask", text=f"{until}, {smaller.text}; {last}")


def _danger(study: Study, wire: Conductor) -> str:
    """Why the wire that is there burns, with figures; empty where it does not, or is no thinner."""
    if not is_found_thinner(wire):
        return ""
    there = as_found(study)
    wire = thinner_of(wire)
    exposed = exposures_by_wire(there).get(wire.name)
    if exposed:
        return _unguarded(exposed[0])
    fused = fused_as_found(there)
    limit = too_much_back(fused, wire)
    if limit is not None:
        back = show_against(returns_of(fused)[wire.name].current_a, limit.value, "A")
        return f", it {may_bear(limit, back[1])}, {back[0]} can come back through it"
    over = overload_out(there, wire) or overload_back(there, wire)
    if over is None:
        return ""
    drawn, may = show_against(over.demand_a, over.limit.value, "A")
    return f", it {may_bear(over.limit, may)}, {drawn} runs through it"


def _unguarded(exposed: Exposure) -> str:
    limit = exposed.limit
    if exposed.fault != "over":
        return f", it {may_bear(limit)} and no fuse guards it"
    through, may = show_against(exposed.current_a, limit.value, "A")
    return f", it {may_bear(limit, may)} behind {through}"
