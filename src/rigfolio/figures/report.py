"""The calculation of a rig: what decides each circuit and feed, and how to repeat it by hand."""

import math
import re
from collections.abc import Iterable, Iterator, Sequence

from rigfolio.demand import Drop
from rigfolio.figures.calculation import (
    Calculation,
    LetteredLimits,
    LoadLine,
    SectionLine,
    WireLine,
    calculation,
    line_of_load,
    section_lines,
)
from rigfolio.figures.formulas import currents, formulas, not_counted
from rigfolio.figures.scenarios import ScenarioDrops, drops_by_scenario, said_draw
from rigfolio.figures.shorts import Short
from rigfolio.figures.sun_side import SunLine, sun_lines
from rigfolio.findings import Finding, Unknown
from rigfolio.model import Conductor
from rigfolio.protection import guard_of, guard_of_circuit, guard_words
from rigfolio.reports import (
    JUDGED,
    Amount,
    Listing,
    Paragraph,
    Part,
    PlaceName,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    added_up,
    items,
)
from rigfolio.shorts import starts_table
from rigfolio.study import Study, as_it_is
from rigfolio.units import show, show_added, show_against, show_limit, show_load
from rigfolio.values import MINUS
from rigfolio.wording import (
    amps,
    fitted_there,
    found_remark,
    module_words,
    most_amps,
    on_paper,
)

_SECTIONS = (
    "place", "label", "demand", "wires", "carries", "guard", "largest", "drop", "share", "short",
    "clears", "verdict", "decided",
)  # fmt: skip
_SHORTS = (
    "place", "source", "volts", "inside", "way", "copper", "least", "opens", "clears", "most",
)  # fmt: skip
_BEARS = ("mark", "carries", "how", "largest", "source")
_WIRES = (
    "wire", "source", "size", "length", "current", "ambient", "rated", "at_limit", "carries",
    "copper_at", "resistance", "drop",
)  # fmt: skip
_LOADS = (
    "load", "circuit", "draws", "volts", "current", "runs", "way", "drop", "share",
)  # fmt: skip
_SCENARIOS = (
    "load", "circuit", "alone", "alone_share", "hours", "hours_share", "all", "all_share",
    "judged", "judged_share", "allowed",
)  # fmt: skip
_SUN = (
    "modules", "made_of", "open", "cold", "how", "controller", "input", "current", "drop", "share",
)  # fmt: skip
_COPPER = ("size", "metre", "foot", "cable")
_FOOT_M = 0.3048
_MOST_LETTERS = 60
_MOST_LABEL = 100
_KINDS = (
    ("what `", "draw of", "load"), ("the length of", "length of", "wire"),
    ("what the slots", "slots of", "panel"), ("the way of", "way of", "load"),
)  # fmt: skip
"""How what is not known begins, and what it is called in short."""


def calculation_report(study: Study, findings: Sequence[Finding] = ()) -> Report:
    """Every figure of a rig with what it takes to repeat it, for the calculation sheet."""
    there = as_it_is(study)
    parts = (*_parts(there, calculation(study, findings)), *found_remark(study.rig, has_fuses=True))
    return Report(f"Calculation: {study.rig.name}", (JUDGED,), parts)


def loads_table(study: Study) -> ReportTable:
    """The loads of that report, which take little to be worked out."""
    there = as_it_is(study)
    return _load_table(line_of_load(there, load) for load in there.rig.loads)


def sections_table(study: Study, findings: Sequence[Finding] = ()) -> ReportTable:
    """Its circuits and feeds, without what a short does."""
    return _section_table(as_it_is(study), section_lines(study, LetteredLimits(study), findings))


def _load_table(lines: Iterable[LoadLine]) -> ReportTable:
    return _table("Loads", _LOADS, map(_load, lines), "loads")


def _section_table(study: Study, lines: Iterable[SectionLine]) -> ReportTable:
    rows = (_section(study, one) for one in lines)
    return _table("Circuits and feeds", _SECTIONS, rows, "sections")


