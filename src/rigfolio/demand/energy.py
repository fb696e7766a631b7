"""Energy: charge used a day, how long a bank lasts, how long charging takes.

A load uses what it draws when it is on alone times the share of the day that it runs. A load whose
current or hours are not known is never counted as nothing: it is listed, and every sum that
would hold it is a lower bound. Charge is in coulombs inside and in ampere-hours in print.
"""

from collections.abc import Callable, Collection, Iterable, Iterator

from rigfolio.books import Limit, joined, returned_share, tail_s, taken_per_hour, usable_share
from rigfolio.demand.counting import unread_circuits
from rigfolio.demand.day_use import DayUse, Use, summed, unread_uses
from rigfolio.demand.sun import given_a, too_few_volts, too_few_words
from rigfolio.findings import Citation, Unknown
from rigfolio.isolation import (
    Condition,
    Open,
    SourceReach,
    bank_joins,
    opened,
    source_reach,
    states_of,
    uncharged,
)
from rigfolio.kinds import OCCASIONS
from rigfolio.model import Load, Source
from rigfolio.network import never_closed
from rigfolio.operating import alone, drawn_in, worked
from rigfolio.record import record, replace
from rigfolio.study import Study
from rigfolio.units import show, show_added, show_limit
from rigfolio.wording import in_a_row, load_words

DAY_S = 86400.0
HOUR_S = 3600.0
AH_C = 3600.0
"""Coulombs in an ampere-hour."""
_SAME_VOLTS = 1.5
"""Nominal and resting volts of one system differ by less, two systems by more."""


@record
class Autonomy:
    """How long banks last in a state with nothing charging them.

    `banks` are batteries joined plus to plus in it. `usable_c` [C] is None where a capacity or a
    chemistry is not known; `lasts_s` [s] is None where that or every use is not known, infinite
    where nothing is used. With loads in `unknown` it is an upper bound.
    """

    state: str
    banks: tuple[str, ...]
    usable_c: float | None
    use: DayUse
    lasts_s: float | None
    charging: tuple[str, ...]
    source: Citation | None


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


def uses(study: Study) -> tuple[Use, ...]:
    """What every load uses in a day; inputs of converters follow what hangs on their output."""
    plain = {load.about.name: _use(study, load) for load in study.rig.loads}
    drive = source_reach(study)
    for name in drive.inputs:
        key = f"{name}.in"
        if key in plain:
            plain[key] = _converter(study, drive, plain, name)
            for one in _fed_by(study, drive, name):
                load, at_v = one.about.name, study.volts.get(one.plus)
                if load != key:
                    plain[load] = replace(plain[load], within=key, within_v=at_v)
    return (*plain.values(), *unread_uses(study))


def use_of_rig(study: Study) -> DayUse:
    """What the rig uses in a day, the loads behind converters counted at the converter's input.

    Raises
    ------
    ValueError
        The rig has loads on different volts; ampere-hours of different volts do not add up.
    """
    found = uses(study)
    behind = _behind_converters(study)
    counted = [use for use in found if use.load not in behind]
    volts = {
        study.volts.get(load.plus)
        for load in study.rig.loads
        if load.about.name not in behind and load.plus in study.volts
    }
    known = sorted(v for v in volts if v)
    if known and known[-1] > _SAME_VOLTS * known[0]:
        raise ValueError(f"loads on {show(known[0], 'V')} and on {show(known[-1], 'V')}")
    return summed(study.rig.name, "", counted)


def autonomy(study: Study, *, charged: bool = False) -> tuple[Autonomy, ...]:
    """How long each bank lasts in each state with nothing charging it.

    Nothing then holds combiners in: banks are told apart that only charging joins. With `charged`
    they are told as they are joined in each state.
    """
    drive, found = source_reach(study), uses(study)
    return tuple(
        one
        for state in states_of(study, drive)
        for one in _autonomy(study, drive, found, state if charged else uncharged(study, state))
    )


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


def _use(study: Study, load: Load) -> Use:
    current = drawn_in(study, load, alone(study, load)).current_a
    known = None if isinstance(current, Unknown) else current
    missing = []
    if known is None:
        missing.append("what it draws")
    if load.day_share is None:
        missing.append("how long it runs a day")
    if isinstance(load.rest_a, Unknown):
        missing.append("what it takes at rest")
    day_c = None
    if known is not None and load.day_share is not None and not isinstance(load.rest_a, Unknown):
        rest_a = load.rest_a or 0.0
        day_c = (known * load.day_share + rest_a * (1.0 - load.day_share)) * DAY_S
    return Use(
        load.about.name, load_words(study.rig, load), load.circuit, known, load.day_share, day_c,
        " and ".join(missing),
    )  # fmt: skip


def _fed_by(study: Study, drive: SourceReach, name: str) -> tuple[Load, ...]:
    """The loads on the output of a converter that has no battery there."""
    source = study.rig.by_name.sources[name]
    if name not in drive.passes_on:
        return ()
    reached = drive.net.walk([source.plus])
    return tuple(load for load in study.rig.loads if load.plus in reached)


