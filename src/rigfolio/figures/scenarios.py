"""What a load loses on its way by what else is on: alone, with all that runs for hours, with all.

All is counted from the posts of its source, out and back, copper as hot as the scenario makes it.
"""

import math
from collections.abc import Iterator

from rigfolio.demand import Drop, allowed_drop_of, drops_of
from rigfolio.findings import Unknown
from rigfolio.model import Load
from rigfolio.operating import (
    STIFF_OHM,
    Scenario,
    alone,
    at_once,
    drawn_in,
    for_hours,
    homes_of,
    point_in,
    source_ohm,
)
from rigfolio.record import record
from rigfolio.reports import Amount
from rigfolio.study import Study
from rigfolio.wording import DIGITS, DRAWN_IN


@record
class ScenarioDrops:
    """The drop of one load in each scenario [V]; infinite where it pulls the volts to collapse.

    None where what decides is not known; `scenarios` are those that the load is on in by itself,
    which the input of a converter never is. `expected` is what is judged,
    with all on that can be expected together, against `share` of the volts of its system.
    """

    load: Load
    nominal_v: float
    alone_v: float | None
    hours_v: float | None
    at_once_v: float | None
    expected: Drop | None
    share: float
    scenarios: frozenset[str]


def drops_by_scenario(study: Study) -> Iterator[ScenarioDrops]:
    """Every load that a source serves."""
    homes = homes_of(study)
    inputs = {source.inlet for source in study.rig.sources if source.inlet}
    together = {"hours": for_hours(study), "all": at_once(study)}
    for load in study.rig.loads:
        name = load.about.name
        if name not in homes:
            continue
        on = {key: one for key, one in together.items() if name in one.loads - inputs}
        lost = {key: _together_v(study, load, one) for key, one in on.items()}
        drop = drops_of(study).of(load)
        yield ScenarioDrops(
            load=load,
            nominal_v=study.nominal_v(load.plus),
            alone_v=None if drop is None else _alone_v(study, load),
            hours_v=lost.get("hours"),
            at_once_v=lost.get("all"),
            expected=drop,
            share=allowed_drop_of(study, load).value,
            scenarios=frozenset(on),
        )


def _alone_v(study: Study, load: Load) -> float | None:
    drawn, source = (
        drawn_in(study, load, alone(study, load)),
        homes_of(study)[load.about.name].source,
    )
    if isinstance(drawn.current_a, Unknown):
        return None
    if drawn.collapses:
        return math.inf
    inner_ohm = source_ohm(source) or STIFF_OHM
    return source.voltage_v - inner_ohm * drawn.current_a - drawn.volts


def _together_v(study: Study, load: Load, scenario: Scenario) -> float | None:
    point = point_in(study, scenario)
    if load in point.collapsed:
        return math.inf
    if load in point.unknown_loads or point.doubts(load):
        return None
    return point.drop_v(load)


def said_draw(load: Load) -> Amount | None:
    """What the text says that a load draws; of an inverter what that takes of its input."""
    if isinstance(load.value, Unknown):
        return None
    digits = DIGITS if load.stated_w is None else 4
    return Amount(load.value, DRAWN_IN[load.kind], digits, "load")
