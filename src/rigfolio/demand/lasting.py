"""Starts that last: what glows or heats for minutes before it runs, with what runs beside it.

It draws too long to be let pass like the inrush of a motor, and not long enough to count for hours.
"""

from collections.abc import Iterator

from rigfolio.calc import warmed_share, warming_s
from rigfolio.demand.drop import Drop, allowed_drop_of, drops_of
from rigfolio.demand.flows import Flows, flows_of
from rigfolio.demand.shortfall import Sag, sags_of
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load
from rigfolio.operating import starts_lastingly
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.units import Size


@record
class LastingStart:
    """A load that starts for so long that it is served meanwhile: amperes [A] and time [s]."""

    load: Load
    current_a: float
    time_s: float


@record
class Overheated:
    """A wire that a lasting start makes hotter than its insulation may be, both [°C].

    `current_a` is all that runs through it then, `limit_a` what it may carry [A].
    """

    wire: Conductor
    start: LastingStart
    current_a: float
    limit_a: float
    reached_c: float
    borne_c: float


@once
def lasting_starts(study: Study) -> tuple[LastingStart, ...]:
    """The loads whose start is said to last, as far as what they draw is known."""
    flows = flows_of(study)
    starts = (lasting_start(flows, load) for load in study.rig.loads)
    return tuple(start for start in starts if start is not None)


def lasting_start(flows: Flows, load: Load) -> LastingStart | None:
    """The start of a load, if it lasts, with what the load draws by itself in some flows."""
    if not starts_lastingly(load) or load.start_s is None:
        return None
    drawn = flows.own.get(load.about.name)
    if drawn is None or isinstance(drawn.current_a, Unknown):
        return None
    return LastingStart(load, load.times_at_start * drawn.current_a, load.start_s)


@once
def starting_sags(study: Study) -> tuple[tuple[LastingStart, Sag], ...]:
    """Lasting starts that lose more volts than their load is allowed, where it does not anyway."""
    told = {sag.load.circuit or sag.load.about.name for sag in sags_of(study)}
    found = []
    for start in lasting_starts(study):
        load = start.load
        drop: Drop | None = drops_of(study).starting(load, start.current_a)
        allowed = allowed_drop_of(study, load)
        if drop is None or not allowed.is_broken_by(drop.share):
            continue
        if (load.circuit or load.about.name) not in told:
            found.append((start, Sag(load, drop, allowed)))
    return tuple(found)


@once
def overheated_by_starts(study: Study) -> tuple[Overheated, ...]:
    """The wires that a lasting start makes too hot, of each start the one that it heats most.

    Each begins as warm as what runs beside makes it. Meshes are left out: what a start adds there
    is not told apart.
    """
    found = []
    flows = flows_of(study)
    for start in lasting_starts(study):
        wires = _ways(study, flows, start.load)
        hot = [one for wire in wires if (one := _heated(study, flows, wire, wire.size, start))]
        if hot:
            found.append(max(hot, key=lambda one: one.reached_c - one.borne_c))
    return tuple(found)


def heated_by_start(study: Study, flows: Flows, wire: Conductor, size: Size) -> bool:
    """Whether a lasting start makes a wire too hot if it has a size, with what runs in flows."""
    for load in (one.load for one in lasting_starts(study)):
        start = lasting_start(flows, load)
        if start is None or all(one.name != wire.name for one in _ways(study, flows, load)):
            continue
        if _heated(study, flows, wire, size, start) is not None:
            return True
    return False


def _ways(study: Study, flows: Flows, load: Load) -> Iterator[Conductor]:
    home = flows.counts.homes.get(load.about.name)
    for edge in (*home[1].out, *home[1].back) if home is not None else ():
        if isinstance(edge, Conductor) and study.is_judged_lead(edge):
            yield edge


def _heated(
    study: Study, flows: Flows, wire: Conductor, size: Size | Unknown, start: LastingStart
) -> Overheated | None:
    """A wire after a start, if that makes it hotter than it may be."""
    limit = None if isinstance(size, Unknown) else study.carries_of(wire, size)
    home = flows.counts.homes[start.load.about.name][1]
    if limit is None or limit.value <= 0.0 or isinstance(size, Unknown):
        return None
    if home.stretches and home.is_meshed(wire.name):
        return None
    limit_a, source = limit.value * wire.count, home.source.about.name
    load = start.load
    before_a = max(flows.from_source(source, wire.name, (load, 0.0)), 0.0)
    during_a = flows.from_source(source, wire.name, (load, start.current_a))
    ambient_c, borne_c = study.heat(wire)
    hot_c = study.at_limit_c(wire, limit)
    if before_a > limit_a or during_a <= limit_a or hot_c <= ambient_c:
        return None
    ohm_per_m = study.ohm_per_m(wire, size, hot_c)
    constant_s = warming_s(size.area_m2, ohm_per_m, hot_c - ambient_c, limit.value)
    before, during = ((current_a / limit_a) ** 2 for current_a in (before_a, during_a))
    share = warmed_share(before, during, start.time_s, constant_s)
    reached_c = ambient_c + (hot_c - ambient_c) * share
    if reached_c <= borne_c + 1e-9:
        return None
    return Overheated(wire, start, during_a, limit_a, reached_c, borne_c)
