"""What the limits of a rule book are for, how they are printed, and which rules turn on them."""

from collections.abc import Iterator
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.loader import Book
from rigfolio.books.tables import Table, source_of, texts
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import show

CARRIES = (
    "fuse-over-wire", "fuse-too-far", "no-battery-fuse", "return-overloaded", "return-too-thin",
    "unprotected-wire", "wire-overloaded",
)  # fmt: skip
"""Rules that turn on what a conductor may carry."""
_DEVICE = ("fuse-over-wire", "return-too-thin", "unprotected-wire")
_REACH = ("fuse-too-far", "no-battery-fuse", "unprotected-wire")
_DEMAND = (
    "busbar-overloaded", "feeder-drop", "fuse-overloaded", "panel-overloaded", "return-overloaded",
    "switch-overloaded", "voltage-drop", "wire-overloaded",
)  # fmt: skip


@record
class LimitUse:
    """A limit by its key in a book: what it is, the unit it is printed in, rules that turn on it.

    `unit` is empty where the limit is printed as it was worked out: a gauge.
    """

    key: str
    what: str
    unit: str
    rules: tuple[str, ...]


USES = (
    LimitUse("insulation", "insulation where it is not stated", "°C", CARRIES),
    LimitUse("engine_ambient", "ambient of an engine space", "°C", CARRIES),
    LimitUse("fuse", "device over what the wire may carry", "%", _DEVICE),
    LimitUse("fuse_from_50v", "device over that, from 50 V", "%", _DEVICE),
    LimitUse("fuse_next_size", "next standard rating over that, from 50 V", "%", _DEVICE),
    LimitUse("fuse_feeder", "device before a feeder over panel and wire", "%",
        (*_DEVICE, "fuse-over-panel")),
    LimitUse("alternator", "device at an alternator over its output", "%",
        ("alternator-fuse-large",)),
    LimitUse("reach", "supply to the device that protects", "in", _REACH),
    LimitUse("reach_sheathed", "supply to device, sheathed all the way", "in", _REACH),
    LimitUse("reach_from_battery", "supply to device, from a battery terminal", "in", _REACH),
    LimitUse("least_gauge", "thinnest conductor", "", ("wire-below-least",)),
    LimitUse("least_gauge_sheathed", "thinnest conductor in a sheath", "", ("wire-below-least",)),
    LimitUse("drop_critical", "drop to loads that must work, out and back", "%", ("voltage-drop",)),
    LimitUse("drop_other", "drop to other loads, out and back", "%", ("voltage-drop",)),
    LimitUse("drop_feeder", "drop in the feeder of a panel", "%", ("feeder-drop",)),
    LimitUse("intermittent", "intermittent loads: share of their sum, if above the largest", "%",
        _DEMAND),
    LimitUse("lead", "leads of a fixture that are left to its maker", "in",
        (*CARRIES, "feeder-drop", "voltage-drop")),
    LimitUse("chassis_bond", "thinnest bond from battery to chassis", "", ("chassis-bond-thin",)),
)  # fmt: skip
"""Every limit that a rule book may hold."""


@record
class Figure:
    """A number that a rule turns on, as it is printed, and its source."""

    what: str
    value: str
    source: Citation


def figures_of(book: Book, rule: str = "") -> Iterator[Figure]:
    """The single limits of a book; those that one rule turns on if a rule is named."""
    for use in USES:
        limit = book.limits.get(use.key)
        if limit is None or (rule and rule not in use.rules):
            continue
        value = show(limit.value, use.unit, 4) if use.unit else limit.how
        yield Figure(use.what, value, limit.source)
    if rule in ("", "voltage-drop"):
        for row in book.drop_rows:
            value = f"{row.continuous_v:g} V, {row.intermittent_v:g} V for minutes"
            yield Figure(f"drop to other loads at {row.nominal_v:g} V", value, row.source)
    if not rule:
        for needed in book.interrupt_rows:
            value = f"{needed.main_a:g} A main, {needed.branch_a:g} A branch"
            what = f"breakers interrupt, battery up to {needed.cranking_a:g} A cranking"
            yield Figure(what, value, needed.source)


def trade_figures(rule: str) -> Iterator[tuple[str, Citation]]:
    """Tables outside the rule books that name a rule in `rules`: their place and source."""
    folder = Path(__file__).parent
    for path in sorted([*folder.glob("*.toml"), *folder.glob("trade/*.toml")]):
        data = read_toml(path)
        for key, held in data.items():
            for row in held if isinstance(held, list) else [held]:
                if isinstance(row, dict) and rule in texts(row, "rules"):
                    yield _first_number(key, row), source_of(row)


def _first_number(key: str, row: Table) -> str:
    """The figures of a row in one line."""
    skipped = ("source", "status", "rules")
    parts = []
    for name, value in row.items():
        if name not in skipped:
            items = value if isinstance(value, list) else [value]
            parts.append(f"{name.replace('_', ' ')} {', '.join(str(item) for item in items)}")
    return f"{key.replace('_', ' ')}: {'; '.join(parts)}"
