"""What is read and done between solar modules and their controller, the battery first.

One home for the order: the test sheet prints it as readings, the work plan as steps.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.books import sun_figure
from rigfolio.findings import Finding, Severity, Span
from rigfolio.isolation import Open, source_reach
from rigfolio.model import Conductor, Device, Load, Source
from rigfolio.network import Edge, coils_of, never_closed, own_edges
from rigfolio.operating import (
    FEED_ALONE,
    MeterPoint,
    Stage,
    StageStep,
    set_going,
    short_stages,
    stages,
    stages_of,
    with_contacts,
)
from rigfolio.protection import (
    SunSide,
    behind_a_missing_fuse,
    coldest_v,
    daylight_a,
    daylight_v,
    exposures_of,
    over_input,
    sun_sides,
)
from rigfolio.record import replace
from rigfolio.rule import judged
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study, once
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import (
    PanelPlaces,
    called,
    goes_words,
    in_runs,
    on_paper,
    part_at,
    short_end,
    typed,
)

CHARGED = "the battery shows more than before"
"""What is seen where something charges."""
ANEW = "print anew once that is put right"
"""What is done before it is put to use."""
NOT_READ = "no reading before that is put right: print anew then"
"""Stands behind what is not put to use as it is."""
_RUNS = frozenset({"always-on-behind-disconnect"})
"""Dangers of what is dead where it must not be."""
_TITLE = "In the sun, the battery first"
_ABOUT = (
    "By day, with a meter made for these volts{volts}. Modules have no switch: cover them before "
    "a lead is touched. The controller gets its battery first and its modules last, and they go "
    "in the reverse order, or it may break (common practice). The red probe goes on plus: a minus "
    "before the figure is a string the wrong way round."
)
_AMPS = (
    "amperes of each string: only by a meter or clamp made for that direct current and those "
    "volts, and only if you have one; the string covered while its ends are joined and parted, "
    "under light that draws an arc"
)


def sheet_stages(study: Study) -> tuple[Stage, ...]:
    """The stages of the test sheet, those of the sun last."""
    return (*power_stages(study), *roof_stages(study))


@once
def power_stages(study: Study) -> tuple[Stage, ...]:
    """Those of them that need no sun."""
    return _held_back(study, short_stages(study, barred(study)))


def every_stage(study: Study) -> tuple[Stage, ...]:
    """The stages with all readings, those of the sun last."""
    return (*_held_back(study, stages(study, barred(study))), *roof_stages(study))


def _held_back(study: Study, found: Iterable[Stage]) -> tuple[Stage, ...]:
    return tuple(
        replace(
            one,
            about=f"{one.about}{_kept_out_words(study, one) if one.title == FEED_ALONE else ''}",
            steps=tuple(held_back(study, step) for step in one.steps),
        )
        for one in found
    )


def _kept_out_words(study: Study, stage: Stage) -> str:
    """What does not go in and is the fuse of no circuit or feed: no step tells of it."""
    told = {one.about.name for step in stage.steps for one in step.fits} | set(study.rig.begun)
    out = {
        one.about.name: f" {one.about}: {barred_words(study, one)}."
        for one in study.rig.devices
        if one.about.name not in told and is_barred(study, one)
    }
    return on_paper("".join(out.values()))


def held_back(study: Study, step: StageStep) -> StageStep:
    """A step as it is taken: what has a danger on its own way is not run, and not read."""
    held = stopped(study)
    fed_by = (c.place for one in step.fits for c in study.rig.begun.get(one.about.name, ()))
    danger = next((held[one] for one in (step.circuit, step.of, *fed_by) if one in held), None)
    is_run = bool(step.fits) or any(point.on for point in step.points)
    if danger is None or not is_run or any(is_barred(study, one) for one in step.fits):
        return step
    goes = next((f": {goes_words(one)}" for one in step.fits), "")
    do = step.do.removesuffix(goes)
    words = on_paper(f"{do}: STAYS DEAD: {_told_at(study, danger, do)}; {NOT_READ}")
    return replace(step, do=words, points=(), fits=())


def _told_at(study: Study, danger: Finding, do: str) -> str:
    """A danger, with its place where neither what is done nor its own words say that."""
    at = PanelPlaces(study.rig).at(danger.at.span)
    is_said = not at or re.split(r"[\s,:]", at)[0] in f"{do} {danger.headline}"
    return danger.headline if is_said else f"{at}: {danger.headline}"


@once
def barred(study: Study) -> frozenset[str]:
    """What stays out or off until something is mended: nothing is read behind it.

    Devices by name, relays whose coil stays dead among them, circuits that begin with none by
    place, and converters whose lone input has a danger on its way.
    """
    # A coil that is not run for what it sets going is itself no reason why that stays dead.
    return with_contacts(study, _barred(study, _stopped(study))) | _barred(study, stopped(study))


def _barred(study: Study, held: Collection[str]) -> frozenset[str]:
    begins = {c.device or c.place for c in study.rig.circuits if c.place in held}
    barred_now = {one.about.name for one in study.rig.devices if is_barred(study, one)}
    unfed = {one.about.name for one in study.rig.sources if one.inlet and one.inlet in held}
    return frozenset(barred_now | begins | unfed)


@once
def dangers(study: Study) -> tuple[Finding, ...]:
    """The dangers that nobody has accepted."""
    return tuple(
        one for one in judged(study) if one.severity is Severity.DANGER and one.accepted is None
    )


@once
def stopped(study: Study) -> Mapping[str, Finding]:
    """What is not run until a danger on its own way is put right, with the danger.

    Circuits by place and lone loads by name. That something goes dark with a switch is told before
    power comes back; it is no reason not to run it.
    """
    found = dict(_stopped(study))
    return found | {of: one for of, one in _coils_of_stopped(study, found) if of not in found}


@once
def _stopped(study: Study) -> Mapping[str, Finding]:
    """The same but for coils that are not run only for what they set going."""
    rig = study.rig
    found: dict[str, Finding] = {}
    at = _dangers_at(study)
    if not at:
        return found
    for circuit in rig.circuits:
        wires = (*circuit.wires, *circuit.returns)
        words = [called(circuit.place, circuit.label), *(f"wire {name}" for name in wires)]
        words += [str(rig.by_name.loads[name].about) for name in circuit.loads]
        found.update((circuit.place, at[one]) for one in words if one in at)
    for load in rig.loads:
        if not load.circuit:
            edges = tuple(_own_way(study, load))
            way = (str(load.about), *map(_part, edges))
            danger = next((at[one] for one in way if one in at), None)
            if danger is not None:
                found[load.about.name] = danger
                # The circuit that leads to a converter is not put in where the way back may burn.
                circuits = (one.circuit for one in edges if isinstance(one, Conductor))
                for place in filter(None, circuits):
                    found.setdefault(place, danger)
    return found


def _dangers_at(study: Study) -> Mapping[str, Finding]:
    """The part that each danger is told at, and the wires that it exposes, as parts are printed."""
    at: dict[str, Finding] = {}
    exposed = _exposed(study)
    for one in dangers(study):
        if one.rule not in _RUNS:
            spans = [one.at.span, *(o.span for o in one.others if o.span in exposed)]
            for span in spans:
                at.setdefault(part_at(study.rig, span), one)
    return at


def _exposed(study: Study) -> frozenset[Span]:
    """Where the wires stand that too much can flow into, whatever is dead before them."""
    served = behind_a_missing_fuse(study)
    wires = [one.wire for one in exposures_of(study) if (one.wire.name, one.end) not in served]
    return frozenset(span for wire in wires for span in (wire.span, wire.size_span))


def _coils_of_stopped(study: Study, found: Mapping[str, Finding]) -> Iterator[tuple[str, Finding]]:
    """What sets going what is not run, as that is named: its coil is not switched on either."""
    for coil in coils_of(study.rig).values():
        going = set_going(study, coil.about.name)
        for load in going.loads if going is not None else ():
            if (load.circuit or load.about.name) in found:
                yield coil.circuit or coil.about.name, found[load.circuit or load.about.name]


def _own_way(study: Study, load: Load) -> Iterator[Edge]:
    """The wires and devices that nothing but a load hangs on, those side by side among them."""
    others = [one for one in study.rig.loads if one is not load]
    # What a converter gives feeds nothing on the way to its own input.
    sources = [one for one in study.rig.sources if one.inlet != load.about.name]
    yield from own_edges(study.net, load.plus, [s.plus for s in sources], [o.plus for o in others])
    yield from own_edges(
        study.net, load.minus, [s.minus for s in sources], [o.minus for o in others]
    )


def _part(edge: Edge) -> str:
    """A wire or a device as parts are printed."""
    return str(edge.about) if isinstance(edge, Device) else f"wire {edge.name}"


@once
def roof_stages(study: Study) -> tuple[Stage, ...]:
    """The stage of the sun, where a controller has modules; all of its steps are of controllers."""
    sides = [side for side in sun_sides(study) if side.arrays]
    steps = tuple(step for side in sides for step in _steps(study, side))
    if not steps:
        return ()
    limits = [coldest_v(study, array) for side in sides for array in side.arrays]
    most_v = max((limit.value for limit in limits if limit is not None), default=0.0)
    volts = f", up to {show_load(most_v, 'V')}" if most_v else ""
    return (Stage(_TITLE, _ABOUT.format(volts=volts), steps),)


def _steps(study: Study, side: SunSide) -> Iterator[StageStep]:
    name = side.controller.about.name
    shut, fuses = _between(study, side)
    several = len(side.arrays) > 1
    is_dead = stays_dead(study, side.controller.plus)
    goes = f"STAYS DEAD; {NOT_READ}" if is_dead else "goes on first, its modules still apart"
    yield StageStep(f"{side.controller.about}: its battery side {goes}", (), name)
    apart = [f"{in_runs(shut)} open"] if shut else [f"leads off the input of {name}"]
    if fuses:
        apart.append("string fuses out")
    elif several:
        apart.append("strings apart")
    volts = tuple(point for array in side.arrays for point in _volts(study, array))
    share = show(sun_figure("unlike", "share").value, "%")
    alike = f"; strings alike, within {share}" if several else ""
    each = "each string by itself" if several else "the modules"
    if volts:
        yield StageStep(f"{each}, {', '.join(apart)}: volts and poles{alike}", volts, name)
    amps = tuple(point for array in side.arrays for point in _amps(array))
    if amps:
        yield StageStep(_AMPS, amps, name)
    joined = _joined(study, side)
    if joined is not None:
        words = ["string fuses in" if fuses else "strings joined"] if several or fuses else []
        words += [f"{in_runs(shut)} closed"] if shut else []
        words += [f"leads still off {name}: plus on the lead for +{_borne(study, side)}"]
        yield StageStep(", ".join(words), (joined,), name)
    over = over_input(study, side)
    if over is not None and over.is_sure:
        volts_v = show_load(over.sure_v or 0.0, "V")
        bears = f"its input bears {show_limit(over.most_v, 'V')}"
        yield StageStep(f"STOP: {name} GETS NO MODULES: up to {volts_v}, {bears}", (), name)
        return
    if is_dead:
        yield StageStep(f"STOP: {name} GETS NO MODULES before its battery", (), name)
        return
    then = f"then {in_runs(shut)} closed" if shut else "the modules uncovered last"
    first = f"{in_runs(shut)} open, leads on" if shut else "the modules covered, leads on"
    yield StageStep(f"{first} {name} by + and −, {then}: {CHARGED}",
                    (), name)  # fmt: skip


def _borne(study: Study, side: SunSide) -> str:
    """What is to be minded of the volts at the leads of a controller whose input bears less."""
    over = over_input(study, side)
    if over is None:
        return ""
    bears = f"{side.controller.about.name} bears {show_limit(over.most_v, 'V')}"
    return f"; {bears}, its leads stay off" if over.is_sure else f"; {bears}: not above that"


def is_parted(study: Study, controller: str) -> bool:
    """Whether a controller gets no modules, by name.

    They give more than its input bears, or its battery side stays dead.
    """
    held = [one for one in sun_sides(study) if one.controller.about.name == controller]
    if any(stays_dead(study, one.controller.plus) for one in held):
        return True
    return any((over := over_input(study, one)) is not None and over.is_sure for one in held)


def stays_dead(study: Study, end: str) -> bool:
    """Whether a terminal is behind what stays out or off until something is mended."""
    return stages_of(study, barred(study)).live.stays_dead(end)


def not_on_words(study: Study, name: str) -> str:
    """Why a source is not started, by name; empty of one that may be, and of a battery.

    It would run without a battery, or make leads live that are a danger.
    """
    source = study.rig.by_name.sources.get(name)
    if source is None or source.stores:
        return ""
    posts = (source_reach(study).inputs.get(name, source.plus), source.plus)
    dead = frozenset(end for end in posts if stays_dead(study, end))
    held = [study.device(out) for out in stages_of(study, barred(study)).use.first_out(dead)]
    out = [f"{d.about}: {barred_words(study, d)}" for d in held if d and is_barred(study, d)]
    danger = _danger_of(study, source)
    if not dead and danger is None:
        return ""
    told = "" if danger is None else _told_at(study, danger, str(source.about))
    why = "; ".join(dict.fromkeys(out)) or told or "what it hangs on stays dead"
    return on_paper(f"STAYS OFF: {why}")


def _danger_of(study: Study, source: Source) -> Finding | None:
    """A danger of a source itself, or on what nothing but it hangs on."""
    at, rig = _dangers_at(study), study.rig
    if source.inlet in stopped(study):
        return stopped(study)[source.inlet]
    banks = [one for one in rig.sources if one.stores]
    others: list[Load | Source] = [*rig.loads]
    others += (o for o in rig.sources if o is not source and not o.stores)
    plus = own_edges(study.net, source.plus, [b.plus for b in banks], [o.plus for o in others])
    minus = own_edges(study.net, source.minus, [b.minus for b in banks], [o.minus for o in others])
    way = (*plus, *minus)
    return next((at[one] for one in (str(source.about), *map(_part, way)) if one in at), None)


def seen_words(study: Study, source: Source) -> str:
    """What is seen when a source is on again: at the battery, if it charges one in any state."""
    reached = study.net.walk([source.plus], Open(never_closed(study.rig)).bars)
    return CHARGED if any(one.stores and one.plus in reached for one in study.rig.sources) else ""


def _between(study: Study, side: SunSide) -> tuple[tuple[str, ...], bool]:
    """The switches between modules and controller by name, and whether fuses stand there."""
    near = study.net.walk([end for one in side.arrays for end in (one.plus, one.minus)])
    devices = [d for d in study.rig.devices if d.line in near and d.line in study.sunlit]
    shut = dict.fromkeys(d.about.name for d in devices if _by_hand(d))
    return tuple(shut), any(device.protects for device in devices)


def _by_hand(device: Device) -> bool:
    return device.traits.opened_by == "hand" and not device.protects


def _volts(study: Study, array: Source) -> Iterator[MeterPoint]:
    bounds = daylight_v(study, array)
    if bounds is not None:
        yield _point(study, array.plus, array.minus, bounds)


def _point(study: Study, plus: str, minus: str, bounds: tuple[float, float]) -> MeterPoint:
    ends = [short_end(study.rig, end) for end in (plus, minus)]
    return MeterPoint(
        " to ".join(ends), plus, minus, "V", *bounds, f"{' to '.join(map(typed, ends))} = "
    )


def _amps(array: Source) -> Iterator[MeterPoint]:
    name, bounds = array.about.name, daylight_a(array)
    if bounds is not None:
        words = f"short-circuit current of {name}"
        yield MeterPoint(words, name, "", "A", *bounds, f"{typed(name)} = ")


def _joined(study: Study, side: SunSide) -> MeterPoint | None:
    """Volts of all strings together at the leads for the controller; None where none are known."""
    held = (daylight_v(study, one) for one in side.arrays)
    known = [bounds for bounds in held if bounds is not None]
    if side.controller.lit is None or not known:
        return None
    bounds = min(low for low, _ in known), max(high for _, high in known)
    return _point(study, *side.controller.lit, bounds)
