"""Demand at every level: sources, main devices, panels and circuits.

Connected is all loads at once; continuous what runs for hours; simultaneous what can be expected
at one time, with the share of occasional loads that the rule book counts. Of several sources that
can feed a level, the one that makes it carry most decides; no source drives more than its limit.
What chargers drive into batteries through a device or wire counts there where it is more.
"""

from collections.abc import Collection, Iterable, Mapping
from typing import Literal

from rigfolio.demand.counting import OneAtATime, Tally, count_load
from rigfolio.demand.flows import Flows, flows_of
from rigfolio.model import Circuit, Device, Load, Panel, Source
from rigfolio.network import Way, edge_name, heaviest
from rigfolio.operating import user_of
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.units import is_over

Level = Literal["source", "device", "panel", "circuit"]
_HOURS = 3.0 / 24.0
"""From this share of a day on a load is one that runs on for hours."""
_What = tuple[Level, str, str]
"""Level, name and label."""
_Flow = tuple[Tally, float]
"""What runs from a source, and what that can drive [A]."""


@record
class LevelDemand:
    """What one level must carry [A]: connected, continuous, simultaneous.

    `rating_a` is what it may carry at one time, or what it may give `for_hours`. `unknown` are
    loads by name, and circuits of which nobody has read what hangs on them by place.
    """

    level: Level
    name: str
    label: str
    connected_a: float
    continuous_a: float
    simultaneous_a: float
    rating_a: float | None
    unknown: tuple[str, ...]
    for_hours: bool = False

    @property
    def of_rating(self) -> float | None:
        """What it must carry over its rating [-]; None where either is not known."""
        carried_a = self.continuous_a if self.for_hours else self.simultaneous_a
        is_known = bool(carried_a) or not self.unknown
        return carried_a / self.rating_a if self.rating_a and is_known else None


def demand_by_level(study: Study) -> tuple[LevelDemand, ...]:
    """Connected, continuous and simultaneous demand of sources, devices, panels and circuits.

    Solar modules are left out: no load runs from them but by a controller.
    """
    rig = study.rig
    return (
        *(_of_source(study, one) for one in rig.sources if not one.traits.by_light),
        *(
            _of_device(study, name, devices)
            for name, devices in _by_name(d for d in rig.devices if not d.in_slot).items()
        ),
        *(_of_panel(study, panel) for panel in rig.panels),
        *(_of_circuit(study, circuit) for circuit in rig.circuits),
    )


@once
def _told_for_hours(study: Study) -> Mapping[str, float]:
    """What the text says to run on for hours, of circuits and of loads that belong to none [A].

    What a charger or a converter takes by a line of its own is left out: its maker chooses that
    fuse.
    """
    inputs = {source.inlet for source in study.rig.sources if source.inlet}
    own, found = flows_of(study).own, dict[str, float]()
    told = {
        one.about.name: one for one in study.rig.loads
        if one.about.name in own and one.about.name not in inputs and _runs_on(one)
    }  # fmt: skip
    counted = heaviest(study.rig, told, lambda name: own[name].known_a)
    for name, load in told.items():
        if name in counted:
            user = user_of(load)
            found[user] = found.get(user, 0.0) + own[load.about.name].known_a
    return found


def _runs_on(load: Load) -> bool:
    """Whether the text says that a load runs without end, or for some hours of a day."""
    is_long = load.day_share is not None and not is_over(_HOURS, load.day_share)
    is_short = load.day_share is not None and not is_long
    return not load.traits.pauses and (is_long or (load.runs_on and not is_short))


def told_hours_a(study: Study, edge: str) -> float:
    """What the text says to run on for hours through a wire or device of one circuit [A].

    Where several circuits hang on it nothing is told: they need not run together. Nor is it of a
    charger's own line.
    """
    users = set() if flows_of(study).is_charging_line(edge) else flows_of(study).users(edge)
    return _told_for_hours(study).get(next(iter(users)), 0.0) if len(users) == 1 else 0.0


def least_rated_a(study: Study, edge: str) -> float:
    """The least that a device in the place of some wire or device must be rated [A].

    It carries what runs at one time, and what the text says to run on for hours within the share of
    its rating that it carries so long. What chargers drive counts as it is.
    """
    hours_a = told_hours_a(study, edge) / study.book.continuous_share().value
    return max(flows_of(study).demand(edge).current_a, hours_a)


