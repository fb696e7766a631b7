"""A short at the far end of a wire lasts longer than the copper takes it.

The least current that a short can draw is that of hot copper and a weak battery. What opens by the
times of its standard is then too slow for the wire, or the current lies between the rating and the
first time that the standard sets, and nothing opens at all.

*Why:* the fuse was chosen for the wire and does protect it from an overload of hours. In a short
the wire has seconds.
"""

from collections.abc import Iterator
from math import isinf
from typing import TYPE_CHECKING

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Circuit
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of, knows_shorts
from rigfolio.study import Study
from rigfolio.units import brief_words, show_load
from rigfolio.wording import name_of

if TYPE_CHECKING:
    from rigfolio.shorts import Case, Stress

RULE = Rule(
    "short-burns-wire",
    Severity.DANGER,
    Citation("adiabatic limit of copper against the opening times of its fuse", "computed"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """The far end of every circuit that has a fuse, where the figures are known."""
    if not knows_shorts(study):
        return
    from rigfolio.shorts import is_timed

    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        # One without a table may open long before a main that has one: nothing is sure then.
        found = _worst(study, circuit) if device is not None and is_timed(device) else None
        if found is not None:
            yield _finding(circuit, *found)


def _worst(study: Study, circuit: Circuit) -> "tuple[Case, Stress] | None":
    """The wire of a circuit that is surest to burn, with the case in which it does."""
    device = study.device(circuit.device)
    if device is None or not isinstance(device.rating_a, float):
        return None
    own = {*circuit.wires, *circuit.returns}
    for name in circuit.loads:
        load = study.rig.by_name.loads[name]
        fault = faults_of(study).at(load.plus, load.minus)
        for case in (fault.hottest, fault.coldest) if fault is not None else ():
            if case.current_a is None or case.opens is None:
                continue
            held = [one for one in case.stresses_of(own) if _burns(one)]
            if held:
                return case, min(held, key=lambda one: one.withstand_s or 0.0)
    return None


def _burns(stress: "Stress") -> bool:
    """Whether it is sure to burn: beyond some seconds heat leaves the wire and all is otherwise."""
    from rigfolio.books import longest_s

    takes_s = stress.withstand_s
    return stress.holds is False and takes_s is not None and takes_s <= longest_s().value


def _finding(circuit: Circuit, case: "Case", stress: "Stress") -> Finding:
    from rigfolio.shorts import gates_of

    assert case.opens is not None  # noqa: S101
    device = case.opens.device
    table = gates_of(device)
    takes = brief_words(stress.withstand_s or 0.0)
    lasts = (
        "nothing opens"
        if stress.clears_s is None or isinf(stress.clears_s)
        else f"`{device.about.name}` may take {brief_words(stress.clears_s)}"
    )
    return RULE.finding(
        f"a short at the end of `{circuit.place}` draws {show_load(stress.current_a, 'A')}: "
        f"{name_of(stress.wire)} takes that for {takes}, {lasts}",
        stress.wire.span,
        others=[(device.rating_span or device.about.span, "opens too late")],
        source=case.opens.source,
        fix=Fix(
            "a smaller fuse where the load allows it; else thicker or shorter wire, so that a "
            "short draws more"
        ),
        # Gates that nobody has seen in print are not enough to call it a danger.
        severity=None if table is None or table.is_firm else Severity.ADVICE,
        numbers=(("short_a", stress.current_a), ("takes_s", stress.withstand_s or 0.0)),
    )
