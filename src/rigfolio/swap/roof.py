"""What is read and done between solar modules and their controller, the battery first.

One home for the order: the test sheet prints it as readings, the work plan as steps.
"""

from collections.abc import Iterable, Iterator

from rigfolio.books import sun_figure
from rigfolio.demand import UnderBattery, charging_nothing
from rigfolio.isolation import Open
from rigfolio.model import Device, Source
from rigfolio.network import never_closed
from rigfolio.operating import (
    FEED_ALONE,
    MeterPoint,
    Stage,
    StageStep,
    short_stages,
    stages,
)
from rigfolio.protection import (
    SunSide,
    coldest_v,
    daylight_a,
    daylight_v,
    over_input,
    sun_sides,
)
from rigfolio.record import replace
from rigfolio.study import Study, once
from rigfolio.swap.held import NOT_READ, barred, held_back, kept_out_words, stays_dead
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import (
    in_runs,
    short_end,
    typed,
)

CHARGED = "the battery shows more than before"
"""What is seen where something charges."""
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
            about=f"{one.about}{kept_out_words(study, one) if one.title == FEED_ALONE else ''}",
            steps=tuple(held_back(study, step) for step in one.steps),
        )
        for one in found
    )


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
    seen = seen_words(study, side.controller)
    yield StageStep(f"{first} {name} by + and −, {then}{f': {seen}' if seen else ''}", (), name)


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


def seen_words(study: Study, source: Source) -> str:
    """What is seen when a source is on again: at the battery, if it charges one in any state."""
    idle = charging_nothing(study, source)
    if idle:
        return f"nothing is charged: {'; '.join(map(_too_few_words, idle))}"
    reached = study.net.walk([source.plus], Open(never_closed(study.rig)).bars)
    return CHARGED if any(one.stores and one.plus in reached for one in study.rig.sources) else ""


def _too_few_words(low: UnderBattery) -> str:
    has = f"{low.array.about.name} has {show(low.most_v, 'V')}"
    return f"{has}, {low.bank.about.name} is charged from {show(low.from_v.value, 'V')}"


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
