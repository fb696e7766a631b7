"""Between solar modules and their controller: who feeds whom, volts and currents there."""

from collections.abc import Collection, Mapping

from rigfolio.books import Limit, cold_factor, sun_figure
from rigfolio.demand import bright_fuse_a
from rigfolio.findings import Citation, Fix, Refit, Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.protection.inflow import Inflow, reach_of
from rigfolio.record import record, replace
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study, once
from rigfolio.units import is_over, show
from rigfolio.values import MINUS
from rigfolio.wording import short_end

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


def daylight_v(study: Study, array: Source) -> tuple[float, float] | None:
    """What an array shows by day with nothing on it, hot to cold [V]; None where unknown."""
    open_v, cold = open_circuit_v(array), coldest_v(study, array)
    if open_v is None:
        return None
    high = open_v if cold is None else max(open_v, cold.value)
    return open_v * sun_figure("meter", "volts").value, high


def daylight_a(array: Source) -> tuple[float, float] | None:
    """What an array gives by day when it is shorted, thin light to bright [A]; None if unknown."""
    short_a = array.limit_a
    if not isinstance(short_a, float):
        return None
    least, most = sun_figure("meter", "amperes").value, sun_figure("bright", "factor").value
    return short_a * least, short_a * most


@record
class OverInput:
    """The array of most volts at an input that bears less: sure ones, and those of the cold [V].

    `sure_v` is None where the coldest morning or what modules gain then is not stated.
    """

    array: Source
    sure_v: float | None
    cold: Limit
    most_v: float

    @property
    def is_sure(self) -> bool:
        """Whether it is too much by what the text states alone."""
        return self.sure_v is not None and is_over(self.sure_v, self.most_v)


def over_input(study: Study, side: SunSide) -> OverInput | None:
    """What an array may give beyond what the input of its controller bears; None where it may not.

    None as well where one of them is not known.
    """
    most_v = side.controller.input_most_v
    known = [(one, cold) for one in side.arrays if (cold := coldest_v(study, one)) is not None]
    if not isinstance(most_v, float) or not known:
        return None
    array, cold = max(known, key=lambda one: sure_v(study, one[0]) or 0.0)
    found = OverInput(array, sure_v(study, array), cold, most_v)
    return found if found.is_sure or is_over(cold.value, most_v) else None


def back_into(study: Study, array: Source) -> Inflow:
    """What may come back into one string of an array from all others [A].

    Fuses on the way let their rating through and no more.
    """
    name, modules = array.about.name, array.modules
    inflow = reach_of(study).into([array.plus], frozenset({name}))
    if modules is None or isinstance(modules.short_a, Unknown):
        return inflow
    own_a = (modules.parallel - 1) * modules.short_a
    return replace(inflow, current_a=inflow.current_a + own_a)


def string_of(study: Study, device: Device) -> Source | None:
    """The array in whose lead a device lies before any other joins it; None if there is none.

    None as well where the array is made of several strings: it is no device of one of them.
    """
    if not device.protects or device.line not in study.sunlit:
        return None
    arrays = [one for one in study.rig.sources if one.traits.by_light]
    inputs = {end for one in study.rig.sources for end in one.lit or ()}
    for end in (device.line, device.load):
        near = study.net.walk([end], lambda edge: edge is device)
        if not inputs.isdisjoint(near):
            # On the side of the controller strings have met, be it only one beside this one.
            continue
        held = [one for one in arrays if one.plus in near or one.minus in near]
        modules = held[0].modules if len(held) == 1 else None
        if modules is not None and modules.parallel == 1:
            return held[0]
    return None


def string_fuse_most_a(study: Study, device: Device) -> float | None:
    """The largest fuse that the label of the modules allows in their string [A].

    None where a device lies in no single string, where the label is not known, and where all that
    the strings beside it give is no more than the modules bear.
    """
    array = string_of(study, device)
    most_a = None if array is None or array.modules is None else array.modules.back_a
    if array is None or not isinstance(most_a, float):
        return None
    beside = (one for one in arrays_beside(study, array) if one is not array)
    others_a = sum(one.limit_a for one in beside if isinstance(one.limit_a, float))
    return most_a if is_over(others_a, most_a) else None


def string_fuse_fix(study: Study, strings: Collection[Source]) -> Fix:
    """A fuse in each of some strings that the label of its modules allows, to be tried.

    It is the smallest in stock that carries them in bright sun. Where one is fitted it gets that
    rating, else the wire that lands where the strings meet gets a fuse there.
    """
    by_hand = Fix(
        "a fuse in each string, at the end where the strings meet, no larger than the label"
    )
    changes: list[Refit] = []
    for array in strings:
        change = _string_fuse(study, array)
        if change is None:
            return by_hand
        changes.append(change)
    ratings = " and ".join(f"`fuse {to}`" for to in dict.fromkeys(one.to for one in changes))
    text = f"{ratings} in each string, at the end where the strings meet"
    return Fix(text, "ask", tuple(changes), otherwise=by_hand.text) if changes else by_hand


@once
def missing_string_fuses(study: Study) -> Mapping[str, Refit]:
    """The fuses that strings have to have and have not, by the wire that each is written on.

    A string needs one where more may come back into it than its modules bear. Where one of those
    side by side cannot be said or written none of them is given.
    """
    found: dict[str, Refit] = {}
    for array in study.rig.sources:
        modules = array.modules
        if modules is None or array.plus in study.shorted:
            continue
        back_a = back_into(study, array).current_a
        if not isinstance(modules.back_a, float) or not is_over(back_a, modules.back_a):
            continue
        made = [_string_fuse(study, one) for one in arrays_beside(study, array)]
        if None not in made:
            found |= {one.of: one for one in made if one is not None and one.what == "guard"}
    return found


def _string_fuse(study: Study, array: Source) -> Refit | None:
    """The fuse of one string, as it is to be; None where that cannot be said or written."""
    fitted = next((d for d in study.rig.devices if string_of(study, d) is array), None)
    modules, short_a = array.modules, array.limit_a
    if modules is None or not isinstance(modules.back_a, float) or not isinstance(short_a, float):
        return None
    rating_a = rating_above(bright_fuse_a(short_a).value, fitted)
    if rating_a is None or is_over(rating_a, modules.back_a):
        return None
    to = show(rating_a, "A", 10)
    if fitted is not None:
        return Refit("rating", fitted.about.name, to)
    lead = string_lead(study, array)
    if lead is None or lead.circuit or lead.assumed:
        return None
    far = lead.b if lead.a == array.plus else lead.a
    return Refit("guard", lead.name, to, short_end(study.rig, far).replace(MINUS, "-"))


def string_lead(study: Study, array: Source) -> Conductor | None:
    """The one wire on the plus of an array; None where there are several."""
    leads = [edge for edge, _ in study.net.steps(array.plus) if isinstance(edge, Conductor)]
    return leads[0] if len(leads) == 1 else None


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
        if volts is None:
            continue
        for end in study.sunlit.intersection(study.net.walk(_posts([array]))):
            found[end] = max(volts, found.get(end, volts))
    return found


def is_fused(study: Study, array: Source) -> bool:
    """Whether every other source that can drive into an array comes by a fuse or breaker."""
    if array.modules is not None and array.modules.parallel > 1:
        return False
    held = reach_of(study).fence(array.plus)
    return all(devices for source, devices in held if source.about.name != array.about.name)
