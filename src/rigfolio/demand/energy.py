"""Energy: charge used a day, and how long a bank lasts.

A load uses what it draws when it is on alone times the share of the day that it runs. A load whose
current or hours are not known is never counted as nothing: it is listed, and every sum that
would hold it is a lower bound. Charge is in coulombs inside and in ampere-hours in print.
"""

from collections.abc import Callable, Iterator

from rigfolio.books import Limit, joined, usable_share
from rigfolio.demand.counting import unread_circuits
from rigfolio.demand.day_use import DayUse, Use, summed, unread_uses
from rigfolio.findings import Citation, Unknown
from rigfolio.isolation import (
    Condition,
    Open,
    SourceReach,
    opened,
    source_reach,
    states_of,
    uncharged,
)
from rigfolio.model import Load, Source
from rigfolio.operating import alone, drawn_in, worked
from rigfolio.record import record, replace
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import load_words

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
            if name in alive.get(load.plus, ()) and not waits(study, drive, load)
        } | {one.place for one in unread_circuits(study) if name in alive.get(one.start, ())}
        use = summed(name, battery.about.label, (u for u in found if u.load in fed))
        usable = usable_of(group)
        chargers = tuple(
            by
            for by in alive.get(battery.plus, ())
            if any(s.about.name == by and s.traits.charges for s in study.rig.sources)
        )
        yield Autonomy(
            state.name, tuple(s.about.name for s in group), usable.value if usable else None, use,
            _lasts(usable, use), chargers, usable.source if usable else None,
        )  # fmt: skip


def waits(study: Study, drive: SourceReach, load: Load) -> bool:
    """Whether a load is the input of a converter that charges a bank: it rests without charge."""
    name = load.about.name.removesuffix(".in")
    return name in drive.inputs and name != load.about.name and not _fed_by(study, drive, name)


def _lasts(usable: Limit | None, use: DayUse) -> float | None:
    if usable is None:
        return None
    if use.known_c == 0.0:
        return None if use.unknown else float("inf")
    return usable.value / use.known_c * DAY_S


def usable_of(banks: tuple[Source, ...]) -> Limit | None:
    """The charge that is meant to be used of some banks together [C]; None if not known."""
    return of_capacity(banks, usable_share)


def of_capacity(banks: tuple[Source, ...], share_of: Callable[[str], Limit | None]) -> Limit | None:
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