def _parts(study: Study, whole: Calculation) -> Iterator[Part]:
    shorts = (_short(line, line.short) for line in whole.sections if line.short)
    yield _section_table(study, whole.sections)
    bears = (
        (
            one.mark, Amount(one.carries.value, "A", 4, "limit"), one.carries.how,
            Amount(one.largest.value, "A", 4, "limit"), str(one.largest.source),
        )
        for one in whole.bears
    )  # fmt: skip
    yield _table("What wires may carry", _BEARS, bears, "carries")
    yield _table("What each wire loses", _WIRES, map(_wire, whole.wires), "wires")
    yield _load_table(whole.loads)
    drops = map(_scenario, drops_by_scenario(study))
    yield _table("Drops by what is on, from the posts", _SCENARIOS, drops, "drops")
    yield starts_table(study, "Starts, through the device of the circuit")
    sun = (_sun(study, one) for one in sun_lines(study))
    yield _table("Modules and controllers", _SUN, sun, "sun")
    yield _table("Shorts at the far end", _SHORTS, shorts, "shorts")
    copper = (
        (
            one.size.text,
            Amount(one.ohm_per_m, "mΩ", 4),
            Amount(one.ohm_per_m * _FOOT_M, "mΩ", 4),
            one.taken.words,
        )
        for one in whole.copper
    )
    yield _table("Copper", _COPPER, copper, "copper")
    yield Listing("How it is worked out", items(currents(study)), "how")
    yield from (Paragraph(words, "not_counted") for words in not_counted(study, whole))
    yield Listing("", items(formulas(study, whole)), "losses")


def _table(
    title: str, keys: Sequence[str], rows: Iterable[tuple[Value, ...]], key: str
) -> ReportTable:
    return ReportTable(title, tuple(ReportColumn(one) for one in keys), tuple(rows), key)


def _section(study: Study, line: SectionLine) -> tuple[Value, ...]:
    section, bears, drop = line.section, line.bears, line.drop
    weakest = f": {line.weakest}" if line.weakest else ""
    return (
        section.place,
        _label(section.label),
        "?" if section.missing else added_up(line.demand_a, line.moment_a),
        _wires_words(line),
        f"{show_limit(bears.carries.value, 'A', 4)} ({bears.mark}){weakest}" if bears else "?",
        _fuses_words(study, line),
        "" if line.largest_a is None else most_amps(line.largest_a),
        "" if drop is None else _lost(drop, drop.volts, "V"),
        _share(line),
        "" if line.short is None else _least(line.short.least_a),
        "" if line.short is None else _clears(line.short),
        _verdict(line),
        _decided(line),
    )


def _sun(study: Study, line: SunLine) -> tuple[Value, ...]:
    """An array: its volts against what the input bears, and what is lost on the way."""
    array, drop, cold = line.array, line.drop, line.cold
    coldest_c = study.rig.coldest_c
    at = "" if coldest_c is None else f"at {coldest_c:g} °C: "
    return (
        PlaceName(array.about.name, str(array.about)),
        ", ".join(module_words(array.modules)) if array.modules is not None else "",
        None if line.open_v is None else Amount(line.open_v, "V", 4),
        None if cold is None else Amount(cold.value, "V", 3, "load"),
        "" if cold is None else f"{at}{cold.source}{f'; {cold.how}' if cold.how else ''}",
        line.controller.about.name,
        None if line.most_v is None else Amount(line.most_v, "V", 4, "limit"),
        None if drop is None else added_up(drop.current_a),
        None if drop is None else Amount(drop.lost_v, "V", side="load"),
        None if drop is None else Amount(drop.share, "%", side="load"),
    )


def _current(current_a: float | None) -> Value:
    return None if current_a is None else added_up(current_a)


def _least(current_a: float | None) -> Value:
    """The least that a short draws, which what opens can count on."""
    return None if current_a is None else Amount(current_a, "A", 4, "limit")


