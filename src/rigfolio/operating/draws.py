"""What loads draw at their own volts, with the wires and the source that feed them and no others.

A load of current draws what it says. One of watts draws more the less volts it gets, one of ohms
less: both are met where supply and load agree. It comes to the same as the nodal solution of the
whole rig with nothing else on, at a cost that does not grow with the rig.
"""

import math
from collections.abc import Hashable, Iterable, Sequence

from rigfolio.books import lasting_start_s
from rigfolio.findings import Unknown
from rigfolio.model import Load
from rigfolio.network import Way, edge_name
from rigfolio.operating.circuit_net import Drawn, Input, drawn_behind, together
from rigfolio.operating.copper import Copper, SizeOf, as_stated, copper_of
from rigfolio.operating.ways import ways_of
from rigfolio.record import replace
from rigfolio.study import Study, once
from rigfolio.units import show

# Down to a thousandth of a percent.
_HALVINGS = 17


def starts_lastingly(load: Load) -> bool:
    """Whether a start is said to last for so long that the load is served, and read, meanwhile."""
    time_s = load.start_s
    return load.times_at_start > 1.0 and time_s is not None and time_s >= lasting_start_s().value


@once
def homes_of(study: Study) -> dict[str, Way]:
    """The way that each load runs by, that on which it loses least alone, by the load's name."""
    copper, found = copper_of(study), {}
    for load in study.rig.loads:
        ways = ways_of(study).chosen(load)
        if ways:
            lost = [_lost_share(load, way, copper) for way in ways] if len(ways) > 1 else [0.0]
            found[load.about.name] = ways[lost.index(min(lost))]
    return found


def _lost_share(load: Load, way: Way, copper: Copper) -> float:
    found = together([(load, way)], copper)[load.about.name]
    return math.inf if found.collapses else 1.0 - found.volts / way.source.voltage_v


def _inputs(study: Study, runs: Sequence[tuple[Load, Way]]) -> tuple[Input, ...]:
    """The inputs of the converters that loads run from, where they share a wire with them.

    Elsewhere what goes in changes nothing for what comes out.
    """
    used = [(way.source, set(way.single)) for _, way in runs]
    on = {load.about.name for load, _ in runs}
    found: dict[str, Input] = {}
    shares = False
    for source, names in used:
        way = homes_of(study).get(source.inlet) if source.inlet else None
        if way is None or source.inlet in on:
            continue
        into = set(way.single)
        shares = shares or not names.isdisjoint(into)
        if source.about.name not in found:
            found[source.about.name] = Input(source, study.rig.by_name.loads[source.inlet], way)
            # A converter may itself run from another one.
            used.append((way.source, into))
    return tuple(found.values()) if shares else ()


def user_of(load: Load) -> str:
    """The circuit of a load; its own name where it belongs to none."""
    return load.circuit or load.about.name


def draws_by_circuit(
    study: Study, loads: Iterable[Load], size_of: SizeOf = as_stated
) -> dict[str, Drawn]:
    """What loads draw while all loads of their circuit are on and nothing else is.

    One that no source serves is taken at the volts of its system.
    """
    copper, homes = copper_of(study), homes_of(study)
    by_user: dict[str, list[tuple[Load, Way]]] = {}
    found: dict[str, Drawn] = {}
    for load in loads:
        way = homes.get(load.about.name)
        if way is None:
            found[load.about.name] = _without_loss(study, load)
        else:
            by_user.setdefault(user_of(load), []).append((load, way))
    for runs in by_user.values():
        found |= together(runs, copper, size_of, _inputs(study, runs))
    return found


def draws_without_loss(study: Study) -> dict[str, Drawn]:
    """What every load draws at the volts of its source, by name."""
    return {load.about.name: _without_loss(study, load) for load in study.rig.loads}


def _without_loss(study: Study, load: Load) -> Drawn:
    way = homes_of(study).get(load.about.name)
    volts = study.nominal_v(load.plus)
    return drawn_behind(load, volts if way is None else way.source.voltage_v, 0.0, 0.0)


@once
def circuit_draws(study: Study) -> dict[str, Drawn]:
    """What every load draws with its own circuit on and nothing else, by name."""
    return draws_by_circuit(study, study.rig.loads)


def alone_draw(study: Study, load: Load) -> Drawn:
    """What a load draws that is on alone."""
    way = homes_of(study).get(load.about.name)
    circuit = study.circuit(load.circuit)
    if way is None or circuit is None or len(circuit.loads) == 1:
        return circuit_draws(study)[load.about.name]
    return _alone(study, load, way)


def most_alone_w(study: Study, load: Load, most_w: float) -> float | None:
    """The most that a load of constant power could take that is on alone [W].

    At the volts of its source, its copper as warm as that makes it: the conditions by which
    `alone_draw` finds that it collapses. None where no source serves it.

    Parameters
    ----------
    study : Study
        The rig.
    load : Load
        What takes it.
    most_w : float
        Where to stop looking [W].
    """
    name = load.about.name
    way = homes_of(study).get(name)
    if way is None:
        return None
    known = _most_by_way(study)
    # Loads side by side on the same two ends could each take as much; a converter is one of a kind.
    own = name if any(source.inlet == name for source in study.rig.sources) else ""
    edges = tuple(map(edge_name, (*way.out, *way.back)))
    key = (own, load.plus, load.minus, way.source.about.name, edges, most_w)
    if key not in known:
        known[key] = _most_taken_w(study, load, way, most_w)
    return known[key]


@once
def _most_by_way(study: Study) -> dict[Hashable, float]:  # noqa: ARG001
    """What has been found so: of hundreds of loads on one wire it is asked for each."""
    return {}


def _most_taken_w(study: Study, load: Load, way: Way, most_w: float) -> float:
    low_w, high_w = 0.0, most_w
    for _ in range(_HALVINGS):
        half_w = (low_w + high_w) / 2.0
        if _alone(study, replace(load, value=half_w), way).collapses:
            high_w = half_w
        else:
            low_w = half_w
    return low_w


def _alone(study: Study, load: Load, way: Way) -> Drawn:
    runs = [(load, way)]
    return together(runs, copper_of(study), inputs=_inputs(study, runs))[load.about.name]


def watts_words(study: Study, load: Load) -> str:
    """The watts of a load and the volts at which they are turned into amperes, while it is alone.

    Empty for a load of amperes or ohms, and for one that has no volts. Of an inverter the watts are
    those of its AC side, with what that is of the watts that it draws.
    """
    volts = alone_draw(study, load).volts
    if load.kind != "power" or isinstance(load.value, Unknown) or not volts:
        return ""
    watts, by = load.stated_w or load.value, ""
    if load.stated_w:
        by = f", {show(load.stated_w / load.value, '%')} of what it draws,"
    return f"{show(watts, 'W')}{by} at {show(volts, 'V', 4)}"
