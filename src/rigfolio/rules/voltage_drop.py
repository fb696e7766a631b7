"""A load gets too little voltage: its wires, out and back, lose more than the rule book allows.

*Why:* motors slow and heat, fridges and chargers draw more as volts sag, radios drop out. All of
the way counts, the feeder under the demand of all its loads and the return as well. A start that
the text says to last for half a minute or more, as a heater's that glows, is held to the same.
"""

from collections.abc import Iterator

from rigfolio.demand import LastingStart, Sag, collapsed_of, sags_of, size_for, starting_sags
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import other_gauge, told_of_wire
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, show, show_limit, show_load, time_words
from rigfolio.wording import joined_words, label_of, lost_words, name_of

RULE = Rule(
    "voltage-drop",
    Severity.FAULT,
    Citation("voltage drop limits of the rule book", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load against the drop it is allowed; of one circuit the worst.

    One that pulls the voltage to collapse has no drop: that is told elsewhere. So is a wire
    that several share and that carries more than it may: what all behind it lack is one fault, and
    that one.
    """
    for sag in sags_of(study):
        buried = told_of_wire(study, sag.drop.worst)
        is_told = sag.drop.collapses or sag.load.about.name in collapsed_of(study)
        if not is_told and not buried:
            yield _finding(study, sag)
    for start, sag in starting_sags(study):
        if sag.load.about.name not in collapsed_of(study):
            yield _starting(start, sag)


def _starting(start: LastingStart, sag: Sag) -> Finding:
    drop, allowed, wire = sag.drop, sag.allowed, sag.drop.worst
    return RULE.finding(
        f"`{label_of(sag.load)}` loses {show_load(drop.volts, 'V')}, "
        f"{apart(drop.share, allowed.value, '%')} of {show(drop.nominal_v, 'V')}, while it starts "
        f"for {time_words(start.time_s)}; {show_limit(allowed.value, '%')} are allowed",
        sag.load.about.span,
        here=f"starts at {show_load(start.current_a, 'A')}; {drop.origin}",
        others=[(wire.span, lost_words(wire, drop.worst_v, drop.volts))] if wire else [],
        source=allowed.source,
        fix=Fix("thicker wire out and back, or a shorter way"),
        numbers=(("drop_v", drop.volts), ("share", drop.share), ("allowed", allowed.value)),
    )


def _finding(study: Study, sag: Sag) -> Finding:
    drop, allowed, load = sag.drop, sag.allowed, sag.load
    wire = drop.worst
    others = [(wire.span, lost_words(wire, drop.worst_v, drop.volts))] if wire else []
    return RULE.finding(
        f"`{label_of(load)}` loses {show_load(drop.volts, 'V')}, "
        f"{apart(drop.share, allowed.value, '%')} of {show(drop.nominal_v, 'V')}; "
        f"{show_limit(allowed.value, '%')} are allowed",
        load.about.span,
        here=drop.origin,
        others=others,
        source=allowed.source,
        fix=_fix(study, sag),
        numbers=(("drop_v", drop.volts), ("share", drop.share), ("allowed", allowed.value)),
    )


def _fix(study: Study, sag: Sag) -> Fix:
    found = size_for(study, sag)
    if found is None:
        return Fix("a shorter way: no thicker wire in stock mends it")
    size, wires = found
    circuit = sag.load.circuit
    if circuit and all(wire.circuit == circuit for wire in wires):
        which = f"the wires of `{circuit}`, out and back"
    else:
        which = joined_words([name_of(wire) for wire in wires])
    shorter = "a shorter way, or loads fed elsewhere"
    return Fix(f"`{size.text}` for {which}", "ask", other_gauge(wires, size), otherwise=shorter)