def _clears(short: Short) -> str:
    """The longest that a short goes on."""
    if short.least_a is None or short.clears_s is None:
        return "?"
    if math.isinf(short.clears_s):
        return "never"
    words = show_load(short.clears_s, "s")
    return f"under {words}" if short.is_bound else words


def _short(line: SectionLine, short: Short) -> tuple[Value, ...]:
    feed = short.feed
    most = "" if short.most_a is None else show_load(short.most_a, "A", 4)
    if feed is None:
        source = ", ".join(f"{name} not told" for name in short.ask) or "several ways"
        parts = ", ".join(f"{name} {show_load(amps, 'A', 4)}" for name, amps in short.parts)
        cells: tuple[Value, ...] = (source, "", "", parts, "")
    else:
        mark = " usual" if feed.assumed is not None else ""
        cells = (
            feed.source.about.name,
            Amount(feed.source.voltage_v, "V", 4),
            f"{show(feed.inside_ohm, 'mΩ', 4)}{mark}",
            ", ".join(wire.name for wire in feed.way),
            Amount(feed.copper_ohm, "mΩ", 4),
        )
    return (
        line.section.place,
        *cells,
        _least(short.least_a),
        ", ".join(short.opens) or ("nothing" if _clears(short) == "never" else "?"),
        _clears(short),
        most if short.is_sure or not most else f"under {most}",
    )


def _wire(line: WireLine) -> tuple[Value, ...]:
    wire = line.wire
    return (
        PlaceName(
            wire.name, wire.name.replace("-", MINUS) if wire.name.endswith("-") else wire.name
        ),
        line.source,
        _size(wire),
        _length(wire),
        added_up(line.current_a),
        f"{line.ambient_c:g} °C",
        f"{line.rated_c:g} °C",
        f"{line.limit_c:.4g} °C",
        None if math.isnan(line.limit_a) else Amount(line.limit_a, "A", 4, "limit"),
        f"{line.hot_c:.1f} °C",
        Amount(line.ohm, "mΩ", 4),
        Amount(line.drop_v, "V", 4, "load"),
    )


def _load(line: LoadLine) -> tuple[Value, ...]:
    load, drop = line.load, line.drop
    return (
        PlaceName(load.about.name, str(load.about)),
        load.circuit,
        said_draw(load),
        Amount(line.nominal_v, "V", 4),
        _current(line.current_a),
        load.duty,
        _way(line),
        None if drop is None else _lost(drop, drop.volts, "V"),
        None if drop is None else _lost(drop, drop.share, "%"),
    )


def _scenario(line: ScenarioDrops) -> tuple[Value, ...]:
    load, drop = line.load, line.expected
    hours = _part(line.hours_v, line.nominal_v) if "hours" in line.scenarios else ("", "")
    whole = _part(line.at_once_v, line.nominal_v) if "all" in line.scenarios else ("", "")
    return (
        PlaceName(load.about.name, str(load.about)),
        load.circuit,
        *_part(line.alone_v, line.nominal_v),
        *hours,
        *whole,
        None if drop is None else _lost(drop, drop.volts, "V"),
        None if drop is None else _lost(drop, drop.share, "%"),
        show_limit(line.share, "%"),
    )


def _part(lost_v: float | None, nominal_v: float) -> tuple[Value, Value]:
    """A drop in volts and as a share of what the system has."""
    if lost_v is None:
        return None, None
    if math.isinf(lost_v):
        return "collapses", ""
    return Amount(lost_v, "V", side="load"), Amount(lost_v / nominal_v, "%", side="load")


def _label(label: str) -> str:
    """What a circuit or feed is called, without the words in brackets where that is long."""
    return label if len(label) <= _MOST_LABEL else re.sub(r" \(.*?\)(?= and |$)", "", label)


