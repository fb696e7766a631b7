"""Between solar modules and their controller: who feeds whom, volts and currents there."""

from collections.abc import Collection

from rigfolio.books import Limit, cold_factor
from rigfolio.findings import Citation, Unknown
from rigfolio.model import Source
from rigfolio.protection.inflow import Inflow, reach_of
from rigfolio.record import record, replace
from rigfolio.study import Study, once

_MEASURED_C = 25.0
_COLDEST_C = -40.0
"""Colder than this no figure of a code goes."""
_LABEL = Citation("as stated on the label of its modules", "seen")


@record
class SunSide:
    """A controller and the arrays that are joined to its input, the right way round."""

    controller: Source
    arrays: tuple[Source, ...]


def _posts(sources: Collection[Source]) -> list[str]:
    return [end for one in sources for end in (one.plus, one.minus)]


@once
def sun_sides(study: Study) -> tuple[SunSide, ...]:
    """Every controller whose input is wired, with its arrays."""
    arrays = [one for one in study.rig.sources if one.traits.by_light]
    found = []
    for controller in study.rig.sources:
        if controller.lit is None:
            continue
        plus, minus = (study.net.walk([end]) for end in controller.lit)
        own = (one for one in arrays if one.plus in plus and one.minus in minus)
        found.append(SunSide(controller, tuple(own)))
    return tuple(found)


def arrays_beside(study: Study, array: Source) -> tuple[Source, ...]:
    """The arrays that are joined to one at both poles, itself among them."""
    plus, minus = study.net.walk([array.plus]), study.net.walk([array.minus])
    return tuple(
        one
        for one in study.rig.sources
        if one.traits.by_light and one.plus in plus and one.minus in minus
    )


def open_circuit_v(array: Source) -> float | None:
    """The volts of an array with nothing on it, its modules at 25 °C; None where unknown [V]."""
    modules = array.modules
    if modules is None or isinstance(modules.open_v, Unknown):
        return None
    return modules.series * modules.open_v


def coldest_v(study: Study, array: Source) -> Limit | None:
    """The volts of an array with nothing on it on the coldest morning [V]; None where unknown.

    By what its label says they gain in the cold where that is stated, else by the figures of a
    code. Where nobody has said how cold it gets, it may be as cold as those figures go.

    Source
    ------
    Open-circuit volts rise by a share of their value at 25 °C for each kelvin (IEC 61215 data
    sheets, memory).
    """
    open_v, modules = open_circuit_v(array), array.modules
    if open_v is None or modules is None:
        return None
    coldest_c = study.rig.coldest_c
    at_c = _COLDEST_C if coldest_c is None else min(coldest_c, _MEASURED_C)
    if modules.cold_share is None:
        factor = cold_factor(at_c)
    else:
        factor = Limit(1.0 + modules.cold_share * (_MEASURED_C - at_c), _LABEL)
    said = "how cold it gets is not said" if coldest_c is None else ""
    return replace(factor, value=open_v * factor.value, how=said)


def back_into(study: Study, array: Source) -> Inflow:
    """What may come back into one string of an array from all others [A].

    Fuses on the way let their rating through and no more.
    """
    name, modules = array.about.name, array.modules
    inflow = reach_of(study).into([array.plus], frozenset({name}))
    if modules is None or isinstance(modules.short_a, Unknown) or modules.parallel == 1:
        return inflow
    own_a = (modules.parallel - 1) * modules.short_a
    return replace(inflow, current_a=inflow.current_a + own_a)


def sure_v(study: Study, array: Source) -> float | None:
    """The most volts of an array that its label and the text bear out [V]; None where unknown.

    Those on the coldest morning where both are stated that make them, else those at 25 °C.
    """
    cold, open_v = coldest_v(study, array), open_circuit_v(array)
    if cold is None or open_v is None:
        return open_v
    is_stated = cold.source is _LABEL and not cold.how
    return max(cold.value, open_v) if is_stated else open_v


@once
def sun_volts(study: Study) -> dict[str, float]:
    """The most volts at each terminal that nothing but arrays is joined to, as `sure_v` [V].

    A minus terminal has those of what comes back by it: what opens there breaks them.
    """
    found: dict[str, float] = {}
    for array in study.rig.sources:
        volts = sure_v(study, array) if array.traits.by_light else None
        for end in study.net.walk(_posts([array])) if volts is not None else ():
            if volts is not None and end in study.sunlit:
                found[end] = max(volts, found.get(end, 0.0))
    return found


def is_fused(study: Study, array: Source) -> bool:
    """Whether every other source that can drive into an array comes by a fuse or breaker."""
    if array.modules is not None and array.modules.parallel > 1:
        return False
    held = reach_of(study).fence(array.plus)
    return all(devices for source, devices in held if source.about.name != array.about.name)
