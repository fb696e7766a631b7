"""Named scenarios: what is on and what is open when volts and amperes are asked for.

Which is asked for by whom:

- one load alone: the line of a load on the calculation sheet, its charge of a day;
- the loads of one circuit: the circuit in `demand`, its slot, fuse and wires in `check` and `size`,
  its start;
- what can be expected together, of which `rigfolio.demand` makes the sum: feeders, mains, bars,
  panels and sources, and every drop;
- what runs for hours, and all at once but for what runs a moment: the drops by scenario on the
  calculation sheet; the last also whether the voltage collapses.

A circuit of one load draws the same in the first two, to the last digit.
"""

from collections.abc import Iterable
from typing import Literal

from rigfolio.isolation import CLOSED, Open, bank_joins
from rigfolio.model import Load
from rigfolio.network import Way, edge_name, heaviest
from rigfolio.operating.circuit_net import Drawn
from rigfolio.operating.draws import alone_draw, circuit_draws, homes_of
from rigfolio.operating.point import Operating, operating
from rigfolio.record import record
from rigfolio.study import Study, once

Kind = Literal["alone", "circuit", "together"]


@record
class Scenario:
    """What is on and what is open; `name` is that of a load or a circuit.

    Without `sources` each system runs from its batteries, and from its other sources where it has
    none.
    """

    kind: Kind
    name: str
    loads: frozenset[str]
    sources: frozenset[str] | None = None
    opened: Open = CLOSED


def alone(study: Study, load: Load) -> Scenario:
    """One load with nothing else on, from the one source that serves it best."""
    name = load.about.name
    return _from_home(study, "alone", name, frozenset({name}), homes_of(study).get(name))


def own_circuit(study: Study, load: Load) -> Scenario:
    """All loads of the circuit of a load, and nothing else; the load itself without a circuit."""
    circuit = study.circuit(load.circuit)
    if circuit is None:
        return alone(study, load)
    way = homes_of(study).get(load.about.name)
    return _from_home(study, "circuit", circuit.place, frozenset(circuit.loads), way)


def at_once(study: Study) -> Scenario:
    """Everything on that runs for more than a moment.

    Of loads that a switch keeps from being on at one time those that draw most.
    """
    on = (load for load in study.rig.loads if not load.traits.is_moment)
    return Scenario("together", "", _together(study, on))


def for_hours(study: Study) -> Scenario:
    """Everything on that runs for hours, steadily or by a thermostat."""
    on = (load for load in study.rig.loads if load.traits.for_hours)
    return Scenario("together", "hours", _together(study, on))


def _together(study: Study, loads: Iterable[Load]) -> frozenset[str]:
    names = (one.about.name for one in loads)
    return heaviest(study.rig, names, lambda name: circuit_draws(study)[name].known_a)


def _from_home(
    study: Study, kind: Kind, name: str, loads: frozenset[str], way: Way | None
) -> Scenario:
    """Some loads on one source, parted from other banks as far as it serves them by itself."""
    if way is None:
        return Scenario(kind, name, loads, frozenset())
    used = {edge_name(edge) for edge in (*way.out, *way.back)}
    return Scenario(
        kind, name, loads, frozenset(_behind(study, way)), Open(_between_banks(study) - used)
    )


@once
def _between_banks(study: Study) -> frozenset[str]:
    """The edges that part banks: combiners and selectors."""
    selectors = (d for d in study.rig.devices if d.traits.selects)
    return bank_joins(study.rig) | {edge_name(device) for device in selectors}


def _behind(study: Study, way: Way) -> set[str]:
    """The source of a way, and where that is a converter, what its input runs from."""
    found: set[str] = set()
    home: Way | None = way
    while home is not None and home.source.about.name not in found:
        name = home.source.about.name
        found |= {name, *home.beside}
        home = homes_of(study).get(f"{name}.in")
    return found


@once
def point_in(study: Study, scenario: Scenario) -> Operating:
    """The volts and amperes of every part in a scenario, copper as hot as they make it."""
    return operating(
        study, loads=scenario.loads, sources=scenario.sources, opened=scenario.opened,
        copper="loaded",
    )  # fmt: skip


def drawn_in(study: Study, load: Load, scenario: Scenario) -> Drawn:
    """What a load draws in a scenario that it is on in, and the volts that it has then."""
    if scenario.kind == "alone":
        return alone_draw(study, load)
    if scenario.kind == "circuit":
        return circuit_draws(study)[load.about.name]
    point = point_in(study, scenario)
    volts = point.across_v(load) or 0.0
    if load in point.collapsed:
        asked = load.current_a(study.nominal_v(load.plus))
        return Drawn(asked, 0.0, collapses=True)
    if load in point.unknown_loads:
        return Drawn(load.value, volts)
    return Drawn(point.drawn_a(load.about.name), volts)


def starting_a(study: Study, load: Load) -> float | None:
    """What a load takes while it starts, with its own circuit on [A]; None where unknown."""
    running_a = drawn_in(study, load, own_circuit(study, load)).current_a
    return load.times_at_start * running_a if isinstance(running_a, float) else None
