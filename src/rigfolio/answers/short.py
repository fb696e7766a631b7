"""What a dead short does at some place: what flows, what opens, what burns."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from rigfolio.isolation import kept_names
from rigfolio.model import Device, Load
from rigfolio.network import ends
from rigfolio.record import record
from rigfolio.reports import (
    HANDS,
    JUDGED,
    AnswerOf,
    Chapter,
    Field,
    Listing,
    Paragraph,
    Part,
    Report,
    Sections,
    Value,
    items,
    remarks,
)
from rigfolio.shorts import (
    Case,
    Fault,
    Interrupt,
    OwnCutOff,
    cut_off_words,
    faults_of,
    hot_wires,
    hot_words,
    in_short,
    own_cut_off,
    selective_words,
    told_case,
    when_words,
)
from rigfolio.study import Study, as_fitted
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import (
    MUST_STAY_ON,
    closes_again_words,
    end_words,
    finder_of,
    found_instead,
    fuses_instead,
    in_a_row,
    load_words,
    rating_words,
    short_end,
    terminals_of,
    typed,
    unknown_copper,
    unknown_inside,
)

_TRACE = 0.001


@record
class _Told:
    """A fault, whether its first device may break it, and the loads that go dark with it.

    `comes_on` are those that come on, by a relay that rests closed. `own` is what batteries do that
    cut off by themselves.
    """

    fault: Fault
    interrupt: Interrupt | None
    dark: tuple[Load, ...]
    comes_on: tuple[Load, ...]
    own: OwnCutOff | None


def short_report(study: Study, name: str) -> Report:
    """What a bolted short does, for `rigfolio short FILE WHERE`.

    It is a short in the rig as it is: of a wire, a fuse or a breaker that was found in place of
    another one, what was found counts, and that is said.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    planned, study = study.rig, as_fitted(study)
    part = finder_of(study.rig).the(name)
    name, terminals = part.name, terminals_of(study.rig, part.kind, part.key).shorted
    told = _faults(study, terminals)
    faults = Sections(tuple(_fault(study, one) for one in told), "faults")
    parts: list[Part] = [Field("place", name), faults]
    if not told:
        words = (
            f"{name} lies on the minus side: a short from there to minus drives no current."
            if {study.side.get(end, "") for end in terminals} == {"-"}
            else f"No source of this text drives a current at {name}."
        )
        parts.append(Paragraph(words, gap=True))
    found = (found_instead(planned), fuses_instead(planned, _carrying(told)))
    parts += remarks(filter(None, found), hang=2)
    of = AnswerOf("short", study.rig.name, study.book.name)
    return Report(f"What a dead short does at {part}", (JUDGED, HANDS), tuple(parts), of=of)


def _faults(study: Study, terminals: Sequence[str]) -> tuple[_Told, ...]:
    """The faults at the plus terminals of a part, those that differ only in name once."""
    faults = faults_of(study)
    found: dict[tuple[object, ...], _Told] = {}
    for terminal in terminals:
        fault = faults.at(terminal)
        if fault is None:
            continue
        opens = fault.coldest.opens or fault.hottest.opens
        by = [opens.device] if opens is not None else []
        gone = in_short(study, faults.opened, by, _held_down(study, terminal, by))
        dark, on = (
            tuple(load for load in study.rig.loads if load.about.name in names)
            for names in (gone.dark, gone.comes_on)
        )
        breaks = faults.interrupt(by[0], (terminal,), fault.to) if by else None
        told = _Told(fault, breaks, dark, on, own_cut_off(study, fault))
        key = (_rounded(fault.coldest), _rounded(fault.hottest), *(one.about.name for one in by))
        found.setdefault(key, told)
    return tuple(found.values())


def _carrying(told: Sequence[_Told]) -> frozenset[str]:
    """The fuses and breakers that carry some of the faults, by name."""
    cases = (case for one in told for case in (one.fault.coldest, one.fault.hottest))
    return frozenset(blow.device.about.name for case in cases for blow in case.blows)


def _held_down(study: Study, terminal: str, by: Sequence[Device]) -> Collection[str]:
    """The terminals that a short holds down while it is there."""
    opened = {(device.line, device.load) for device in by}
    return study.net.walk(
        [terminal], lambda edge: isinstance(edge, Device) and ends(edge) in opened
    ).keys()


def _rounded(case: Case) -> float | None:
    amps = case.bound_a if case.current_a is None else case.current_a
    return None if amps is None else float(f"{amps:.3g}")


