"""Calculation sheet: what decides each circuit and feed, and all it takes to repeat it by hand.

One line for each circuit and feed; then what wires may carry with every correction written out,
what each wire loses, what each load draws, the copper, and the formulas with their constants.
"""

import math
import re
from collections.abc import Iterator, Sequence

from rigfolio.answers import (
    Calculation,
    LoadLine,
    SectionLine,
    Short,
    WireLine,
    calculation,
    formulas,
)
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.findings import Unknown
from rigfolio.job import Job
from rigfolio.model import Conductor, Load
from rigfolio.sheet import Sheet
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.values import MINUS
from rigfolio.wording import amps, most_amps

SHEET = Sheet("Calculation sheet", "calculation", bound=120, beside=True)

_SIZE_PT = 7.0
_SECTIONS = (
    Column("place", 17, bold=True),
    Column("circuit or feed", 27),
    Column("demand", 15),
    Column("wires: size, one-way length", 33),
    Column("may carry", 18),
    Column("fuse", 19, bold=True),
    Column("largest", 14),
    Column("drop", 13),
    Column("of volts", 21),
    Column("short", 13),
    Column("clears", 12),
    Column("verdict", 19),
)
_SHORTS = (
    Column("place", 16, bold=True),
    Column("from", 20),
    Column("volts", 11),
    Column("inside", 15),
    Column("way, out and back", 54),
    Column("copper", 17),
    Column("least", 14),
    Column("opens", 20),
    Column("clears in", 14),
    Column("most", 18),
)
_BEARS = (
    Column("", 4, bold=True),
    Column("may carry", 14),
    Column("worked out", 66),
    Column("largest device", 17),
    Column("source", 66),
)
_WIRES = (
    Column("wire", 24, bold=True),
    Column("from", 11),
    Column("size", 19),
    Column("length", 14),
    Column("current", 16),
    Column("ambient", 15),
    Column("rated", 14),
    Column("may carry", 16),
    Column("copper at", 16),
    Column("resistance", 19),
    Column("drop", 17),
)
_LOADS = (
    Column("load", 32),
    Column("circuit", 15, bold=True),
    Column("draws", 15),
    Column("at", 12),
    Column("current", 15),
    Column("runs", 18),
    Column("its source; its way, out and back", 64),
    Column("drop", 14),
    Column("of volts", 13),
)
_COPPER = (
    Column("size", 24, bold=True),
    Column("at 20 °C, a metre", 30),
    Column("at 20 °C, a foot", 30),
    Column("", 90),
)
_NOTE = "How it is worked out stands at the end, to be repeated by hand."
_FOOT_M = 0.3048
_MOST_LETTERS = 60
_MOST_LABEL = 100
_KINDS = (
    ("what `", "draw of", "load"), ("the length of", "length of", "wire"),
    ("what the slots", "slots of", "panel"), ("the way of", "way of", "load"),
)  # fmt: skip
"""How what is not known begins, and what it is called in short."""
_UNITS = {"current": "A", "power": "W", "resistance": "ohm"}


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the rig needs."""
    study = job.study
    whole = calculation(study, job.findings)
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(study, whole), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=_NOTE)


def _tables(study: Study, whole: Calculation) -> Iterator[Table]:
    rows = tuple(row for line in whole.sections for row in _section(line))
    if rows:
        yield Table(_SECTIONS, rows, "Circuits and feeds", _SIZE_PT)
    else:
        yield prose("", "This rig states no circuit and no wire.")
    if whole.bears:
        rows = tuple(
            Row(
                (
                    one.mark, show(one.carries.value, "A", 4), one.carries.how,
                    show(one.largest.value, "A", 4), str(one.largest.source),
                )
            )
            for one in whole.bears
        )  # fmt: skip
        yield Table(_BEARS, rows, "What wires may carry", _SIZE_PT)
    if whole.wires:
        rows = tuple(_wire(line) for line in whole.wires)
        yield Table(_WIRES, rows, "What each wire loses", _SIZE_PT)
    if whole.loads:
        rows = tuple(_load(line) for line in whole.loads)
        yield Table(_LOADS, rows, "Loads", _SIZE_PT)
    shorts = tuple(_short(line, line.short) for line in whole.sections if line.short)
    if shorts:
        yield Table(_SHORTS, shorts, "Shorts at the far end", _SIZE_PT)
    if whole.copper:
        rows = tuple(
            Row(
                (
                    one.size.text, f"{one.ohm_per_m * 1e3:.4g} mΩ",
                    f"{one.ohm_per_m * _FOOT_M * 1e3:.4g} mΩ", "",
                )
            )
            for one in whole.copper
        )  # fmt: skip
        yield Table(_COPPER, rows, "Copper", _SIZE_PT)
    yield prose("How it is worked out", *formulas(study, whole), size_pt=_SIZE_PT)


def _section(line: SectionLine) -> Iterator[Row]:
    """The line of a circuit or feed; a long verdict has lines of its own below."""
    section = line.section
    bears, drop, verdict = line.bears, line.drop, _verdict(line)
    is_long = len(verdict) > _MOST_LETTERS
    yield Row(
        (
            section.place,
            _label(section.label),
            "?" if section.missing else show(line.demand_a, "A"),
            _wires_words(line),
            f"{show(bears.carries.value, 'A', 4)} ({bears.mark})" if bears else "?",
            _fuses_words(line),
            "" if line.largest_a is None else most_amps(line.largest_a),
            "" if drop is None else f"{drop.volts:.3f} V",
            _share(line),
            "" if line.short is None else _amps(line.short.least_a),
            "" if line.short is None else _clears(line.short),
            "see below" if is_long else verdict,
        )
    )
    if is_long:
        yield from (Row((words,)) for words in pieces(f"{section.place}: {verdict}"))


def _label(label: str) -> str:
    """What a circuit or feed is called, without the words in brackets where that is long."""
    return label if len(label) <= _MOST_LABEL else re.sub(r" \(.*?\)(?= and |$)", "", label)


def _share(line: SectionLine) -> str:
    """The drop and what is allowed, `1.59 of 3 %`."""
    if line.drop is None or line.allowed is None:
        return ""
    return f"{line.drop.share * 100.0:.2f} of {show(line.allowed.value, '%')}"


def _amps(current_a: float | None) -> str:
    return "?" if current_a is None else show(current_a, "A", 4)


def _clears(short: Short) -> str:
    """The longest that a short goes on."""
    if short.least_a is None or short.clears_s is None:
        return "?"
    return "never" if math.isinf(short.clears_s) else show(short.clears_s, "s")


def _short(line: SectionLine, short: Short) -> Row:
    feed = short.feed
    most = "" if short.most_a is None else show(short.most_a, "A", 4)
    source = ", ".join(f"{name} not told" for name in short.ask) or "several ways"
    if feed is None:
        parts = ", ".join(f"{name} {show(amps, 'A', 4)}" for name, amps in short.parts)
        cells = (source, "", "", parts)
    else:
        mark = " usual" if feed.assumed is not None else ""
        cells = (
            feed.source.about.name,
            show(feed.source.voltage_v, "V", 4),
            f"{feed.inside_ohm * 1e3:.4g} mΩ{mark}",
            ", ".join(wire.name for wire in feed.way),
        )
    return Row(
        (
            line.section.place,
            *cells,
            "" if feed is None else f"{feed.copper_ohm * 1e3:.4g} mΩ",
            _amps(short.least_a),
            ", ".join(short.opens) or ("nothing" if _clears(short) == "never" else "?"),
            _clears(short),
            most if short.is_sure or not most else f"under {most}",
        )
    )


def _wires_words(line: SectionLine) -> str:
    """Sizes and lengths, each once, with the wires that have them."""
    held: dict[str, list[str]] = {}
    wires = [wire for group in line.section.groups for wire in group.wires]
    for wire in wires:
        name = wire.name.removeprefix(line.section.place)
        held.setdefault(f"{_size(wire)} {_length(wire)}", []).append(name)
    # A return stands under the name of its one wire, which needs no telling twice.
    return "; ".join(
        f"{words}: {', '.join(names)}" if any(names) else words for words, names in held.items()
    )


def _size(wire: Conductor) -> str:
    text = "?" if isinstance(wire.size, Unknown) else wire.size.text
    return f"{wire.count} x {text}" if wire.count > 1 else text


def _length(wire: Conductor) -> str:
    if isinstance(wire.length_m, Unknown):
        return "? length"
    if not wire.size_is_awg:
        return show(wire.length_m, "m", 4)
    return show(wire.length_m, "ft" if wire.length_m >= _FOOT_M else "in", 4)


def _fuses_words(line: SectionLine) -> str:
    if line.returns_a is not None:
        if math.isinf(line.returns_a):
            return "back: all of a battery"
        return f"back: {show(line.returns_a, 'A')}"
    place = line.section.place
    words = [
        ("" if d.about.name == place else f"{d.about.name} ") + amps(d.rating_a)
        for d in line.section.devices
    ]
    return ", ".join(words) or "none here"


def _verdict(line: SectionLine) -> str:
    words = [f"{severity.upper()}: {rule}" for severity, rule in line.found]
    if line.section.missing:
        words.insert(0, f"not known: {_missing(line.section.missing)}")
    return "; ".join(words) or "no finding"


def _missing(missing: Sequence[str]) -> str:
    """What is not known; where that is long, how much of each kind."""
    whole = ", ".join(missing)
    if len(whole) <= _MOST_LETTERS:
        return whole
    held = [(sum(one.startswith(start) for one in missing), what, of) for start, what, of in _KINDS]
    return ", ".join(f"{what} {n} {of}{'s' if n > 1 else ''}" for n, what, of in held if n)


def _wire(line: WireLine) -> Row:
    wire = line.wire
    return Row(
        (
            wire.name.replace("-", MINUS) if wire.name.endswith("-") else wire.name,
            line.source,
            _size(wire),
            _length(wire),
            show(line.current_a, "A", 4),
            f"{line.ambient_c:g} °C",
            f"{line.rated_c:g} °C",
            "?" if math.isnan(line.limit_a) else show(line.limit_a, "A", 4),
            f"{line.hot_c:.1f} °C",
            f"{line.ohm * 1e3:.4g} mΩ",
            f"{line.drop_v:.4f} V",
        )
    )


def _load(line: LoadLine) -> Row:
    load, drop = line.load, line.drop
    return Row(
        (
            str(load.about),
            load.circuit,
            _draws(load),
            show(line.nominal_v, "V", 4),
            "?" if line.current_a is None else show(line.current_a, "A", 4),
            load.duty,
            _way(line),
            "?" if drop is None else f"{drop.volts:.3f} V",
            "?" if drop is None else f"{drop.share:.2%}".replace("%", " %"),
        )
    )


def _way(line: LoadLine) -> str:
    """The source that a load is reckoned from, and the wires out and back."""
    if line.drop is None:
        return "not known"
    return f"{line.source}: {', '.join(wire.name for wire in line.way)}"


def _draws(load: Load) -> str:
    return "?" if isinstance(load.value, Unknown) else show(load.value, _UNITS[load.kind], 4)
