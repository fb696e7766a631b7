"""Demand at every level and the charge of a day: what parts must carry, how long banks last."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from rigfolio.books import Limit, returned_share, sun_figure, tail_s, taken_per_hour, usable_share
from rigfolio.demand import (
    AH_C,
    DAY_S,
    HOUR_S,
    Autonomy,
    Charging,
    LevelDemand,
    SharedBank,
    Use,
    autonomy,
    charging,
    demand_by_level,
    flows_of,
    shared_banks,
    use_of_rig,
    uses,
)
from rigfolio.record import record
from rigfolio.reports import (
    JUDGED,
    Amount,
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    Wording,
    items,
)
from rigfolio.study import Study, as_it_is
from rigfolio.units import show, show_against, show_limit, show_load
from rigfolio.wording import called, circuits_in_order, found_remark, how_many, in_a_row, load_words

_KINDS = (
    "Connected: all loads at once. For hours: what runs on without end. At one time: that, and the "
    "share of occasional loads that the rule book counts, or the largest of them. What chargers "
    "drive through a part counts for hours, where it is more."
)
_HOW = (
    "A day: what it draws x hours. Lasts: what is to be used of a bank, a share of its capacity, "
    "over what a day takes. Charging: what is to be put back over the output less what the loads "
    "draw on the average of a day and what a converter takes for another bank, no more than the "
    "bank takes, then the hours at falling current."
)
_LEVELS = {
    "source": "Sources", "device": "Fuses and switches", "panel": "Panels", "circuit": "Circuits",
}  # fmt: skip
_COLUMNS = (
    ReportColumn("level"),
    ReportColumn("name"),
    ReportColumn("label"),
    ReportColumn("part", most=30, given=False),
    ReportColumn("connected_a", "connected", 10),
    ReportColumn("continuous_a", "for hours", 10),
    ReportColumn("simultaneous_a", "at one time", 11),
    ReportColumn("rating_a"),
    ReportColumn("made_for", "made for", 9, given=False),
    ReportColumn("unknown"),
    ReportColumn("of_that", most=24, given=False),
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
    factors: tuple[str, ...]


def _energy_of(study: Study) -> Energy:
    """Everything that is told of the energy of a rig."""
    whole, without = _whole(study)
    return Energy(
        uses(study), whole, without, _distinct(autonomy(study)), charging(study),
        tuple(_factors(study)),
    )  # fmt: skip


def demand_report(study: Study) -> Report:
    """What every part must carry and what a day takes, for `rigfolio demand FILE` and its sheet."""
    there = as_it_is(study)
    parts = (*_carried(there), *_energy(there, _energy_of(there)), *found_remark(study.rig))
    return Report(f"Demand and energy: {study.rig.name}", (JUDGED,), parts)


def _carried(study: Study) -> Iterator[Part]:
    """A table for each level."""
    yield Paragraph(_KINDS, name="kinds", gap=True)
    yield Paragraph(_counted(study), name="kinds", for_sheets=True)
    yield from inputs_remark(study)
    yield from (Paragraph(_shared(study, bank), name="shared") for bank in shared_banks(study))
    order = {one.place: number for number, one in enumerate(circuits_in_order(study.rig))}
    held = sorted(demand_by_level(study), key=lambda one: order.get(one.name, 0))
    for level, title in _LEVELS.items():
        rows = tuple(_row(study, one) for one in held if one.level == level)
        yield ReportTable(title, _COLUMNS, rows, "levels")
    yield from _starts(study)


def inputs_remark(study: Study) -> tuple[Paragraph, ...]:
    """That the inputs of converters count at full output; none where no converter is wired."""
    ways = flows_of(study).ways
    names = [one.inlet for one in study.rig.sources if one.inlet and ways.get(one.inlet)]
    if not names:
        return ()
    full = (
        f"Inputs of converters, {in_a_row(names)}: what is drawn at full output and nominal volts"
    )
    return (Paragraph(f"{full}; at a moment, by what is given then.", name="kinds"),)


def _starts(study: Study) -> Iterator[Part]:
    """What loads start at, where the text says so."""
    if not any(load.times_at_start > 1.0 for load in study.rig.loads):
        yield Field("starts", [])
    else:
        from rigfolio.shorts import STARTS_NOTE, starts_table

        yield starts_table(study)
        yield Paragraph(STARTS_NOTE, name="starts_note", for_sheets=True)


def _shared(study: Study, bank: SharedBank) -> str:
    """What batteries side by side are taken to give, and what that turns on."""
    *most, last = (one.about.name for one in bank.batteries)
    names = f"{', '.join(most)} and {last} stand side by side"
    if not bank.parts:
        return f"{names}; how they share is not known: see what is asked for."
    shares = ", ".join(f"{name} {show(part, '%', 2)}" for name, part in bank.parts.items())
    load = load_words(study.rig, bank.load)
    return (
        f"Assumed: {names}, all of them in and equally full. Of what {load} draws they give "
        f"{shares}, by their leads and what is inside. Where a switch may take one of them off, "
        "the others are counted with its part too."
    )


def _row(study: Study, one: LevelDemand) -> tuple[Value, ...]:
    def current(known_a: float) -> Amount:
        """What is unknown is never printed as nothing."""
        return Amount(None if one.unknown and not known_a else known_a, "A", side="load")

    return (
        one.level, one.name, one.label, called(one.name, one.label),
        current(one.connected_a), current(one.continuous_a), current(one.simultaneous_a),
        one.rating_a, "" if one.rating_a is None else Amount(one.rating_a, "A", side="limit"),
        one.unknown, _of_that(study, one),
    )  # fmt: skip


def _of_that(study: Study, one: LevelDemand) -> Wording:
    """How demand at one time stands to the rating, and which loads are not counted."""
    parts = []
    is_known = bool(one.simultaneous_a) or not one.unknown
    if one.rating_a is not None and one.rating_a > 0.0 and is_known:
        parts.append(show_against(one.simultaneous_a / one.rating_a, 1.0, "%", 2)[0])
    for source in study.rig.sources:
        if source.about.name in one.unknown:
            parts.append(f"what {source.about.name} gives is not known")
    unknown = [load for load in study.rig.loads if load.about.name in one.unknown]
    if not unknown:
        return Wording("; ".join(parts), "; ".join(parts))
    named = f"not counted: {', '.join(load_words(study.rig, load) for load in unknown)}"
    places = list(dict.fromkeys(load.circuit or str(load.about) for load in unknown))
    more = len(places) - _MOST_NAMES
    tail = f" and {more} more" if more > 0 else ""
    short = f"without {', '.join(places[:_MOST_NAMES])}{tail}"
    if one.level == "circuit":
        short = "not all of its loads are known"
    return Wording("; ".join([*parts, named]), "; ".join([*parts, short]))


def _counted(study: Study) -> str:
    """What the rule book counts of occasional loads, and how sources are held."""
    share = study.book.intermittent_share()
    return (
        f"That share is {show(share.value, '%')} of all that is connected beyond the hours; a "
        "circuit by itself counts in full, a source that charges with no more than it is made for. "
        f"Source: {share.source}."
    )


def _energy(study: Study, found: Energy) -> Iterator[Part]:
    known = [one for one in _ranked(found.uses) if one.day_c]
    unsaid = [one for one in found.uses if one.missing]
    yield Field("day", [_use(one) for one in found.uses])
    yield Listing("A day takes", items(f"{_ah(one.day_c)}  {one.label}" for one in known))
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
        words = "This rig states no load: there is nothing to be added up yet."
        yield Paragraph(words, name="nothing", for_sheets=True)


def _banks(found: Energy) -> Iterator[Part]:
    """How long banks last, and how long they charge."""
    lasts = tuple(Item(f"{one.state}: {_lasts_words(one)}", _autonomy(one)) for one in found.lasts)
    yield Listing("Lasts with nothing charging, in", lasts, "lasts")
    for one in found.lasts:
        words = f"{one.state}: {_lasts_words(one, _MOST_NAMES)}"
        yield Paragraph(words, name="lasts_in_short", for_sheets=True)
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
    }


def _day_row(one: Use) -> tuple[Value, ...]:
    draws = "" if one.current_a is None else Amount(one.current_a, "A", side="load")
    hours = "" if one.day_share is None else show(one.day_share * DAY_S, "h")
    return (one.label, one.circuit, draws, hours, _ah(one.day_c), one.day_c)


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
        "source": str(one.source) if one.source else None,
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
        "source": str(one.source) if one.source else None,
    }


def _ranked(found: Sequence[Use]) -> tuple[Use, ...]:
    """Uses of a day, the largest first, those that are not known last."""
    return tuple(sorted(found, key=lambda one: math.inf if one.day_c is None else -one.day_c))


def _ah(charge_c: float | None) -> str:
    """A charge that is used as it is printed: `12.5 Ah`, `? Ah`."""
    return show_load(charge_c, "Ah")


def _lasts_words(one: Autonomy, most: int = 99) -> str:
    """How long banks last in a state; of more loads than that their number is told."""
    banks = " and ".join(one.banks)
    used = f"{_ah(one.use.known_c)} a day"
    if one.lasts_s is None:
        words = f"{banks}: cannot be told, capacity, chemistry or use is not known"
    elif math.isinf(one.lasts_s):
        words = f"{banks}: nothing known is used"
    else:
        usable = show_limit(one.usable_c, "Ah")
        words = f"{banks}: {_time_words(one.lasts_s)}, {usable} to be used, {used}"
    if one.use.unknown:
        many = len(one.use.unknown)
        named = "; ".join(one.use.unknown)
        words += f"; less with {named if many <= most else how_many(many, 'load') + ' not counted'}"
    return words


def _charging_words(one: Charging) -> str:
    """How long a source takes to fill banks."""
    banks = " and ".join(one.banks)
    whole_s = _whole_s(one)
    if whole_s is None:
        return f"{one.by} {one.label} to {banks}: cannot be told, {one.missing} is missing"
    return (
        f"{one.by} {one.label} to {banks}: {_time_words(whole_s)}, of that "
        f"{_time_words(one.tail_s or 0.0)} at falling current; {one.how}{_in_a_day(one)}"
    )


def _in_a_day(one: Charging) -> str:
    """What modules put back on a usual day, beside the hours."""
    return "" if one.day_c is None else f"; on a usual day {show_limit(one.day_c, 'Ah')}"


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