def _behind_converters(study: Study) -> frozenset[str]:
    drive = source_reach(study)
    return frozenset(
        load.about.name for name in drive.inputs for load in _fed_by(study, drive, name)
    )


def _converter(study: Study, drive: SourceReach, known: dict[str, Use], name: str) -> Use:
    """The input of a converter: what its output gives in a day, by the ratio of its currents."""
    use = known[f"{name}.in"]
    source = study.rig.by_name.sources[name]
    loads = [load for load in _fed_by(study, drive, name) if load.about.name != use.load]
    if not loads:
        return use
    parts = [known[load.about.name] for load in loads]
    if use.current_a is None or not isinstance(source.limit_a, float):
        missing = "what it draws at its rated output"
        return Use(use.load, use.label, use.circuit, use.current_a, None, None, missing)
    out_c = sum(part.day_c for part in parts if part.day_c is not None)
    day_c = out_c * use.current_a / source.limit_a
    share = day_c / use.current_a / DAY_S if use.current_a else None
    gaps = tuple(part.label for part in parts if part.day_c is None)
    return Use(use.load, use.label, use.circuit, use.current_a, share, day_c, gaps=gaps)


def _as_used(study: Study, state: Condition) -> Open:
    """What is open in a state while loads run of which the text says for how long a day.

    What rests open is closed for its load then, by whom or whatever that may be.
    """
    state_ = opened(study.rig, state)
    timed = [one.about.name for one in study.rig.loads if one.day_share]
    running = [one.about.name for one in study.rig.sources if one.about.name not in state_.sources]
    stated = {one.part for one in state.settings if one.is_stated}
    return worked(study, state_, timed, running, stated)


def _autonomy(
    study: Study, drive: SourceReach, found: tuple[Use, ...], state: Condition
) -> Iterator[Autonomy]:
    open_ = _as_used(study, state)
    alive = drive.alive(open_)
    batteries = [s for s in study.rig.sources if s.stores]
    grouped: set[str] = set()
    for battery in batteries:
        name = battery.about.name
        if name in grouped or name in open_.sources:
            continue
        group = tuple(s for s in batteries if s.about.name in alive.get(battery.plus, ()))
        grouped |= {s.about.name for s in group}
        fed = {
            load.about.name
            for load in study.rig.loads
            if name in alive.get(load.plus, ()) and not _waits(study, drive, load)
        } | {one.place for one in unread_circuits(study) if name in alive.get(one.start, ())}
        use = summed(name, battery.about.label, (u for u in found if u.load in fed))
        usable = _usable(group)
        chargers = tuple(
            by
            for by in alive.get(battery.plus, ())
            if any(s.about.name == by and s.traits.charges for s in study.rig.sources)
        )
        yield Autonomy(
            state.name, tuple(s.about.name for s in group), usable.value if usable else None, use,
            _lasts(usable, use), chargers, usable.source if usable else None,
        )  # fmt: skip


def _waits(study: Study, drive: SourceReach, load: Load) -> bool:
    """Whether a load is the input of a converter that charges a bank: it rests without charge."""
    name = load.about.name.removesuffix(".in")
    return name in drive.inputs and name != load.about.name and not _fed_by(study, drive, name)


def _lasts(usable: Limit | None, use: DayUse) -> float | None:
    if usable is None:
        return None
    if use.known_c == 0.0:
        return None if use.unknown else float("inf")
    return usable.value / use.known_c * DAY_S


def _usable(banks: tuple[Source, ...]) -> Limit | None:
    """The charge that is meant to be used of some banks together [C]; None if not known."""
    return _of_capacity(banks, usable_share)


def _of_capacity(
    banks: tuple[Source, ...], share_of: Callable[[str], Limit | None]
) -> Limit | None:
    """A share of the capacity of some banks, by their chemistry; None where one is not known."""
    total_c = 0.0
    sources = []
    for bank in banks:
        share = share_of(bank.chemistry)
        if share is None or not isinstance(bank.capacity_c, float):
            return None
        total_c += bank.capacity_c * share.value
        sources.append(share.source)
    return Limit(total_c, joined(tuple(sources))) if sources else None


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
    usable, takes = _usable(banks), _takes(banks)
    back, tail = _returned(banks), _worst({bank.chemistry for bank in banks}, tail_s)
    if usable is None or back is None or tail is None or takes is None:
        return _untold(source, names, "capacity and chemistry of every bank")
    if not isinstance(source.limit_a, float):
        return _untold(source, names, "what it can deliver")
    reached = study.net.walk((bank.plus for bank in banks), state.bars)
    rests = {one.about.name for one in study.rig.loads if _waits(study, drive, one)}
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
        if load.plus in reached and _waits(study, drive, load):
            yield load.about.name.removesuffix(".in"), draws_a[load.about.name]


def _returned(banks: tuple[Source, ...]) -> Limit | None:
    """How much is put back into some banks for what was used of them together [-].

    Each takes its own share more, by its chemistry, of what is meant to be used of it. None where
    that is not known of one.
    """
    usable = _usable(banks)
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
    an_hour = _of_capacity(banks, taken_per_hour)
    return None if an_hour is None else replace(an_hour, value=an_hour.value / HOUR_S)
