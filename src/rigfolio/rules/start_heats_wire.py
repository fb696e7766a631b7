"""A start makes a wire hotter than its insulation may be.

A heater that glows for minutes before it runs draws many times its current: too long to be let
pass as the inrush of a motor is, too short to count for hours. How warm the copper is in the end
follows from its heat balance over that time, from what else runs through it before, and from how
much heat its copper takes. Not told where the fuse is sure to open sooner, or lets too much into
the wire anyway: those are told elsewhere. The start of an engine lasts for seconds: what it runs
through, be it cranking cable or not, as where a selector lets another bank start it, is held
against what its copper takes for so long.

*Why:* it happens at every start, and the fuse, which waits for minutes at such currents, does not
keep it away.
"""

from collections.abc import Iterator

from rigfolio.books import longest_s
from rigfolio.demand import Overheated, overheated_by_starts
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device, Load
from rigfolio.operating import starters_of
from rigfolio.protection import burns_in_a_start, exposures_by_wire, whole_start_of
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, show, show_limit, show_load, time_words
from rigfolio.wording import label_of, name_of

RULE = Rule(
    "start-heats-wire",
    Severity.FAULT,
    Citation("heat balance of the copper over the time of the start", "computed"),
    also=(Severity.DANGER,),
)


def check(study: Study) -> Iterator[Finding]:
    """The wire of each lasting start that it heats most, and each that an engine's start burns."""
    for one in overheated_by_starts(study):
        if one.wire.name not in exposures_by_wire(study) and not _opens_sooner(study, one):
            yield _finding(one)
    for wire in study.rig.conductors if starters_of(study) else ():
        start_a, load = whole_start_of(study, wire) or (0.0, None)
        if load is not None and burns_in_a_start(study, wire, start_a):
            yield _burnt(wire, start_a, load)


def _opens_sooner(study: Study, one: Overheated) -> bool:
    """Whether the device of the circuit is sure to open before the start is over."""
    from rigfolio.shorts import blow

    circuit = study.circuit(one.start.load.circuit)
    device: Device | None = study.device(circuit.device) if circuit is not None else None
    if device is None:
        return False
    window = blow(device, one.start.current_a).window
    return window is not None and window.max_s <= one.start.time_s


def _finding(one: Overheated) -> Finding:
    start, wire = one.start, one.wire
    return RULE.finding(
        f"{apart(one.current_a, one.limit_a, 'A')} for {time_words(start.time_s)} while "
        f"`{label_of(start.load)}` starts make {name_of(wire)} {one.reached_c:.0f} °C hot, "
        f"its insulation is for {one.borne_c:.0f} °C",
        wire.size_span,
        here=f"may carry {show_limit(one.limit_a, 'A')} for hours",
        others=[(start.load.about.span, f"starts at {show_load(start.current_a, 'A')}")],
        fix=Fix("thicker wire"),
        numbers=(("start_a", one.current_a), ("limit_a", one.limit_a)),
    )


def _burnt(wire: Conductor, current_a: float, load: Load) -> Finding:
    return RULE.finding(
        f"{show_load(current_a, 'A')} of the start of `{label_of(load)}` run through "
        f"{name_of(wire)}, its copper takes that for less than {show(longest_s().value, 's')}",
        wire.size_span,
        others=[(load.about.span, "starts here")],
        source=longest_s().source,
        fix=Fix(
            "thicker cable, out and back" if wire.cranking
            else "cable as thick as the starter's own, with `cranking` written on it"
        ),
        severity=Severity.DANGER,
        numbers=(("start_a", current_a), ("longest_s", longest_s().value)),
    )  # fmt: skip
