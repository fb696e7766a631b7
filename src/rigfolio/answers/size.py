"""Gauge and fuse of every circuit and feed: what is there, what would do, what decides."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from rigfolio.answers.demand import inputs_remark
from rigfolio.books import sun_figure
from rigfolio.demand import overheated_by_starts, sags_of, starting_sags, sun_drops
from rigfolio.findings import Unknown
from rigfolio.judgement import see_weighed
from rigfolio.protection import limit_in, parted
from rigfolio.reports import (
    HANDS,
    JUDGED,
    Amount,
    AnswerOf,
    Field,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    added_up,
    items,
    remarks,
)
from rigfolio.shorts import StartCurrent
from rigfolio.sizing import (
    ALIKE,
    BRIGHT,
    CONTINUOUS,
    LEAST_GAUGE,
    NO_DROP_LIMIT,
    NO_FIGURE,
    STARTS,
    FuseSize,
    Proposal,
    ToPull,
    WireSize,
    grown_by_sizes,
    left_words,
    sizes,
    to_pull,
    unlimited_words,
)
from rigfolio.study import Study
from rigfolio.units import Size, show, show_added, show_limit, show_load, time_words
from rigfolio.wording import called, found_remark, label_of, may_bear, with_kind

_COLUMNS = (
    ReportColumn("place", "place", 9),
    ReportColumn("label", "what", 17),
    ReportColumn("demand", "carries", 8),
    ReportColumn("fuse", "fuse", 14),
    ReportColumn("least_fuse", "least", 6),
    ReportColumn("wire", "wire", 17),
    ReportColumn("least_wire", "least", 7),
    ReportColumn("decisive", "by", 9),
)
_RULES = {
    "fuse-over-wire": "fuse",
    "unprotected-wire": "charger",
    "return-too-thin": "fuses",
    "return-overloaded": "demand",
    "wire-overloaded": "demand",
    "start-heats-wire": "start",
    "voltage-drop": "drop",
    "feeder-drop": "drop",
    "array-drop": "drop",
    "bright-sun": "sun",
    "chassis-bond-thin": "bond",
    ALIKE: "its twin",
    NO_FIGURE: "rule book",
    LEAST_GAUGE: "rule book",
    NO_DROP_LIMIT: "no limit",
    "": "stock",
}
_SUN_SOURCES = {
    BRIGHT: (("bright", "factor"), ("string_fuse", "factor")),
    "array-drop": (("drop", "share"),),
}
"""What stands behind needs between modules and their controller."""
_CAPS = {
    "fuse-over-slot": "the slot takes no more",
    "fuse-over-panel": "the panel behind it is made for no more",
    "alternator-fuse-large": "the line of its alternator may have no more",
    "array-fed-back": "the label of its modules allows no more",
}
_BACK = "more may come back into a string from the others than its modules bear"
_NOTES = (
    "The least is the thinnest copper, or the smallest rating, that would do in that place beside "
    "all the others as listed; the wires of a circuit that have to grow get one gauge, out and "
    "back. By: what forbids thinner wire; `rule book` forbids it or has no figure for it, `stock` "
    "has none.",
    "`->` leads to what has to be fitted; everything else stays, and is enough unless it is named "
    "above. A gauge or rating behind `?` was never read: what is listed there is what would do, "
    "not what is there.",
)


def size_report(study: Study, proposals: Iterable[Proposal] | None = None) -> Report:
    """What would do in every place, for `rigfolio size FILE`; refuses too many sources."""
    see_weighed(study.rig, "size")
    found = sizes(study) if proposals is None else tuple(proposals)
    title = f"Gauge and fuse of every circuit and feed: {study.rig.name}"
    title += f", rule book {study.book.name}"
    of = AnswerOf("size", study.rig.name, study.book.name)
    return Report(title, (JUDGED, HANDS), tuple(_parts(study, found)), of=of)


def _parts(study: Study, found: Sequence[Proposal]) -> Iterator[Part]:
    yield Field("proposals", [_proposal(one) for one in found])
    changes = items(words for one in found for words in _changes(study, one))
    yield Listing("To change:", changes)
    pulled = to_pull(study, found)
    if not changes and not pulled:
        yield Paragraph(
            f"No gauge and no rating of what could be sized has to change under rule book "
            f"{study.book.name}.",
            gap=True,
        )
    yield Field("to_pull", [_pulled(one) for one in pulled])
    yield Listing("Found there, and has to go:", items(one.words for one in pulled))
    yield from found_remark(study.rig)
    yield Listing("Never read; this would do there:", items(_unread(found)))
    stays = (*(w for one in found for w in _problems(study, one)), *left_words(study, found))
    yield Listing("Stays as it is, though it is not right:", items(stays))
    yield Listing("Cannot be sized until it is known:", items(_missing(found)))
    grown = grown_by_sizes(study)
    yield Field("grown", [{"rule": one.rule, "finding": one.headline} for one in grown])
    yield Listing(
        "Sizes do not mend this, and more copper lets more flow; see to it as well:",
        items(f"`{one.rule}`: {one.headline}" for one in grown),
    )
    if rows := tuple(row for one in found for row in _rows(one)):
        yield ReportTable("", _COLUMNS, rows)
        yield from remarks((*_NOTES, *unlimited_words(study, found)), gap=True)
        yield from inputs_remark(study)
    yield from remarks((f"Source: {source}." for source in _sources(study, found)), hang=4)


def _proposal(one: Proposal) -> Mapping[str, Value]:
    return {
        "place": one.place,
        "label": one.label,
        "kind": one.kind,
        "demand_a": one.demand_a,
        "moment_a": one.moment_a,
        "missing": one.missing,
        "problem": one.problem,
        "added": [{"wire": new.of, "fuse": new.to, "at": new.at} for new in one.added],
        "fuses": [
            {
                "name": fuse.name, "kind": fuse.kind, "verdict": fuse.verdict,
                "has_a": fuse.has_a, "fit_a": fuse.fit_a, "least_a": fuse.least_a,
                "needed_a": fuse.needed_a, "decisive": fuse.decisive,
                "strained_a": fuse.strained_a,
            }
            for fuse in one.fuses
        ],
        "wires": [
            {
                "names": wire.names, "verdict": wire.verdict,
                "has": None if isinstance(wire.has, Unknown) else wire.has.text,
                "fit": wire.fit.text, "least": wire.least.text, "decisive": wire.decisive,
                "needed_a": wire.needed_a, "in_parallel": wire.count,
            }
            for wire in one.wires
        ],
    }  # fmt: skip


def _pulled(one: ToPull) -> Mapping[str, Value]:
    found = one.wire.found
    return {
        "wire": one.wire.name,
        "found": found.text if isinstance(found, Size) else None,
        "fit": one.fit.text,
        "until": [{"name": device.about.name, "most_a": most_a} for device, most_a in one.until],
    }


def _missing(found: Iterable[Proposal]) -> list[str]:
    return [
        f"{called(one.place, one.label)}: {', '.join(one.missing)}" for one in found if one.missing
    ]


def _unread(found: Iterable[Proposal]) -> Iterator[str]:
    for one in found:
        place = called(one.place, one.label)
        for fuse in one.fuses:
            if fuse.verdict == "unread":
                yield f"{place}: {fuse.kind} {show_limit(fuse.fit_a, 'A')}{_for_start(fuse)}"
        for wire in one.wires:
            if wire.verdict == "unread":
                names = ", ".join(f"`{name}`" for name in wire.names)
                yield f"{place}: {wire.fit.text} for {names}"


def _problems(study: Study, one: Proposal) -> Iterator[str]:
    """Why a section stays as it is, and which ratings are strained."""
    if one.problem:
        yield f"{called(one.place, one.label)}: {one.problem}"
    for fuse in one.fuses:
        if fuse.strained_a:
            yield (
                f"{called(one.place, one.label)}: {show_added(fuse.strained_a, 'A')} run for hours "
                f"through a {show_limit(fuse.fit_a, 'A')} {fuse.kind}, more than it should carry "
                f"so long, and no larger one belongs there; {parted(study, [fuse.name])}"
            )


def _changes(study: Study, one: Proposal) -> Iterator[str]:
    """Each change of a section in one sentence: what it has, what to fit, and why."""
    place = called(one.place, one.label)
    for fuse in one.fuses:
        if fuse.verdict == "change":
            word = with_kind(fuse.kind, fuse.name) if fuse.name != one.place else fuse.kind
            yield (
                f"{place}: {word} {_amps(fuse.has_a)} -> {show_limit(fuse.fit_a, 'A')}: "
                f"{_fuse_reason(fuse)}"
            )
    for added in one.added:
        yield f"{place}: no fuse -> {added.to} at {added.at}, on `{added.of}`: {_BACK}"
    alike: dict[tuple[str, ...], list[WireSize]] = {}
    for wire in one.wires:
        if wire.verdict == "change" and isinstance(wire.has, Size):
            reason = _wire_reason(study, one, wire)
            alike.setdefault((_size(wire), wire.fit.text, reason), []).append(wire)
    for (has, fit, reason), wires in alike.items():
        names = ", ".join(f"`{name}`" for wire in wires for name in wire.names)
        yield f"{place}: {names} {has} -> {fit}: {reason}"


def _fuse_reason(fuse: FuseSize) -> str:
    if fuse.decisive in _CAPS:
        return _CAPS[fuse.decisive]
    if fuse.decisive == "fuse-over-wire":
        enough = f"{show_added(fuse.needed_a, 'A')} are enough for its loads"
        enough = enough if fuse.needed_a else "what hangs on it nobody has read"
        return f"its wires allow no larger one, and {enough}"
    if fuse.decisive == CONTINUOUS:
        return f"what runs for hours asks for {show_added(fuse.needed_a, 'A')}"
    if fuse.decisive == BRIGHT:
        return f"modules in bright sun ask for {show_added(fuse.needed_a, 'A')}"
    if fuse.decisive == STARTS and fuse.start is not None:
        return _start_words(fuse.start)
    return f"{show_added(fuse.needed_a, 'A')} run through it"


def _for_start(fuse: FuseSize) -> str:
    return f": {_fuse_reason(fuse)}" if fuse.decisive == STARTS and fuse.start is not None else ""


def _start_words(start: StartCurrent) -> str:
    starts = f"`{label_of(start.load)}` starts at {show_load(start.current_a, 'A')}"
    return f"{starts} for {start.lasts}, and a smaller one may open"


def _wire_reason(study: Study, one: Proposal, wire: WireSize) -> str:
    """Why a gauge has to change, with the numbers that decide."""
    has = wire.has
    if isinstance(has, Unknown):
        return ""
    if wire.decisive == "feeder-drop":
        return f"{show_limit(study.book.feeder_drop_share().value, '%')} are left to a feeder"
    if wire.decisive == "voltage-drop":
        return _drop_reason(study, one)
    if wire.decisive == "array-drop":
        return _sun_reason(study, wire)
    if wire.decisive == ALIKE:
        return "leads of batteries side by side have one gauge"
    if wire.decisive == "start-heats-wire":
        return _heat_reason(study, wire)
    if wire.decisive in (LEAST_GAUGE, NO_DROP_LIMIT):
        return f"rule book `{study.book.name}` allows no thinner wire"
    if wire.decisive == "chassis-bond-thin":
        if study.book.chassis_bond_m2() is None:
            return "the bond to the frame matches the largest fuse of its battery"
        return "the bond to the frame has a least gauge, or matches the lead on the plus post"
    return _carrying_reason(study, wire, has)


def _carrying_reason(study: Study, wire: WireSize, has: Size) -> str:
    """What runs in a wire, or can, and what it may carry."""
    conductor = study.rig.conductor(wire.name)
    is_demand = wire.decisive in ("wire-overloaded", "return-overloaded", BRIGHT)
    limit = (study.carries_all_of if is_demand else partial(limit_in, study))(conductor, has)
    may = f"it {may_bear(limit)}" if limit else "the rule book has no figure"
    doing = "run at one time" if is_demand else "can flow in"
    doing = {BRIGHT: "run in bright sun", "return-too-thin": "can come back"}.get(
        wire.decisive, doing
    )
    return f"{show_added(wire.needed_a, 'A')} {doing}, {may}"


def _drop_reason(study: Study, one: Proposal) -> str:
    starting = {sag.load.about.name: sag for _, sag in starting_sags(study)}
    sags = (*sags_of(study), *starting.values())
    sag = next((s for s in sags if s.load.circuit == one.place), None)
    if sag is None:
        return "the loads behind it lose too much voltage"
    if sag.drop.collapses:
        return "the load pulls the voltage to collapse"
    when = "while it starts" if starting.get(sag.load.about.name) is sag else "on the way"
    return (
        f"{show_load(sag.drop.share, '%')} are lost {when}, "
        f"{show_limit(sag.allowed.value, '%')} are allowed"
    )


def _sun_reason(study: Study, wire: WireSize) -> str:
    lost = (d for d in sun_drops(study) if any(w.name in wire.names for w, _ in d.by_wire))
    drop = max(lost, key=lambda one: one.share, default=None)
    if drop is None:
        return "the modules lose too much voltage on the way"
    return f"`{drop.array.about.name}` loses {show_load(drop.share, '%')} on its way"


def _heat_reason(study: Study, wire: WireSize) -> str:
    hot = next((o for o in overheated_by_starts(study) if o.wire.name in wire.names), None)
    if hot is None:
        return "a start that lasts makes it too hot"
    return (
        f"{show_load(hot.current_a, 'A')} for {time_words(hot.start.time_s)} while "
        f"`{label_of(hot.start.load)}` starts make it too hot"
    )


def _amps(value: float | None) -> str:
    return "?" if value is None else show(value, "A")


def _size(wire: WireSize) -> str:
    return _several(wire, "?" if isinstance(wire.has, Unknown) else wire.has.text)


def _several(wire: WireSize, text: str) -> str:
    return f"{wire.count} x {text}" if wire.count > 1 else text


def _rows(one: Proposal) -> Iterator[tuple[Value, ...]]:
    """The rows of a section in the table: wires alike in one row, devices beside them."""
    none: tuple[Value, ...] = ("", "", "")
    fuses = [_fuse_cells(one, fuse) for fuse in one.fuses]
    wires = _alike(one)
    for number in range(max(len(fuses), len(wires))):
        is_open = not (one.demand_a or one.moment_a) and (one.missing or one.kind == "circuit")
        drawn = "?" if is_open else added_up(one.demand_a, one.moment_a)
        head = none if number else (one.place, one.label, drawn)
        fuse = fuses[number] if number < len(fuses) else none[:2]
        wire = wires[number] if number < len(wires) else none
        yield (*head, *fuse, *wire)


def _fuse_cells(one: Proposal, fuse: FuseSize) -> tuple[Value, ...]:
    """What is fitted or to be fitted, and the least that would do."""
    name = "" if fuse.name == one.place else f"{fuse.name} "
    fit = show_limit(fuse.fit_a, "A")
    words = fit if fuse.verdict == "enough" else f"{_amps(fuse.has_a)} -> {fit}"
    return f"{name}{words}", "" if fuse.least_a is None else Amount(fuse.least_a, "A", 4, "load")


def _alike(one: Proposal) -> list[tuple[str, str, str]]:
    """Gauge, least and what decides, of wires that are alike in all of it."""
    held: dict[tuple[str, str, str], list[str]] = {}
    for wire in one.wires:
        words = _size(wire)
        if wire.found is not None:
            words = f"{_several(wire, wire.found.text)} found -> {wire.fit.text}"
        elif wire.verdict != "enough":
            words = f"{words} -> {wire.fit.text}"
        key = (words, wire.least.text, _RULES.get(wire.decisive, wire.decisive))
        held.setdefault(key, []).append(wire.name)
    many = len(one.wires) > 1
    return [
        (f"{words}: {', '.join(names)}" if many else words, least, rule)
        for (words, least, rule), names in held.items()
    ]


def _sources(study: Study, found: Iterable[Proposal]) -> Iterator[str]:
    """Where the figures come from that decided."""
    titles: dict[str, None] = {str(study.book.source): None}
    for one in found:
        for wire in one.wires:
            if wire.verdict != "enough":
                limit = limit_in(study, study.rig.conductor(wire.name), wire.fit)
                titles |= {str(limit.source): None} if limit else {}
        decisive = {fuse.decisive for fuse in one.fuses} | {wire.decisive for wire in one.wires}
        for rule, keys in _SUN_SOURCES.items():
            if rule in decisive:
                titles |= {str(sun_figure(*key).source): None for key in keys}
        if any(fuse.decisive == CONTINUOUS for fuse in one.fuses):
            share = study.book.continuous_share()
            titles[f"{share.source}, {share.value:.0%} for hours"] = None
    yield from titles
