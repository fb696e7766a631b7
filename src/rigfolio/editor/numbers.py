"""The numbers of a wire, a circuit, a load or a part, as the homes of these give them."""

from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.demand import LevelDemand, demand_by_level, drops_of, flows_of
from rigfolio.figures import LoadLine, line_of_load
from rigfolio.findings import Span, Unknown
from rigfolio.model import Circuit, Conductor, Junction, Load, in_place
from rigfolio.network import edge_name
from rigfolio.protection import (
    fitted_now_words,
    guard_words,
    largest_words,
    limit_of,
    start_among,
    start_of_level,
)
from rigfolio.study import Study, as_it_is
from rigfolio.units import show, show_added, show_against, show_limit, show_load
from rigfolio.wording import (
    called,
    colour_text,
    end_words,
    gauge_words,
    load_words,
    wire_length,
)


def numbers_of(study: Study, span: Span, name: str = "") -> tuple[str, ...]:
    """What is to be said of a place of the text, line by line; nothing where it is no part.

    Parameters
    ----------
    study : Study
        The rig, as far as it is whole.
    span : Span
        The place.
    name : str
        The name that stands there, if it is one: then that part is meant.
    """
    rig = study.rig
    if name:
        return tuple(_named(study, name))
    loads = [one for one in rig.loads if _holds(one.about.span, span)]
    if loads:
        return tuple(line for one in loads for line in _load(study, one))
    wires = [one for one in rig.conductors if _holds(one.span, span) and not one.lead]
    if wires:
        return tuple(line for one in wires for line in _wire(study, one))
    circuits = [one for one in rig.circuits if _holds(one.span, span)]
    return tuple(line for one in circuits for line in _circuit(study, one))


def _named(study: Study, name: str) -> Iterator[str]:
    """What is to be said of the parts of one name: a slot, a panel, a source, a wire, a bar."""
    rig = study.rig
    circuit = study.circuit(name)
    if circuit is not None:
        yield from _circuit(study, circuit)
        return
    levels = [_level(study, one) for one in demand_by_level(study) if one.name == name]
    wires = [_wire(study, one) for one in rig.conductors if one.name == name]
    loads = [_load(study, one) for one in rig.loads if one.about.name == name]
    joints = [_joint(one) for one in rig.junctions if one.about.name == name]
    for lines in (*levels, *wires, *loads, *joints):
        yield from lines


def _joint(joint: Junction) -> Iterator[str]:
    made = "" if joint.rating_a is None else f", made for {_amps(joint.rating_a)}"
    yield f"**{called(joint.about.name, joint.about.label)}** {joint.kind}{made}"


def _amps(rating_a: float | Unknown) -> str:
    return "?" if isinstance(rating_a, Unknown) else show_limit(rating_a, "A")


def _holds(whole: Span, part: Span) -> bool:
    return whole.file == part.file and whole.start <= part.start <= whole.end


def _wire(study: Study, wire: Conductor) -> Iterator[str]:
    rig = study.rig
    ends = f"{end_words(rig, wire.a)} to {end_words(rig, wire.b)}"
    length = wire_length(wire)
    assumed = ", taken for its return" if wire.assumed else ""
    what = f"{gauge_words(wire)} {colour_text(wire.colour)}, {length}"
    yield f"**{wire.name}** {ends}{assumed}: {what}"
    yield from _limit("may carry", study.carries(wire), wire.count)
    yield from _limit("largest device before it", limit_of(study, wire))
    yield f"guarded by: {guard_words(study, wire)}"
    there, wire = as_it_is(study), in_place(wire)
    demand = flows_of(there).demand(edge_name(wire))
    yield _demand(demand.current_a, demand.steady_a, demand.connected_a)
    yield from _moment(there, start_among(there, [edge_name(wire)]))
    if not isinstance(wire.size, Unknown) and demand.current_a > 0.0:
        ohm = drops_of(there).ohm(wire, demand.current_a, wire.size)
        if ohm is not None:
            yield f"loses {show_load(ohm * demand.current_a, 'V')} then"


def _limit(what: str, limit: Limit | None, count: int = 1) -> Iterator[str]:
    if limit is None:
        yield f"{what}: not known"
        return
    each = " each" if count > 1 else ""
    how = f", {limit.how}" if limit.how else ""
    yield f"{what}: {show_limit(limit.value, 'A')}{each}{how} ({limit.source})"


def _circuit(study: Study, circuit: Circuit) -> Iterator[str]:
    yield f"**{called(circuit.place, circuit.label)}**"
    yield f"fitted: {fitted_now_words(study, circuit)}; {largest_words(study, circuit)}"
    for one in demand_by_level(study):
        if one.level == "circuit" and one.name == circuit.place:
            yield _carried(one)
            yield from _moment(study, start_of_level(study, one))
    for load in study.rig.loads:
        if load.circuit == circuit.place:
            yield from _drop(line_of_load(study, load), f" of {load_words(study.rig, load)}")


def _level(study: Study, one: LevelDemand) -> Iterator[str]:
    yield f"**{called(one.name, one.label)}**"
    yield _carried(one)
    yield from _moment(study, start_of_level(study, one))
    if one.rating_a is not None and one.of_rating is not None:
        share, when = show_against(one.of_rating, 1.0, "%", 2)[0], "at one time"
        when = "for hours" if one.for_hours else when
        yield f"made for {show_limit(one.rating_a, 'A')}, {share} of that {when}"


def _carried(one: LevelDemand) -> str:
    without = f"; without what {', '.join(one.unknown)} draws" if one.unknown else ""
    return f"{_demand(one.simultaneous_a, one.continuous_a, one.connected_a)}{without}"


def _moment(study: Study, start: tuple[float, Load] | None) -> Iterator[str]:
    """What starts an engine through a part: it counts in no demand."""
    if start is not None:
        words = load_words(study.rig, start[1])
        yield f"beside that {show_load(start[0], 'A')} for a moment: {words}"


def _demand(at_once_a: float, for_hours_a: float, connected_a: float) -> str:
    return (
        f"demand: {show_added(at_once_a, 'A')} at one time, "
        f"{show_added(for_hours_a, 'A')} for hours, "
        f"{show_added(connected_a, 'A')} connected"
    )


def _load(study: Study, load: Load) -> Iterator[str]:
    yield f"**{load_words(study.rig, load)}**"
    line = line_of_load(study, load)
    drawn = "not known" if line.current_a is None else show_added(line.current_a, "A")
    source = f", from {line.source}" if line.source else ""
    yield f"draws, alone on: {drawn}{source}"
    yield from _drop(line)


def _drop(line: LoadLine, who: str = "") -> Iterator[str]:
    allowed = f"{show_limit(line.allowed.value, '%')} allowed ({line.allowed.source})"
    if line.drop is None:
        yield f"drop{who}: not known, {allowed}"
    elif line.drop.collapses:
        yield f"drop{who}: it pulls the voltage to collapse"
    else:
        share = show_against(line.drop.share, line.allowed.value, "%")[0]
        volts = show_load(line.drop.volts, "V")
        yield f"drop{who}: {volts}, {share} of {show(line.nominal_v, 'V')}; {allowed}"
        yield f"  {line.drop.origin}"
