"""A wire is thinner than the rule book lets any wire be, however little it carries.

*Why:* a thin wire breaks where it is crimped and rubs through where it is held. Its fuse may be
right and its volts may do; it fails as a piece of string does.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.protection import below_least, other_gauge
from rigfolio.rule import Rule
from rigfolio.standard_sizes import sizes_like
from rigfolio.study import Study
from rigfolio.wording import name_of

RULE = Rule(
    "wire-below-least",
    Severity.FAULT,
    Citation("33 CFR 183.425(d) to (f)", "seen"),
    frozenset({"boat"}),
)
_MM2 = 1e6


def check(study: Study) -> Iterator[Finding]:
    """Every wire but the short leads of fixtures and returns that the text does not state."""
    for wire in study.rig.conductors:
        least = None if wire.assumed else below_least(study, wire)
        if least is None or isinstance(wire.size, Unknown):
            continue
        fits = next(iter(sizes_like(wire, study.book)), None)
        yield RULE.finding(
            f"{name_of(wire)} is {wire.size.text}, no wire may be thinner than "
            f"{least.how or f'{least.value * _MM2:.2f} mm²'}",
            wire.size_span,
            source=least.source,
            fix=Fix("a thicker one")
            if fits is None
            else Fix(f"`{fits.text}`", "ask", other_gauge([wire], fits), otherwise="a thicker one"),
            numbers=(("area_m2", wire.size.area_m2), ("least_m2", least.value)),
        )