def _fault(study: Study, told: _Told) -> Chapter:
    rig, fault = study.rig, told.fault
    said = (
        _current(fault), _fed_by(fault), _opens(fault), *_endless(fault),
        when_words(fault), selective_words(fault), _breaks(told.interrupt, fault),
        cut_off_words(told.own, _first(fault)) if told.own is not None else "",
    )  # fmt: skip
    parts: tuple[Part, ...] = (
        Field("from", typed(short_end(rig, fault.terminal))),
        Field("to", typed(short_end(rig, fault.to))),
        Field("coldest", _case(fault.coldest)),
        Field("hottest", _case(fault.hottest)),
        *remarks(filter(None, said), hang=2),
        Field("goes_dark", [load_words(study.rig, load) for load in told.dark]),
        Listing("Goes dark with it:", items(_dark(study, told.dark))),
        Listing("COMES ON with it:", items(_dark(study, told.comes_on)), "comes_on"),
        *_cut_off(study, told),
        Listing("Gets hot:", items(hot_words(fault))),
        Field("interrupt", _interrupt(told.interrupt)),
        Field("ask", [source.about.name for source in fault.ask]),
        Field("unknown_wires", [wire.name for wire in fault.unknown]),
        Listing("Not known:", items(_unknown(fault))),
    )
    title = f"From {end_words(rig, fault.terminal)} to {end_words(rig, fault.to)}"
    return Chapter(title, parts)


def _current(fault: Fault) -> str:
    hot, cold = fault.hottest, fault.coldest
    most = cold.current_a if cold.current_a is not None else cold.bound_a
    if most is None and hot.current_a is None:
        return "What flows cannot be told: nothing that is known holds it back."
    words = f"{cold.words} nothing that is known holds it back"
    if most is not None:
        words = f"{show_load(most, 'A')} {cold.words}"
    if most is not None and cold.current_a is None:
        words = f"at most {words}, {_whatever(fault)}"
    if hot.current_a is None:
        return f"Flows: {words}; how little it may be cannot be told."
    return f"Flows: {words}; {show_limit(hot.current_a, 'A')} {hot.words}."


def _whatever(fault: Fault) -> str:
    """What is not known where no more can flow than told."""
    names = [source.about.name for source in fault.ask]
    wires = in_a_row(wire.name for wire in fault.unknown)
    have = "have" if len(names) > 1 else "has"
    inside = f"whatever {in_a_row(names)} {have} inside" if names else ""
    return ", ".join(filter(None, (inside, wires and f"as if {wires} had no resistance")))


def _fed_by(fault: Fault) -> str:
    """What each source gives, and what others of them take of it.

    Beside one that does not say what it has inside nobody can tell how much they give.
    """
    cold = fault.coldest
    least_a = _TRACE * sum(amps for _, amps in cold.sources)
    gives = [(name, amps) for name, amps in cold.sources if amps > least_a]
    takes = [(name, -amps) for name, amps in cold.sources if -amps > least_a]
    if not gives:
        return ""
    is_open = cold.current_a is None
    words = ", ".join(name if is_open else f"{name} {show_load(amps, 'A')}" for name, amps in gives)
    most = "up to " * is_open
    back = in_a_row(f"{most}{show_load(amps, 'A')} of it into {name}" for name, amps in takes)
    return f"Fed by {words}; {back}." if takes else f"Fed by {words}."


def _opens(fault: Fault) -> str:
    case = told_case(fault)
    first = case.opens
    if first is None and fault.hottest.stresses and not hot_wires(fault):
        return "Nothing opens: the wires on the way carry what flows. It goes on until it is found."
    if first is None:
        return (
            "NOTHING OPENS: no fuse and no breaker that would is in its way. The wire is the fuse."
        )
    times = f", at {first.overload:.0f} times its rating" if case.current_a is not None else ""
    words = f"Opens first: {first.device.about.name}, {rating_words(first.device)}{times}."
    return f"{words} THAT DOES NOT END IT." if _goes_on(fault) else words


def _goes_on(fault: Fault) -> bool:
    """Whether nothing opens on the way of a source."""
    return any(case.ends.endless for case in (fault.coldest, fault.hottest))


