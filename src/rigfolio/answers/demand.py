"""Demand at every level and the charge of a day, as lines for people and values for programs."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeAlias

from rigfolio.books import Limit, returned_share, tail_s, taken_per_hour, usable_share
from rigfolio.demand import (
    AH_C,
    DAY_S,
    HOUR_S,
    Autonomy,
    Charging,
    LevelDemand,
    Use,
    autonomy,
    charging,
    demand_by_level,
    use_of_rig,
    uses,
)
from rigfolio.isolation import called, load_words
from rigfolio.record import record
from rigfolio.reports import CAUTIONS, columns, listed, wrapped
from rigfolio.study import Study
from rigfolio.units import show

Plain: TypeAlias = "str | float | Sequence[Plain] | Mapping[str, Plain] | None"

KINDS = (
    "Connected: all loads at once. For hours: what runs on without end. At one time: that, and the "
    "share of occasional loads that the rule book counts, or the largest of them."
)
"""What the three demands mean."""


@record
class Energy:
    """The charge of a day, how long banks last and how long they charge.

    `whole` is what all loads use in a day, `without` are those that it leaves out; `factors` say
    what the figures rest on, each with its number and source.
    """

    uses: tuple[Use, ...]
    whole: str
    without: tuple[str, ...]
    lasts: tuple[Autonomy, ...]
    charging: tuple[Charging, ...]
    factors: tuple[str, ...]


def energy_of(study: Study) -> Energy:
    """Everything that is told of the energy of a rig."""
    whole, without = _whole(study)
    return Energy(
        uses(study), whole, without, _distinct(autonomy(study)), charging(study),
        tuple(_factors(study)),
    )  # fmt: skip


def demand_lines(study: Study) -> tuple[str, ...]:
    """What every part must carry and what a day takes, for `rigfolio demand FILE`."""
    return tuple(_lines(study))


def demand_plain(study: Study) -> Mapping[str, Plain]:
    """What `demand_lines` says, for programs; currents in A, charge in Ah, times in h."""
    found = energy_of(study)
    return {
        "levels": [_level_plain(one) for one in demand_by_level(study)],
        "day": [
            {
                "load": one.load,
                "label": one.label,
                "circuit": one.circuit,
                "current_a": one.current_a,
                "ah": None if one.day_c is None else one.day_c / AH_C,
                "missing": one.missing or None,
            }
            for one in found.uses
        ],
        "whole_day": _whole_words(found),
        "lasts": [
            {
                "state": one.state,
                "banks": list(one.banks),
                "usable_ah": None if one.usable_c is None else one.usable_c / AH_C,
                "day_ah": one.use.known_c / AH_C,
                "not_counted": list(one.use.unknown),
                "hours": _finite_hours(one.lasts_s),
                "source": str(one.source) if one.source else None,
            }
            for one in found.lasts
        ],
        "charging": [
            {
                "by": one.by,
                "banks": list(one.banks),
                "current_a": one.current_a,
                "hours": _finite_hours(_whole_s(one)),
                "how": one.how,
                "missing": one.missing or None,
                "source": str(one.source) if one.source else None,
            }
            for one in found.charging
        ],
        "cautions": CAUTIONS,
    }


def _level_plain(one: LevelDemand) -> Mapping[str, Plain]:
    return {
        "level": one.level,
        "name": one.name,
        "label": one.label,
        "connected_a": one.connected_a,
        "continuous_a": one.continuous_a,
        "simultaneous_a": one.simultaneous_a,
        "rating_a": one.rating_a,
        "unknown": list(one.unknown),
    }


def ranked(found: Sequence[Use]) -> tuple[Use, ...]:
    """Uses of a day, the largest first, those that are not known last."""
    return tuple(sorted(found, key=lambda one: math.inf if one.day_c is None else -one.day_c))


def ah(charge_c: float | None) -> str:
    """A charge as it is printed: `12.5 Ah`, `? Ah`."""
    return "? Ah" if charge_c is None else show(charge_c, "Ah")


def level_words(one: LevelDemand) -> str:
    """What a level is called: `P1 Galley panel`."""
    return called(one.name, one.label)


def verdict_words(study: Study, one: LevelDemand) -> str:
    """How demand at one time stands to the rating, and which loads are not counted."""
    parts = []
    if one.rating_a is not None and one.rating_a > 0.0:
        parts.append(f"{100.0 * one.simultaneous_a / one.rating_a:.0f} %")
    if one.unknown:
        loads = [load for load in study.rig.loads if load.about.name in one.unknown]
        parts.append(f"not counted: {', '.join(load_words(study.rig, one) for one in loads)}")
    return "; ".join(parts)


def lasts_words(one: Autonomy, most: int = 99) -> str:
    """How long banks last in a state; of more loads than that their number is told."""
    banks = " and ".join(one.banks)
    used = f"{ah(one.use.known_c)} a day"
    if one.lasts_s is None:
        words = f"{banks}: cannot be told, capacity, chemistry or use is not known"
    elif math.isinf(one.lasts_s):
        words = f"{banks}: nothing known is used"
    else:
        words = f"{banks}: {time_words(one.lasts_s)}, {ah(one.usable_c)} to be used, {used}"
    if one.use.unknown:
        many = len(one.use.unknown)
        named = "; ".join(one.use.unknown)
        words += f"; less with {named if many <= most else f'{many} loads that are not counted'}"
    return words


def charging_words(one: Charging) -> str:
    """How long a source takes to fill banks."""
    banks = " and ".join(one.banks)
    whole_s = _whole_s(one)
    if whole_s is None:
        return f"{one.by} {one.label} to {banks}: cannot be told, {one.missing} is missing"
    return (
        f"{one.by} {one.label} to {banks}: {time_words(whole_s)}, of that "
        f"{time_words(one.tail_s or 0.0)} at falling current; {one.how}"
    )


def _factors(study: Study) -> Iterator[str]:
    """What capacity, charge and charging time of the banks of a rig rest on, by chemistry."""
    kinds = dict.fromkeys(s.chemistry for s in study.rig.sources if s.kind == "battery")
    looks: tuple[tuple[Callable[[str], Limit | None], Callable[[float], str]], ...] = (
        (usable_share, lambda value: f"{value * 100.0:g} %"),
        (returned_share, lambda value: f"{value:g}"),
        (taken_per_hour, lambda value: f"{value:g} A for each Ah"),
        (tail_s, lambda value: f"{value / HOUR_S:g} h"),
    )
    for kind in kinds:
        for look, words in looks:
            limit = look(kind)
            if limit is not None:
                yield f"{limit.source.title}, {words(limit.value)} ({limit.source.status})"


def time_words(seconds: float) -> str:
    """Hours, or days from two of them on."""
    if seconds >= 2 * DAY_S:
        return f"{seconds / DAY_S:.1f} days"
    return f"{seconds / HOUR_S:.1f} h"


def _whole_s(one: Charging) -> float | None:
    return None if one.bulk_s is None or one.tail_s is None else one.bulk_s + one.tail_s


def _finite_hours(seconds: float | None) -> float | None:
    return None if seconds is None or math.isinf(seconds) else seconds / HOUR_S


def _whole(study: Study) -> tuple[str, tuple[str, ...]]:
    try:
        whole = use_of_rig(study)
    except ValueError as problem:
        return f"not added up: {problem}", ()
    return f"{ah(whole.known_c)} a day", whole.unknown


def _whole_words(found: Energy) -> str:
    return f"{found.whole}, without {', '.join(found.without)}" if found.without else found.whole


def _distinct(found: Sequence[Autonomy]) -> tuple[Autonomy, ...]:
    """States in which the same banks last as long told once, all of their names before it."""
    groups: dict[tuple[object, ...], list[Autonomy]] = {}
    for one in found:
        key = (one.banks, one.lasts_s, one.use.known_c, one.use.unknown)
        groups.setdefault(key, []).append(one)
    return tuple(
        Autonomy(
            ", ".join(one.state for one in group), group[0].banks, group[0].usable_c,
            group[0].use, group[0].lasts_s, group[0].charging, group[0].source,
        )
        for group in groups.values()
    )  # fmt: skip


def _lines(study: Study) -> Iterator[str]:
    yield f"Demand and energy: {study.rig.name}"
    yield ""
    yield from wrapped(CAUTIONS[0])
    yield ""
    yield from wrapped(KINDS)
    heads = ("", "connected", "for hours", "at one time", "made for", "")
    for level, title in (
        ("source", "Sources"), ("device", "Fuses and switches"), ("panel", "Panels"),
        ("circuit", "Circuits"),
    ):  # fmt: skip
        rows = [
            (
                level_words(one), show(one.connected_a, "A"), show(one.continuous_a, "A"),
                show(one.simultaneous_a, "A"),
                "" if one.rating_a is None else show(one.rating_a, "A"), verdict_words(study, one),
            )
            for one in demand_by_level(study)
            if one.level == level
        ]  # fmt: skip
        if rows:
            yield ""
            yield title
            yield from (f"  {line}" for line in columns([heads, *rows], (30, 10, 10, 11, 9, 24)))
    yield from _energy(energy_of(study))


def _energy(found: Energy) -> Iterator[str]:
    known = [f"{ah(one.day_c)}  {one.label}" for one in ranked(found.uses) if one.day_c]
    yield from listed("A day takes", known)
    open_ = [f"{one.label}: {one.missing} is not said" for one in found.uses if one.missing]
    yield from listed("Not counted", open_)
    yield from listed("All in all", [_whole_words(found)])
    yield from listed(
        "Lasts with nothing charging, in",
        [f"{one.state}: {lasts_words(one)}" for one in found.lasts],
    )
    yield from listed("Charging", [charging_words(one) for one in found.charging])
    yield from listed("By", found.factors)
