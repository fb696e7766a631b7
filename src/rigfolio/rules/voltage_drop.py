"""A load gets too little voltage: its wires, out and back, lose more than the rule book allows.

*Why:* motors slow and heat, fridges and chargers draw more as volts sag, radios drop out. All of
the way counts, the feeder under the demand of all its loads and the return as well.
"""

from collections.abc import Iterator

from rigfolio.demand import Sag, sags_of, size_for
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import (
    apart,
    joined_words,
    label_of,
    name_of,
    other_gauge,
    overloaded_of,
)
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show, show_limit, show_load

RULE = Rule(
    "voltage-drop",
    Severity.FAULT,
    Citation("voltage drop limits of the rule book", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load against the drop it is allowed; of one circuit the worst.

    One that pulls the voltage to collapse has no drop: that is told elsewhere. So is a shared wire
    that carries more than it may: what all behind it lack is one fault, and that one.
    """
    for sag in sags_of(study):
        worst = sag.drop.worst
        buried = worst is not None and worst.name in overloaded_of(study)
        if not sag.drop.collapses and not buried:
            yield _finding(study, sag)


def _finding(study: Study, sag: Sag) -> Finding:
    drop, allowed, load = sag.drop, sag.allowed, sag.load
    wire = drop.worst
    others = [(wire.span, f"most of it is lost in {name_of(wire)}")] if wire else []
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
