"""A load is made for other volts than the system that feeds it.

Told where its plate names volts of another system, 24 V on 12 V or 12 V on 24 V: volts that the
charging of one system reaches are the same system's.

*Why:* at twice its volts a lamp or a radio is gone in a second and a heater gives four times its
heat; at half of them a motor stands still and warms, and electronics switch off.
"""

from collections.abc import Iterator

from rigfolio.books import are_one_system
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import label_of

RULE = Rule(
    "load-volts-unfit",
    Severity.FAULT,
    Citation("volts of the plate against those of the system", "common practice"),
    also=(Severity.DANGER,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load that says what volts it is made for; too many volts are a danger."""
    for load in study.rig.loads:
        system_v, made_v = study.volts.get(load.plus), load.made_for_v
        if made_v is None or system_v is None or are_one_system(system_v, made_v):
            continue
        yield RULE.finding(
            f"`{label_of(load)}` is made for {show(made_v, 'V')}, its circuit has "
            f"{show(system_v, 'V')}",
            load.about.span,
            fix=Fix(f"one made for {show(system_v, 'V')}, or a converter to {show(made_v, 'V')}"),
            numbers=(("made_for_v", made_v), ("system_v", system_v)),
            severity=Severity.DANGER if system_v > made_v else None,
        )
