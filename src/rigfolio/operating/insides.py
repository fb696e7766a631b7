"""What batteries side by side have inside, which shares their current together with their leads."""

from collections.abc import Iterable, Mapping, Sequence

from rigfolio.books import Limit, cranking_short, internal_ohm
from rigfolio.model import Source
from rigfolio.operating.point import STIFF_OHM, source_ohm

Insides = Mapping[str, float]
"""The resistance of each battery by name [Ω]."""


def inside_ohms(bank: Sequence[Source]) -> tuple[Insides, ...]:
    """The resistances to share by, the likeliest first, then what else they may be.

    What is stated counts. Batteries of which the text says the same have the same. Where none says
    any, it is the least that such batteries usually have, so that the leads tell the more; where
    some do, the others have the least, or the most, one by one. Unlike ones of which one says
    neither capacity nor resistance share nobody knows how: nothing is given then.
    """
    stated = {one.about.name: ohm for one in bank if (ohm := source_ohm(one)) is not None}
    rest = [one for one in bank if one.about.name not in stated]
    if not rest:
        return (stated,)
    usual = {one.about.name: usual_ohms(one) for one in rest}
    if len({(one.chemistry, one.voltage_v, one.capacity_c) for one in bank}) == 1:
        alike = usual[rest[0].about.name]
        low_ohm = alike[0].value if alike is not None else STIFF_OHM
        return (dict.fromkeys(usual, min(stated.values(), default=low_ohm)) | stated,)
    known = {name: both for name, both in usual.items() if both is not None}
    if len(known) < len(rest):
        return ()
    least = stated | {name: low.value for name, (low, _) in known.items()}
    if not stated:
        return (least,)
    return (least, *(least | {name: most.value} for name, (_, most) in known.items()))


def stated_ohms(bank: Sequence[Source]) -> Insides:
    """The resistances that the text states, next to none where it does not [Ω].

    Volts are worked out with these: what nobody has stated takes nothing off them.
    """
    return {one.about.name: source_ohm(one) or STIFF_OHM for one in bank}


def untold_ohms(sources: Iterable[Source]) -> Mapping[str, float | None]:
    """The batteries that do not say what they have inside, with the most that it usually is [Ω].

    None stands for one that tells neither its capacity nor its cranking current: nothing is usual
    then.
    """
    return {
        one.about.name: _most_ohm(one) for one in sources if one.stores and source_ohm(one) is None
    }


def _most_ohm(one: Source) -> float | None:
    """What a battery usually has inside at the most, by its capacity and its cranking current [Ω].

    What it drives into a short at the least is some times the latter.
    """
    usual, found = usual_ohms(one), []
    if usual is not None:
        found.append(usual[1].value)
    if one.cranking_a:
        found.append(one.voltage_v / (cranking_short().value * one.cranking_a))
    return min(found, default=None)


def usual_ohms(one: Source) -> tuple[Limit, Limit] | None:
    """Least and most that a battery usually has inside [Ω]; None if its capacity is not known."""
    if not isinstance(one.capacity_c, float):
        return None
    return internal_ohm(one.chemistry, one.voltage_v, one.capacity_c)
