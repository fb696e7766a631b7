"""Solar modules in series give more volts than the input of their controller bears.

Their volts are those with nothing on them, on the coldest morning. It is a danger where the label
of the modules and the text bear that out: at 25 °C already, or at the `coldest` of the rig by what
the label says they gain in the cold. By the figures of a code, or where nobody has said how cold it
gets, it is advice.

*Why:* modules give their highest volts on a cold clear morning before anything draws. What is too
much for a controller destroys it at once, and may put the volts of the modules on the batteries.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Source
from rigfolio.protection import SunSide, open_circuit_v, over_input, sun_sides
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show, show_limit, show_load

RULE = Rule(
    "array-over-input",
    Severity.DANGER,
    Citation("open-circuit volts of the modules against the label of the controller", "seen"),
    also=(Severity.UNKNOWN, Severity.ADVICE),
)


def check(study: Study) -> Iterator[Finding]:
    """Every controller against the array of most volts at its input."""
    for side in sun_sides(study):
        if not side.arrays:
            continue
        unknown = [one for one in side.arrays if open_circuit_v(one) is None]
        most_v = side.controller.input_most_v
        for array in unknown:
            yield RULE.cannot_judge(
                f"the open-circuit volts of `{array.about.name}` are unknown",
                array.about.span,
                fix="read them on the label of a module",
            )
        if isinstance(most_v, float):
            yield from _judged(study, side)
        elif most_v is None or isinstance(most_v, Unknown):
            yield RULE.cannot_judge(
                f"what volts the input of `{side.controller.about.name}` bears is not said",
                side.controller.about.span,
                others=[(one.about.span, "is joined to it") for one in side.arrays],
                fix="`input` with the most volts that stand on the controller for its modules",
            )


def _judged(study: Study, side: SunSide) -> Iterator[Finding]:
    over = over_input(study, side)
    if over is None:
        return
    controller, array, most_v = side.controller, over.array, over.most_v
    name = controller.about.name
    bears = f"the input of `{name}` bears {show_limit(most_v, 'V')}"
    others = [(array.about.span, _made_of(array))]
    fix = Fix(f"fewer modules in series, or {_stronger(study, controller, over.sure_v)}")
    if over.is_sure and over.sure_v is not None:
        yield RULE.finding(
            f"`{array.about.name}` gives up to {show_load(over.sure_v, 'V')}, {bears}",
            controller.about.span,
            others=others,
            fix=fix,
            numbers=(("open_v", over.sure_v), ("limit_v", most_v)),
        )
        return
    cold = over.cold
    asked = f"; {cold.how}" if cold.how else ""
    yield RULE.finding(
        f"`{array.about.name}` may give {show_load(cold.value, 'V')} in the cold, {bears}{asked}",
        controller.about.span,
        others=others,
        source=cold.source,
        fix=Fix("say `coldest` of the rig and what the modules gain `a degree colder`")
        if cold.how
        else fix,
        numbers=(("open_v", cold.value), ("limit_v", most_v)),
        severity=Severity.ADVICE,
    )


def _stronger(study: Study, controller: Source, given_v: float | None) -> str:
    """A controller that bears more: one of the rig, whose field may have been changed over."""
    for one in study.rig.sources:
        most_v = one.input_most_v
        if one is controller or given_v is None or not isinstance(most_v, float):
            continue
        if not is_over(given_v, most_v):
            return f"a controller that bears more: `{one.about}` bears {show_limit(most_v, 'V')}"
    return "a controller that bears more"


def _made_of(array: Source) -> str:
    """What volts an array has at 25 °C, and how they come together."""
    open_v, modules = open_circuit_v(array), array.modules
    if open_v is None or modules is None:
        return ""
    many = f", {modules.series} modules in series" if modules.series > 1 else ""
    return f"{show(open_v, 'V')} at 25 °C{many}"