def _of_source(study: Study, source: Source) -> LevelDemand:
    flows = flows_of(study)
    fed = [
        (load, way) for load in study.rig.loads
        for way in flows.ways.get(load.about.name, ()) if way.source is source
    ]  # fmt: skip
    starters = flows.counts.starters
    starts = [one for one in fed if one[0].about.name in starters]
    every = [one for one in fed if one[0].about.name not in starters]
    loads = [load for load, _ in every]
    limit_a = source.limit_a if isinstance(source.limit_a, float) else None
    most_a = flows.counts.limits_a[source.about.name]
    found: list[_Flow] = []
    for counted in dict.fromkeys(OneAtATime(study.rig).heaviest(loads, flows.own)):
        whole = _all_of(flows, source, every, counted)
        if source.about.name in flows.counts.unread and whole.circuits:
            most_a = 0.0
            whole.unknown.append(source.about.name)
        whole.unknown += flows.unread.get(source.about.name, ())
        for load, _ in starts if source.stores else ():
            whole.miss(load)
        found.append((whole, most_a))
    what: _What = ("source", source.about.name, source.about.label)
    return _of_maker(source, _level(what, found, flows.counts.share, limit_a))


def _all_of(
    flows: Flows, source: Source, every: Iterable[tuple[Load, Way]], counted: Collection[str]
) -> Tally:
    """What some of the loads of a source, by name, draw of it together."""
    whole = Tally()
    for load, way in every:
        name, own = load.about.name, Tally()
        if name in counted:
            count_load([own], load, flows.own[name], flows.expected[name])
        else:
            own.know(load)
        whole.add_part(own, flows.counts.parts(way).get(source.about.name, 1.0))
    return whole


def _of_maker(source: Source, found: LevelDemand) -> LevelDemand:
    """The same held against what the maker of a battery allows, for hours or at one time.

    Where both are known the one counts of which it takes the larger part.
    """
    told = [(source.hours_a, found.continuous_a), (source.cut_off_a, found.simultaneous_a)]
    known = [(asked_a / most_a, most_a, most_a is source.hours_a)
             for most_a, asked_a in told if most_a]  # fmt: skip
    if not known:
        return found
    _, most_a, for_hours = max(known)
    return replace(found, rating_a=most_a, for_hours=for_hours)


def _of_device(study: Study, name: str, devices: tuple[Device, ...]) -> LevelDemand:
    what: _What = ("device", name, devices[0].about.label)
    return _of_edge(study, what, name, _known(devices[0].rating_a))


def _of_panel(study: Study, panel: Panel) -> LevelDemand:
    slots = [d.about.name for d in study.rig.devices if d.in_slot and d.line == panel.bus]
    tallies = flows_of(study).together(slots)
    name, label = panel.about.name, panel.about.label
    found = _level(
        ("panel", name, label), tallies, flows_of(study).counts.share, _known(panel.total_a)
    )
    unread = (place for slot in slots for place in flows_of(study).unread.get(slot, ()))
    return replace(found, unknown=tuple(dict.fromkeys((*found.unknown, *unread))))


def _of_circuit(study: Study, circuit: Circuit) -> LevelDemand:
    device = study.device(circuit.device) if circuit.device else None
    edge = edge_name(device) if device is not None else next(iter(circuit.wires), "")
    rating = _known(device.rating_a) if device is not None else None
    return _of_edge(study, ("circuit", circuit.place, circuit.label), edge, rating)


def _of_edge(study: Study, what: _What, edge: str, rating_a: float | None) -> LevelDemand:
    """What runs through one device or wire; what charges through it does so for hours."""
    demand = flows_of(study).demand(edge)
    continuous_a = max(demand.steady_a, demand.charge_a)
    return LevelDemand(
        *what, demand.connected_a, continuous_a, demand.current_a, rating_a, demand.unknown
    )


def _level(
    what: _What, found: Iterable[_Flow], share: float, rating_a: float | None
) -> LevelDemand:
    level, name, label = what
    flows = tuple(found)
    return LevelDemand(
        level=level,
        name=name,
        label=label,
        connected_a=max((tally.connected_a for tally, _ in flows), default=0.0),
        continuous_a=max(
            (min(tally.continuous_a, bound_a) for tally, bound_a in flows), default=0.0
        ),
        simultaneous_a=max(
            (min(tally.demand_a(share), bound_a) for tally, bound_a in flows), default=0.0
        ),
        rating_a=rating_a,
        unknown=tuple(dict.fromkeys(name for tally, _ in flows for name in tally.unknown)),
    )


def _known(value: object) -> float | None:
    return value if isinstance(value, float) else None


def _by_name(devices: Iterable[Device]) -> dict[str, tuple[Device, ...]]:
    """Devices by name: the pins of a plug and the banks of a selector are one."""
    found: dict[str, list[Device]] = {}
    for device in devices:
        found.setdefault(device.about.name, []).append(device)
    return {name: tuple(each) for name, each in found.items()}
