"""Demand and energy: what every part must carry, what a day takes, how long the battery lasts.

One page as a rule: a table of demand by level, and the charge of a day with the largest users
first, each with a bar beside it.
"""

from collections.abc import Iterator, Sequence

from rigfolio.draw.frame import Column, Row, Table, body, flow, numbered, prose
from rigfolio.draw.page import Page
from rigfolio.study.demand_text import (
    KINDS,
    Energy,
    ah,
    charging_words,
    energy_of,
    lasts_words,
    level_words,
    origins,
    ranked,
    verdict_words,
)
from rigfolio.study.energy import Use
from rigfolio.study.job import Job
from rigfolio.study.levels import LevelDemand, demand_by_level
from rigfolio.study.study import Study
from rigfolio.units import show

TITLE = "Demand and energy"
NAME = "demand-and-energy"

_LEVELS = (
    Column("part", 34, bold=True),
    Column("connected", 12, align="end"),
    Column("", 2),
    Column("for hours", 12, align="end"),
    Column("", 2),
    Column("at one time", 13, align="end"),
    Column("", 2),
    Column("made for", 11, align="end"),
    Column("", 2),
    Column("of that", 30),
)
_USES = (
    Column("load", 40),
    Column("circuit", 14, bold=True),
    Column("draws", 11, align="end"),
    Column("", 2),
    Column("a day", 11, align="end"),
    Column("", 2),
    Column("share of the largest", 42),
)
_TITLES = {
    "source": "Sources", "device": "Fuses and switches", "panel": "Panels", "circuit": "Circuits",
}  # fmt: skip
_SIZES_PT = (8.0, 7.0)
_BAR = 22
_NOTE = "Worked out from the text, not measured."


def pages(job: Job) -> tuple[Page, ...]:
    """One page where the rig allows it."""
    levels, found = demand_by_level(job.study), energy_of(job.study)
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(job.study, levels, found, _SIZES_PT[0]), area)
    if len(bodies) > 1:
        bodies = flow(_tables(job.study, levels, found, _SIZES_PT[1]), area)
    return numbered(job.paper, TITLE, job.strip, bodies, note=_NOTE)


def _tables(
    study: Study, levels: Sequence[LevelDemand], found: Energy, size: float
) -> Iterator[Table]:
    pad = 0.6 if size < _SIZES_PT[0] else 0.9
    rows = []
    for level, title in _TITLES.items():
        held = [one for one in levels if one.level == level]
        if held:
            rows.append(Row((title,), bold=True))
            rows += [_level(study, one) for one in held]
    if rows:
        yield Table(_LEVELS, tuple(rows), "What every part must carry", size, pad)
        yield prose("", KINDS, size_pt=size)
    known = [one for one in ranked(found.uses) if one.day_c]
    if known:
        largest = known[0].day_c or 1.0
        rows = [_use(one, largest) for one in known]
        yield Table(_USES, tuple(rows), "What a day takes", size, pad)
        yield prose("", f"All in all {found.whole}.", size_pt=size)
    unsaid = [f"{one.label}: {one.missing}" for one in found.uses if one.missing]
    if unsaid:
        yield prose("Not counted, because it is not said", "; ".join(unsaid), size_pt=size)
    if found.lasts:
        lines = (f"{one.state}: {lasts_words(one)}" for one in found.lasts)
        yield prose("Lasts with nothing charging", *lines, size_pt=size)
    if found.charging:
        lines = (charging_words(one) for one in found.charging)
        yield prose("Charging", *lines, size_pt=size)
    sources = origins(found)
    if sources:
        yield prose("", f"By: {'; '.join(sources)}.", size_pt=7.0)
    if not rows and not known:
        yield prose("", "This rig states no load: there is nothing to be added up yet.")


def _level(study: Study, one: LevelDemand) -> Row:
    made_for = "" if one.rating_a is None else show(one.rating_a, "A")
    return Row(
        (
            level_words(one), show(one.connected_a, "A"), "", show(one.continuous_a, "A"), "",
            show(one.simultaneous_a, "A"), "", made_for, "", verdict_words(study, one),
        )
    )  # fmt: skip


def _use(one: Use, largest_c: float) -> Row:
    draws = "" if one.current_a is None else show(one.current_a, "A")
    bar = "■" * max(1, round(_BAR * (one.day_c or 0.0) / largest_c))
    return Row((one.label, one.circuit, draws, "", ah(one.day_c), "", bar))
