"""Solar modules have fewer volts at work than the battery takes to be charged.

Counted with the modules of a string behind each other, at the volts of their greatest power,
against the least volts that hold the battery full. Where nobody has told at what volts they work,
those with nothing on them are taken for the most that they can be. Controllers are taken to step
down alone, as ordinary ones do.

*Why:* a controller that steps down passes nothing on to a battery that has more volts than its
modules. They charge it not at all, on no day, and nothing shows that but an empty battery.
"""

from collections.abc import Iterator
from math import ceil

from rigfolio.books import joined
from rigfolio.demand import UnderBattery, under_batteries
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show, show_unequal

RULE = Rule(
    "array-under-battery",
    Severity.FAULT,
    Citation("controllers that step down, as ordinary ones do", "common practice"),
    also=(Severity.UNKNOWN,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every array against every battery that its controller charges."""
    for low in under_batteries(study):
        array, bank = low.array.about, low.bank.about
        if not low.is_sure:
            yield RULE.cannot_judge(
                f"at what volts `{array.name}` works is not said, and `{bank.name}` is charged "
                f"from {show(low.from_v.value, 'V')}",
                array.span,
                others=[(bank.span, "is charged by it")],
                fix="`works at` with the volts at greatest power on the label of a module (Vmp)",
            )
            continue
        has, needs = show_unequal(low.most_v, low.from_v.value, "V")
        at = "works at" if low.works_v is not None else "has at most"
        yield RULE.finding(
            f"`{array.name}` {at} {has}, `{bank.name}` is charged from {needs}",
            array.span,
            others=[
                (bank.span, f"is charged from {needs}"),
                (low.controller.about.span, "stands between them; it is taken to step down"),
            ],
            source=joined((RULE.source, low.from_v.source)),
            fix=Fix(_more_in_series(low)),
            numbers=(("works_v", low.most_v), ("from_v", low.from_v.value)),
        )


def _more_in_series(low: UnderBattery) -> str:
    """How many modules there have to be in each string."""
    modules = low.array.modules
    module_v = low.least_v / (modules.series if modules is not None else 1)
    many = ceil(low.from_v.value / module_v)
    more = "" if low.works_v is not None else " or more"
    return (
        f"{many} modules in series, which work at {show(many * module_v, 'V')}{more}, if the input "
        f"of `{low.controller.about.name}` bears what they have in the cold with nothing on them; "
        "or a controller that steps up"
    )