def _endless(fault: Fault) -> Iterator[str]:
    """The sources that go on where something opens for others, and what closes again of itself."""
    if (fault.hottest.opens or fault.coldest.opens) is None:
        return
    cases = (fault.coldest, fault.hottest)
    for name in dict.fromkeys(s.about.name for case in cases for s in case.ends.endless):
        yield f"{name}: NOTHING OPENS on its way to the short. The wire is the fuse."
    for name in dict.fromkeys(name for case in cases for name in case.ends.feeds_on):
        yield f"{name}: nothing is sure to open on its way, it goes on with what it is limited to."
    yield from map(closes_again_words, fault.closing_again)


def _breaks(found: Interrupt | None, fault: Fault) -> str:
    """Whether the first device may break what this very short drives through it, and from whom."""
    if found is None:
        return ""
    by = [source.about.name for source in found.by if found.bound_a is not None]
    limited = [end.source.about.name for end in fault.coldest.ends.each if end.is_limited]
    others = in_a_row(name for name in limited if by and name not in by)
    without = f" Without {others}: what limits itself folds back in a short (common practice)."
    return f"{_broken(found, fault)}{without if others else ''}"


def _broken(found: Interrupt, fault: Fault) -> str:
    is_beside = fault.terminal in (found.device.load, found.device.line)
    behind_it = "right behind it" if is_beside else "in this short"
    name = f"`{found.device.about.name}`"
    if found.rating is None:
        is_open = found.current_a is None and found.bound_a is None
        behind = "nothing known holds it back" if is_open else f"up to {found.most} can flow"
        return f"What {name} may interrupt is not known; {behind_it} {behind}."
    may = show_limit(found.rating.value, "A")
    if found.may is False:
        return f"TOO MUCH FOR {name}: it interrupts {may}, {behind_it} {found.flows} can flow."
    if found.may is None:
        return f"{name} interrupts {may}; whether more can flow {behind_it} cannot be told."
    return f"{name} interrupts {may}, {behind_it} at most {found.most} can flow."


def _first(fault: Fault) -> str:
    """The device that opens first, by name; empty where none does."""
    first = told_case(fault).opens
    return "" if first is None else first.device.about.name


def _cut_off(study: Study, told: _Told) -> Iterator[Part]:
    """What else is dark where batteries cut off by themselves."""
    own = told.own.names if told.own is not None else ()
    dark = told.own.dark if told.own is not None else ()
    names, verb = in_a_row(own), "cut" if len(own) > 1 else "cuts"
    more = [one for one in dark if one not in told.dark]
    yield Field("may_cut_off", list(own))
    yield Listing(f"Dark as well where {names} {verb} off:", items(_dark(study, more)), "cut_off")


def _dark(study: Study, loads: Sequence[Load]) -> Iterator[str]:
    kept = kept_names(study.rig)
    for load in sorted(loads, key=lambda one: one.about.name not in kept):
        must = f"{MUST_STAY_ON}: " if load.about.name in kept else ""
        yield f"{must}{load_words(study.rig, load)}"


def _unknown(fault: Fault) -> Iterator[str]:
    for source in fault.ask:
        yield unknown_inside(source.about.name)
    for source, limit in fault.assumed:
        name, ohm = source.about.name, show(limit.value, "mohm")
        by = f"{limit.how}, " if source.cranking_a is not None else ""
        yield f"`{name}` is taken at {ohm} inside for the weak case: {by}{limit.source}"
    if fault.unknown:
        yield unknown_copper(wire.name for wire in fault.unknown)


def _case(case: Case) -> Mapping[str, Value]:
    window = case.ends.window
    return {
        "current_a": case.current_a,
        "at_most_a": case.bound_a,
        "sources": dict(case.sources),
        "opens": case.opens.device.about.name if case.opens is not None else None,
        "ends_by": [device.about.name for device in case.ends.by],
        "never_ends_for": [source.about.name for source in case.ends.endless],
        "ends_after_s": None if window is None else window.min_s,
        "ends_within_s": None if window is None else window.max_s,
        "is_selective": case.is_selective,
        "wires": [
            {
                "wire": one.wire.name,
                "current_a": one.current_a,
                "takes_s": one.withstand_s,
                "holds": one.holds,
            }
            for one in case.stresses
        ],
    }


def _interrupt(found: Interrupt | None) -> Mapping[str, Value] | None:
    if found is None:
        return None
    return {
        "device": found.device.about.name,
        "interrupts_a": found.rating.value if found.rating is not None else None,
        "current_a": found.current_a,
        "at_most_a": found.bound_a,
        "may": found.may,
    }
