"""How long charging takes, and what a source puts into the banks that it reaches."""

from collections.abc import Callable, Collection, Iterable, Iterator

from rigfolio.books import Limit, joined, returned_share, tail_s, taken_per_hour, usable_share
from rigfolio.demand.day_use import Use
from rigfolio.demand.energy import DAY_S, HOUR_S, of_capacity, usable_of, uses, waits
from rigfolio.demand.sun import given_a, too_few_volts, too_few_words
from rigfolio.findings import Citation
from rigfolio.isolation import Open, SourceReach, bank_joins, opened, source_reach, states_of
from rigfolio.kinds import OCCASIONS
from rigfolio.model import Source
from rigfolio.network import never_closed
from rigfolio.record import record, replace
from rigfolio.study import Study
from rigfolio.units import show_added, show_limit
from rigfolio.wording import in_a_row


@record
class Charging:
    """How long a source takes to fill banks that were used as far as is meant.

    `current_a` is what is left for the banks beside the average draw of their loads and what a
    converter takes of it for another bank, no more than they take [A]; None where a figure is not
    known, and `missing` says which. `bulk_s` is the time at that current, `tail_s` the time after
    it in which the current falls off [s]; None as well where no current is left.
    """

    by: str
    label: str
    banks: tuple[str, ...]
    current_a: float | None
    bulk_s: float | None
    tail_s: float | None
    how: str
    missing: str
    source: Citation | None
    day_c: float | None = None
    """What modules put into the banks on a usual day, loads beside not taken off [C]."""
    gives_a: float | None = None
    """What it delivers before anything is taken off [A]."""


def charging(study: Study) -> tuple[Charging, ...]:
    """How long each charging source takes to fill the banks that it reaches.

    That is in the states of the text in which it runs, all banks that it reaches in one together;
    with all closed where the text has no such state.
    """
    drive, found = source_reach(study), uses(study)
    made: dict[tuple[str, tuple[str, ...]], Charging] = {}
    for source in study.rig.sources:
        for state in _charged_in(study, drive, source) if source.traits.charges else ():
            one = _charging(study, drive, found, source, state)
            known = made.setdefault((one.by, one.banks), one)
            if one.current_a is not None and one.current_a < (known.current_a or 0.0):
                made[one.by, one.banks] = one
    return tuple(made.values())


def _charged_in(study: Study, drive: SourceReach, source: Source) -> list[Open]:
    """What is open, in each state of the text in which a source charges any bank."""
    states = [opened(study.rig, one) for one in states_of(study, drive)[: len(study.rig.states)]]
    on = [one for one in states if source.about.name not in one.sources]
    charged = [one for one in on if _reached(study, source, one)]
    closed = Open(bank_joins(study.rig) | never_closed(study.rig))
    return charged or ([closed] if _reached(study, source, closed) else [])


def _reached(study: Study, source: Source, state: Open) -> tuple[Source, ...]:
    """The banks that a source is joined to in a state."""
    reached = study.net.walk([source.plus], state.bars)
    return tuple(one for one in study.rig.sources if one.stores and one.plus in reached)