def _lost(drop: Drop, value: float, unit: str) -> Value:
    """What is lost; where the load pulls the voltage to collapse there is no such figure."""
    return "collapses" if drop.collapses else Amount(value, unit, side="load")


def _share(line: SectionLine) -> str:
    """The drop and what is allowed, `1.59 of 3 %`."""
    if line.drop is None or line.allowed is None:
        return ""
    if line.drop.collapses:
        return ""
    share, allowed = show_against(line.drop.share, line.allowed.value, "%")
    return f"{share.removesuffix(' %')} of {allowed}"


def _wires_words(line: SectionLine) -> str:
    """Sizes and lengths, each once, with the wires that have them."""
    held: dict[str, list[str]] = {}
    wires = [wire for group in line.section.groups for wire in group.wires]
    for wire in wires:
        name = wire.name.removeprefix(line.section.place)
        held.setdefault(f"{_size(wire)} {_length(wire)}", []).append(name)
    # A return stands under the name of its one wire, which needs no telling twice.
    return "; ".join(
        f"{words}: {', '.join(name or line.section.place for name in names)}"
        if any(names)
        else words
        for words, names in held.items()
    )


def _size(wire: Conductor) -> str:
    text = "?" if isinstance(wire.size, Unknown) else wire.size.text
    return f"{wire.count} x {text}" if wire.count > 1 else text


def _length(wire: Conductor) -> str:
    if isinstance(wire.length_m, Unknown):
        return "? length"
    if not wire.is_in_feet:
        return show(wire.length_m, "m", 4)
    return show(wire.length_m, "ft" if wire.length_m >= _FOOT_M else "in", 4)


def _fuses_words(study: Study, line: SectionLine) -> str:
    """What guards the wires of a circuit or feed, each device once, or why nothing does."""
    if line.returns_a is not None:
        if math.isinf(line.returns_a):
            return "back: all of a battery"
        return f"back: {show_added(line.returns_a, 'A')}"
    circuit = study.circuit(line.section.place)
    wires = [wire for group in line.section.groups for wire in group.wires]
    guards = [guard_of(study, wire) for wire in wires]
    if circuit is not None:
        guards.insert(0, guard_of_circuit(study, circuit))
    held = [d for one in guards if one.why in ("guarded", "over") for d in one.devices]
    if not wires:
        held += line.section.devices
    place = line.section.place
    words = [
        ("" if d.about.name == place else f"{d.about.name} ")
        + fitted_there(study.rig, d, amps(d.rating_a))
        for d in {d.about.name: d for d in held}.values()
    ]
    reasons = [guard_words(study, wire) for wire in wires]
    return ", ".join(words) or next(iter(reasons), "none")


def _verdict(line: SectionLine) -> str:
    words = [f"{grade.upper()}: {rule}" for grade, rule, _ in line.found]
    if line.section.missing:
        words.insert(0, f"not known: {_missing(line.section.missing)}")
    is_over = line.drop and line.allowed and line.allowed.is_broken_by(line.drop.share)
    plain = f"no finding: told of {line.told_of}" if is_over and line.told_of else "no finding"
    return "; ".join(dict.fromkeys(words)) or plain


def _decided(line: SectionLine) -> str:
    """The figures that decide the verdict, as each finding says them."""
    return "; ".join(f"{rule}: {on_paper(figures)}" for _, rule, figures in line.found)


def _missing(missing: Sequence[str]) -> str:
    """What is not known; where that is long, how much of each kind."""
    whole = ", ".join(missing)
    if len(whole) <= _MOST_LETTERS:
        return whole
    held = [(sum(one.startswith(start) for one in missing), what, of) for start, what, of in _KINDS]
    return ", ".join(f"{what} {n} {of}{'s' if n > 1 else ''}" for n, what, of in held if n)


def _way(line: LoadLine) -> str:
    """The source that a load is reckoned from, and the wires out and back."""
    if line.drop is None:
        return "not known"
    return f"{line.source}: {', '.join(wire.name for wire in line.way)}"
