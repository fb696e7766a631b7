"""Loads that hold their watts pull the voltage down until nothing holds it any more.

Drivers, chargers and inverters draw more as their volts sag. Beyond half of the voltage there is no
current at which supply and load agree: the load drops out, starts again and drops out, and takes
with it what hangs on the same wires.

*Why:* no fuse opens, since nothing draws too much for long. What is seen is a lamp that flickers, a
refrigerator that never starts, and copper that grows warm.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Load
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import label_of
from rigfolio.units import show

RULE = Rule(
    "voltage-collapse",
    Severity.FAULT,
    Source("no solution of Kirchhoff's laws with loads of constant power", "computed"),
)
# A load of constant power collapses where its wires take half of the voltage. At the nominal
# voltage it then still draws so much that they would take a quarter; less needs no further look.
_SUSPECT = 0.2


def check(study: Study) -> Iterator[Finding]:
    """Loads that the network cannot feed with what runs beside them."""
    if not any(_may_collapse(study, load) for load in study.rig.loads):
        return
    from rigfolio.study.operating import operating

    steady = {load.about.name for load in study.rig.loads if load.duty != "momentary"}
    found = operating(study, loads=steady)
    for load in found.collapsed:
        asked_w = load.value if isinstance(load.value, float) else 0.0
        yield RULE.finding(
            f"`{label_of(load)}` asks for {show(asked_w, 'W')} and pulls the voltage to collapse",
            load.about.span,
            fix=Fix("thicker wires or a shorter way, so that they take less than a tenth of it"),
            numbers=(("power_w", asked_w),),
        )


def _may_collapse(study: Study, load: Load) -> bool:
    if load.kind != "power" or load.duty == "momentary":
        return False
    drop = study.drops.of(load)
    return drop is not None and drop.share >= _SUSPECT