def _charging(
    study: Study,
    drive: SourceReach,
    found: tuple[Use, ...],
    source: Source,
    state: Open,
) -> Charging:
    banks = _reached(study, source, state)
    names = tuple(bank.about.name for bank in banks)
    about = source.about
    usable, takes = usable_of(banks), _takes(banks)
    back, tail = _returned(banks), _worst({bank.chemistry for bank in banks}, tail_s)
    if usable is None or back is None or tail is None or takes is None:
        return _untold(source, names, "capacity and chemistry of every bank")
    if not isinstance(source.limit_a, float):
        return _untold(source, names, "what it can deliver")
    reached = study.net.walk((bank.plus for bank in banks), state.bars)
    rests = {one.about.name for one in study.rig.loads if waits(study, drive, one)}
    fed = {one.about.name for one in study.rig.loads if one.plus in reached} - rests
    draw_a = sum(u.day_c or 0.0 for u in found if u.load in fed) / DAY_S
    modules, low = given_a(study, source, banks), too_few_volts(study, source, banks)
    if not all(one.is_sure for one in low):
        return _untold(source, names, "at what volts its modules work")
    gives_a = source.limit_a if modules is None else min(source.limit_a, modules.value)
    passed = tuple(_passed_on(study, drive, found, reached))
    unread = [name for name, current_a in passed if current_a is None]
    if unread:
        return _untold(source, names, f"what {in_a_row(unread)} takes of it for another bank")
    passed_a = sum(current_a or 0.0 for _, current_a in passed)
    left_a = min(gives_a - draw_a - passed_a, takes.value)
    into = f", {show_added(passed_a, 'A')} into {in_a_row(n for n, _ in passed)}" if passed else ""
    how = (
        f"{show_limit(gives_a, 'A')}{' for all outputs together' if source.unit else ''} less "
        f"{show_added(draw_a, 'A')} of loads{into}, the bank takes {show_limit(takes.value, 'A')}; "
        f"{show_added(usable.value * back.value, 'Ah')} to put back"
    )
    origins, day_c = [usable.source, back.source, tail.source, takes.source], None
    how += too_few_words(low) + _full_words(source)
    if modules is not None:
        origins.append(modules.source)
        how = how if gives_a == source.limit_a else f"its modules give {how}"
        if study.rig.sun_share is not None:
            day_c = min(gives_a, takes.value) * study.rig.sun_share * DAY_S
    origin = joined(tuple(origins))
    bulk_s = usable.value * back.value / left_a if left_a > 0.0 else None
    falling_s = None if bulk_s is None else tail.value
    return Charging(
        about.name, about.label, names, left_a, bulk_s, falling_s, how, "", origin, day_c,
        gives_a,
    )  # fmt: skip


def _full_words(source: Source) -> str:
    """Which hours those of a source are that sun or wind drives."""
    occasion = OCCASIONS.get(source.traits.runs_with)
    return f"; {occasion.full}" if occasion is not None and occasion.full else ""


def _untold(source: Source, banks: tuple[str, ...], missing: str) -> Charging:
    """A source of which it cannot be told how long it charges."""
    about = source.about
    return Charging(about.name, about.label, banks, None, None, None, "", missing, None)


def _passed_on(
    study: Study, drive: SourceReach, found: Iterable[Use], reached: Collection[str]
) -> Iterator[tuple[str, float | None]]:
    """The converters among some terminals that charge another bank while the bank there is charged.

    Each with what it draws at what it is made for [A]; None where that is not known.
    """
    draws_a = {use.load: use.current_a for use in found}
    for load in study.rig.loads:
        if load.plus in reached and waits(study, drive, load):
            yield load.about.name.removesuffix(".in"), draws_a[load.about.name]


def _returned(banks: tuple[Source, ...]) -> Limit | None:
    """How much is put back into some banks for what was used of them together [-].

    Each takes its own share more, by its chemistry, of what is meant to be used of it. None where
    that is not known of one.
    """
    usable = usable_of(banks)
    shares = [(usable_share(one.chemistry), returned_share(one.chemistry)) for one in banks]
    if usable is None or not usable.value:
        return None
    total_c, sources = 0.0, []
    for bank, (used, back) in zip(banks, shares, strict=True):
        if used is None or back is None or not isinstance(bank.capacity_c, float):
            return None
        total_c += bank.capacity_c * used.value * back.value
        sources.append(back.source)
    return Limit(total_c / usable.value, joined(tuple(sources)))


def _worst(kinds: Iterable[str], look: Callable[[str], Limit | None]) -> Limit | None:
    """The largest figure of some chemistries; None where one is not known."""
    found = [look(kind) for kind in sorted(kinds)]
    known = [limit for limit in found if limit is not None]
    return max(known, key=lambda limit: limit.value) if len(known) == len(found) else None


def _takes(banks: tuple[Source, ...]) -> Limit | None:
    """The charge current that some banks take together [A]; None where one is not known."""
    an_hour = of_capacity(banks, taken_per_hour)
    return None if an_hour is None else replace(an_hour, value=an_hour.value / HOUR_S)
