"""Loads that hold their watts pull the voltage down until nothing holds it any more.

Drivers, chargers and inverters draw more as their volts sag. Beyond half of the voltage there is no
current at which supply and load agree: the load drops out, starts again and drops out, and takes
with it what hangs on the same wires.

*Why:* no fuse opens, since nothing draws too much for long. What is seen is a lamp that flickers, a
refrigerator that never starts, and copper that grows warm.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of, lost_at_once
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Load
from rigfolio.operating import alone, at_once, drawn_in, point_in
from rigfolio.protection import label_of
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of
from rigfolio.study import Study
from rigfolio.units import show_against, show_limit, show_load

RULE = Rule(
    "voltage-collapse",
    Severity.FAULT,
    Citation("no solution of Kirchhoff's laws with loads of constant power", "computed"),
)
# A load of constant power collapses where its source and wires take half of the voltage. At the
# nominal voltage all loads then still draw so much that these would take a quarter; less needs no
# further look.
_SUSPECT = 0.2


def check(study: Study) -> Iterator[Finding]:
    """Loads that the network cannot feed with what runs beside them."""
    found = _collapsed(study)
    for load in study.rig.loads:
        if load.about.name in found and isinstance(load.value, float) and load.kind == "power":
            yield _finding(study, load, load.value)


def _collapsed(study: Study) -> set[str]:
    """Loads by name that collapse with all on at once, and those of a moment that do it anyway.

    Of several that bring each other down the operating point names the one that it can do without;
    with that mended the others are judged anew.
    """
    expected = {name for name, drawn in flows_of(study).expected.items() if drawn.collapses}
    scenario = at_once(study)
    found = expected - scenario.loads
    if expected or any(_may_collapse(study, load) for load in study.rig.loads):
        found |= {load.about.name for load in point_in(study, scenario).collapsed}
    return found or expected


def _finding(study: Study, load: Load, asked_w: float) -> Finding:
    most_w = _most_w(study, load)
    asks = (
        f"`{label_of(load)}` asks for {show_load(asked_w, 'W')} and pulls the voltage to collapse"
    )
    if most_w is not None and most_w < asked_w:
        asks += f": source and copper give {show_against(asked_w, most_w, 'W')[1]} at most"
    elif most_w is not None and drawn_in(study, load, alone(study, load)).collapses:
        most = show_limit(most_w, "W")
        asks += f" by itself: full batteries and cold copper give {most} at most"
    elif most_w is not None:
        asks += f" beside what else runs: alone it could have {show_limit(most_w, 'W')} at most"
    return RULE.finding(
        asks,
        load.about.span,
        fix=Fix("thicker wires or a shorter way, so that they take less than a tenth of it"),
        numbers=(("power_w", asked_w), *((("most_w", most_w),) if most_w is not None else ())),
    )


def _most_w(study: Study, load: Load) -> float | None:
    """The most that cold copper and full batteries give to a load that is on alone [W].

    A source gives the most where half of its voltage is lost: a quarter of open voltage times
    short-circuit current. What is not known counts as no resistance, so that it is never too low.
    """
    from rigfolio.books import full_v

    case = faults_of(study).coldest_at(load.plus, load.minus)
    bound_a = case.bound_a if case is not None else None
    if case is None or bound_a is None:
        return None
    feeding = {name for name, own_a in case.sources if own_a > 0.0}
    open_v = max(
        full_v(source.chemistry, source.voltage_v).value
        if source.stores else source.voltage_v
        for source in study.rig.sources
        if source.about.name in feeding
    )  # fmt: skip
    return open_v * bound_a / 4.0


def _may_collapse(study: Study, load: Load) -> bool:
    if load.kind != "power" or load.duty == "momentary":
        return False
    return lost_at_once(flows_of(study), load) >= _SUSPECT
