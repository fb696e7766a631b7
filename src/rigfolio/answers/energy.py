"""The charge of a day: what is used and given, how long banks last and charge."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from rigfolio.books import Limit, returned_share, sun_figure, tail_s, taken_per_hour, usable_share
from rigfolio.demand import (
    AH_C,
    DAY_S,
    HOUR_S,
    Autonomy,
    Balance,
    Charging,
    Use,
    autonomy,
    balances,
    charging,
    demand_by_level,
    use_of_rig,
    uses,
)
from rigfolio.operating import alone, drawn_in, watts_words
from rigfolio.record import fields_by_name, record
from rigfolio.reports import (
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    ReportColumn,
    ReportTable,
    Value,
    added_up,
    items,
)
from rigfolio.study import Study
from rigfolio.units import show, show_added, show_limit, sum_digits
from rigfolio.wording import how_many, in_a_row, load_words, states_no

_HOW = (
    "A day: what it draws x hours. Lasts: what is to be used of a bank, a share of its capacity, "
    "over what a day takes. Charging: what is to be put back over the output less what the loads "
    "draw on the average of a day and what a converter takes for another bank, no more than the "
    "bank takes, then the hours at falling current. "
    "Balance: what a usual day's sun gives, less what is lost by charging, against what is used."
)
_DAY = (*(ReportColumn(key) for key in ("label", "circuit", "draws", "hours", "day", "day_c")),)
_MOST_NAMES = 3
"""Names in the narrow column of a sheet."""


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
    balances: tuple[Balance, ...]
    factors: tuple[str, ...]


def _energy_of(study: Study) -> Energy:
    """Everything that is told of the energy of a rig."""
    whole, without = _whole(study)
    return Energy(
        uses(study), whole, without, _distinct(autonomy(study)), charging(study), balances(study),
        tuple(_factors(study)),
    )  # fmt: skip


def energy_parts(study: Study) -> Iterator[Part]:
    """What a day takes, and what banks and chargers make of that."""
    found = _energy_of(study)
    known = [one for one in _ranked(found.uses) if one.day_c]
    unsaid = [one for one in found.uses if one.missing]
    yield Field("day", [_use(one) for one in found.uses])
    watts = tuple(_watts(study))
    yield Listing("Watts as amperes, each load on alone", items(watts), "watts")
    if watts:
        yield Paragraph(f"{'; '.join(watts)}.", name="watts_in_short", for_sheets=True)
    yield Listing("A day takes", items(f"{_ah(one.day_c)}  {_named(one)}" for one in known))
    yield ReportTable("", _DAY, tuple(map(_day_row, known)), name="a_day", for_sheets=True)
    yield Listing("Not counted", items(f"{one.label}: {one.missing} is not said" for one in unsaid))
    yield from (Paragraph(each, name="unsaid", for_sheets=True) for each in _unsaid(found.uses))
    yield Field("whole_day", _whole_words(found))
    yield Listing("All in all", items([_whole_words(found)]))
    if known:
        count = len(found.without)
        loads = "the load" if count == 1 else f"the {count} loads"
        words = f"All in all {found.whole}{f', without {loads} below' if count else ''}."
        yield Paragraph(words, name="whole", for_sheets=True)
    yield from _banks(found)
    yield Listing("By", items(found.factors))
    if (found.lasts or found.charging) and found.factors:
        yield Paragraph(_HOW, name="how", for_sheets=True)
        yield Paragraph(f"{'; '.join(found.factors)}.", name="how", for_sheets=True)
    if not known and not demand_by_level(study):
        words = states_no("load", so="there is nothing to be added up yet")
        yield Paragraph(words, name="nothing", for_sheets=True)


def _banks(found: Energy) -> Iterator[Part]:
    """How long banks last, and how long they charge."""
    lasts = tuple(Item(f"{one.state}: {_lasts_words(one)}", _autonomy(one)) for one in found.lasts)
    yield Listing("Lasts with nothing charging, in", lasts, "lasts")
    for one in found.lasts:
        words = f"{one.state}: {_lasts_words(one, _MOST_NAMES)}"
        yield Paragraph(words, name="lasts_in_short", for_sheets=True)
    sums = tuple(Item(balance_words(one), _balance(one)) for one in found.balances)
    yield Listing("A day's balance", sums, "balances")
    charges = tuple(Item(_charging_words(one), _charging(one)) for one in found.charging)
    yield Listing("Charging", charges, "charging")


def _use(one: Use) -> Mapping[str, Value]:
    return {
        "load": one.load,
        "label": one.label,
        "circuit": one.circuit,
        "current_a": one.current_a,
        "ah": None if one.day_c is None else one.day_c / AH_C,
        "missing": one.missing or None,
        "within": one.within or None,
    }


def _day_row(one: Use) -> tuple[Value, ...]:
    draws = "" if one.current_a is None else added_up(one.current_a)
    hours = "" if one.day_share is None else show(one.day_share * DAY_S, "h")
    return (_named(one), one.circuit, draws, hours, _ah(one.day_c), one.day_c)


def _named(one: Use) -> str:
    """A load, and that what it takes is counted where its converter is, at other volts."""
    if not one.within:
        return one.label
    volts = "" if one.within_v is None else f"at {show(one.within_v, 'V')}, "
    return f"{one.label}, {volts}within {one.within}"


def _unsaid(found: Sequence[Use]) -> Iterator[str]:
    """What is missing, each with the loads that it is missing of."""
    for missing in dict.fromkeys(one.missing for one in found if one.missing):
        labels = "; ".join(one.label for one in found if one.missing == missing)
        yield f"{missing}: {labels}"


def _autonomy(one: Autonomy) -> Mapping[str, Value]:
    return {
        "state": one.state,
        "banks": one.banks,
        "usable_ah": None if one.usable_c is None else one.usable_c / AH_C,
        "day_ah": one.use.known_c / AH_C,
        "not_counted": one.use.unknown,
        "hours": None if one.lasts_s is None else one.lasts_s / HOUR_S,
        "citation": fields_by_name(one.source) if one.source else None,
    }


def _charging(one: Charging) -> Mapping[str, Value]:
    whole_s = _whole_s(one)
    return {
        "by": one.by,
        "banks": one.banks,
        "current_a": one.current_a,
        "hours": None if whole_s is None else whole_s / HOUR_S,
        "a_day_ah": None if one.day_c is None else one.day_c / AH_C,
        "how": one.how,
        "missing": one.missing or None,
        "citation": fields_by_name(one.source) if one.source else None,
    }


def _ranked(found: Sequence[Use]) -> tuple[Use, ...]:
    """Uses of a day, the largest first, those that are not known last."""
    return tuple(sorted(found, key=lambda one: math.inf if one.day_c is None else -one.day_c))


def _ah(charge_c: float | None) -> str:
    """A charge that is used as it is printed: `12.5 Ah`, `? Ah`."""
    return show_added(charge_c, "Ah")


def _least_ah(charge_c: float | None) -> str:
    """A charge that there is as it is printed: `160 Ah`, `? Ah`."""
    return show_limit(charge_c, "Ah", sum_digits(charge_c, "Ah"))


def _lasts_words(one: Autonomy, most: int = 99) -> str:
    """How long banks last in a state; of more loads than that their number is told."""
    banks = " and ".join(one.banks)
    used = f"{_ah(one.use.known_c)} a day"
    if one.lasts_s is None:
        words = f"{banks}: cannot be told, capacity, chemistry or use is not known"
    elif math.isinf(one.lasts_s):
        words = f"{banks}: nothing known is used"
    else:
        usable = _least_ah(one.usable_c)
        words = f"{banks}: {_time_words(one.lasts_s)}, {usable} to be used, {used}"
    if one.use.unknown:
        many = len(one.use.unknown)
        named = "; ".join(one.use.unknown)
        words += f"; less with {named if many <= most else how_many(many, 'load') + ' not counted'}"
    return words


def _watts(study: Study) -> Iterator[str]:
    """By which volts watts are turned into amperes: those that a load has while it is on alone."""
    for load in study.rig.loads:
        words = watts_words(study, load)
        if words:
            drawn = drawn_in(study, load, alone(study, load))
            yield f"{load_words(study.rig, load)}: {words}: {show_added(drawn.current_a, 'A')}"


def _balance(one: Balance) -> Mapping[str, Value]:
    return {
        "banks": one.banks,
        "day_ah": one.use.known_c / AH_C,
        "given": {name: charge_c / AH_C for name, charge_c in one.given},
        "kept_ah": one.kept_c / AH_C,
        "left_ah": one.left_c / AH_C,
        "hours": None if one.lasts_s is None else one.lasts_s / HOUR_S,
        "at_times": one.at_times,
        "shared": [
            {"by": each.by, "ah": each.charge_c / AH_C, "with": each.banks} for each in one.shared
        ],
        "not_counted": one.use.unknown,
        "words": balance_words(one),
    }


def balance_words(one: Balance) -> str:
    """What a day takes of banks and what it gives, and how long they last with that."""
    words = [f"{_ah(one.use.known_c)} a day are used"]
    if one.given:
        given = in_a_row(f"{name} {_least_ah(charge_c)}" for name, charge_c in one.given)
        words.append(f"on a usual day {given} come in, of which {_least_ah(one.kept_c)} are kept")
    for each in one.shared:
        given = f"{_least_ah(each.charge_c)} that {each.by} gives on a usual day"
        words.append(f"the {given} are shared with {in_a_row(each.banks)}")
    if one.at_times:
        words.append(f"what {in_a_row(one.at_times)} put in hangs on how long they run"
                     if len(one.at_times) > 1
                     else f"what {one.at_times[0]} puts in hangs on how long it runs")  # fmt: skip
    return f"{' and '.join(one.banks)}: {'; '.join((*words, _left_words(one)))}"


def _left_words(one: Balance) -> str:
    without = " without that" if one.at_times or one.shared else ""
    if one.use.unknown and not one.use.known_c:
        return "what is left cannot be told"
    less = ""
    if one.use.unknown:
        many = len(one.use.unknown)
        named = in_a_row(one.use.unknown) if many <= _MOST_NAMES else how_many(many, "load")
        less = f"; less with {named if many <= _MOST_NAMES else f'{named} not counted'}"
    if one.left_c >= 0.0:
        return f"{_least_ah(one.left_c)} a day are left over{without}{less}"
    lasts = "how long that lasts cannot be told"
    if one.lasts_s is not None:
        lasts = f"{_least_ah(one.usable_c)} last {_time_words(one.lasts_s)}"
    return f"{_ah(-one.left_c)} a day are short{without}: {lasts}{less}"


def _charging_words(one: Charging) -> str:
    """How long a source takes to fill banks."""
    banks = " and ".join(one.banks)
    whole_s = _whole_s(one)
    to = f"{one.by} {one.label} to {banks}"
    if one.missing:
        return f"{to}: cannot be told, {one.missing} is missing"
    if whole_s is None:
        them = "them" if len(one.banks) > 1 else "it"
        why = "what is drawn beside takes all that it delivers"
        beside = f"does not fill {them}, {why if one.gives_a else 'it delivers nothing'}"
        return f"{to}: {beside}; {one.how}{_in_a_day(one)}"
    return (
        f"{to}: {_time_words(whole_s)}, of that "
        f"{_time_words(one.tail_s or 0.0)} at falling current; {one.how}{_in_a_day(one)}"
    )


def _in_a_day(one: Charging) -> str:
    """What modules put back on a usual day, beside the hours."""
    return "" if one.day_c is None else f"; on a usual day {_least_ah(one.day_c)}"


def _factors(study: Study) -> Iterator[str]:
    """What capacity, charge and charging time of the banks of a rig rest on, by chemistry."""
    kinds = dict.fromkeys(s.chemistry for s in study.rig.sources if s.stores)
    looks: tuple[tuple[Callable[[str], Limit | None], Callable[[float], str]], ...] = (
        (usable_share, lambda value: show(value, "%")),
        (returned_share, lambda value: f"{value:g}"),
        (taken_per_hour, lambda value: f"{show(value, 'A')} for each Ah"),
        (tail_s, lambda value: show(value, "h")),
    )
    for kind in kinds:
        for look, words in looks:
            limit = look(kind)
            if limit is not None:
                yield f"{limit.source.title}, {words(limit.value)} ({limit.source.status})"
    if any(s.modules is not None and s.modules.power_w for s in study.rig.sources):
        limit = sun_figure("in_use", "share")
        yield f"{limit.source.title}, {show(limit.value, '%')} ({limit.source.status})"


def _time_words(seconds: float) -> str:
    """Hours, or days from two of them on."""
    if seconds >= 2 * DAY_S:
        return f"{seconds / DAY_S:.1f} days"
    return f"{seconds / HOUR_S:.1f} h"


def _whole_s(one: Charging) -> float | None:
    return None if one.bulk_s is None or one.tail_s is None else one.bulk_s + one.tail_s


def _whole(study: Study) -> tuple[str, tuple[str, ...]]:
    try:
        whole = use_of_rig(study)
    except ValueError as problem:
        return f"not added up: {problem}", ()
    return f"{_ah(whole.known_c)} a day", whole.unknown


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
