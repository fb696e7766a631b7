"""Demand and energy: what every part must carry, what a day takes, how long the battery lasts.

One page as a rule: a table of demand by level, and the charge of a day with the largest users
first, each with a bar beside it.
"""

from collections.abc import Iterator, Sequence

from rigfolio.answers import (
    KINDS,
    Energy,
    ah,
    charging_words,
    energy_of,
    lasts_words,
    level_words,
    ranked,
)
from rigfolio.demand import DAY_S, HOUR_S, LevelDemand, Use, demand_by_level
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Job
from rigfolio.sheet import Sheet
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import circuits_in_order

SHEET = Sheet("Demand and energy", "demand-and-energy", bound=100, beside=True)

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
    Column("for", 11, align="end"),
    Column("", 2),
    Column("a day", 11, align="end"),
    Column("", 2),
    Column("share of the largest", 29),
)
_TITLES = {
    "source": "Sources", "device": "Fuses and switches", "panel": "Panels", "circuit": "Circuits",
}  # fmt: skip
_SIZES_PT = (8.0, 7.0)
_BAR = 16
_MOST_NAMES = 3
_HOW = (
    "A day: what it draws x hours. Lasts: what is to be used of a bank, a share of its capacity, "
    "over what a day takes. Charging: what is to be put back over the output less what the loads "
    "draw on the average of a day, no more than the bank takes, then the hours at falling current."
)
_NOTE = "Worked out from the text, not measured."


def pages(job: Job) -> tuple[Page, ...]:
    """One page where the rig allows it."""
    levels, found = demand_by_level(job.study), energy_of(job.study)
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(job.study, levels, found, _SIZES_PT[0]), area)
    if len(bodies) > 1:
        bodies = flow(_tables(job.study, levels, found, _SIZES_PT[1]), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=_NOTE)


def _tables(
    study: Study, levels: Sequence[LevelDemand], found: Energy, size: float
) -> Iterator[Table]:
    pad = 0.6 if size < _SIZES_PT[0] else 0.9
    rows = list(_levels(study, levels))
    if rows:
        yield Table(_LEVELS, tuple(rows), "What every part must carry", size, pad)
        yield prose("", KINDS, _counted(study), size_pt=size)
    known = [one for one in ranked(found.uses) if one.day_c]
    if known:
        largest = known[0].day_c or 1.0
        day = tuple(_use(one, largest) for one in known)
        yield Table(_USES, day, "What a day takes", size, pad)
        without = f", without {_loads(len(found.without))} below" if found.without else ""
        yield prose("", f"All in all {found.whole}{without}.", size_pt=size)
    unsaid = tuple(words for told in _unsaid(found.uses) for words in pieces(told))
    if unsaid:
        yield prose("Not counted, because it is not said", *unsaid, size_pt=size)
    if found.lasts:
        lines = (f"{one.state}: {lasts_words(one, _MOST_NAMES)}" for one in found.lasts)
        yield prose("Lasts with nothing charging", *lines, size_pt=size)
    if found.charging:
        lines = (charging_words(one) for one in found.charging)
        yield prose("Charging", *lines, size_pt=size)
    if (found.lasts or found.charging) and found.factors:
        yield prose("How it is worked out", _HOW, f"{'; '.join(found.factors)}.", size_pt=7.0)
    if not rows and not known:
        yield prose("", "This rig states no load: there is nothing to be added up yet.")


def _loads(count: int) -> str:
    return "the load" if count == 1 else f"the {count} loads"


def _counted(study: Study) -> str:
    """What the rule book counts of occasional loads, and how sources are held."""
    share = study.book.intermittent_share()
    return (
        f"That share is {share.value * 100.0:g} % of all that is connected beyond the hours; a "
        "circuit by itself counts in full, a source that charges with no more than it is made for. "
        f"Source: {share.source}."
    )


def _levels(study: Study, levels: Sequence[LevelDemand]) -> Iterator[Row]:
    order = {one.place: number for number, one in enumerate(circuits_in_order(study.rig))}
    for level, title in _TITLES.items():
        held = [one for one in levels if one.level == level]
        if held:
            yield Row((title,), bold=True)
            yield from (
                _level(study, one) for one in sorted(held, key=lambda o: order.get(o.name, 0))
            )


def _level(study: Study, one: LevelDemand) -> Row:
    made_for = "" if one.rating_a is None else show(one.rating_a, "A")

    def figure(current_a: float) -> str:
        """What is unknown is never printed as nothing."""
        return "? A" if one.unknown and not current_a else show(current_a, "A")

    return Row(
        (
            level_words(one), figure(one.connected_a), "", figure(one.continuous_a), "",
            figure(one.simultaneous_a), "", made_for, "", _of_that(study, one),
        )
    )  # fmt: skip


def _of_that(study: Study, one: LevelDemand) -> str:
    """Demand at one time over the rating, and the circuits of loads that are not counted."""
    parts = []
    is_known = bool(one.simultaneous_a) or not one.unknown
    if one.rating_a is not None and one.rating_a > 0.0 and is_known:
        parts.append(f"{100.0 * one.simultaneous_a / one.rating_a:.0f} %")
    unknown = [load for load in study.rig.loads if load.about.name in one.unknown]
    places = list(dict.fromkeys(load.circuit or load.about.name for load in unknown))
    if one.level == "circuit" and unknown:
        parts.append("not all of its loads are known")
    elif places:
        more = len(places) - _MOST_NAMES
        tail = f" and {more} more" if more > 0 else ""
        parts.append(f"without {', '.join(places[:_MOST_NAMES])}{tail}")
    return "; ".join(parts)


def _unsaid(uses: Sequence[Use]) -> Iterator[str]:
    """What is missing, each with the loads that it is missing of."""
    for missing in dict.fromkeys(one.missing for one in uses if one.missing):
        labels = "; ".join(one.label for one in uses if one.missing == missing)
        yield f"{missing}: {labels}"


def _use(one: Use, largest_c: float) -> Row:
    draws = "" if one.current_a is None else show(one.current_a, "A")
    hours = "" if one.day_share is None else f"{one.day_share * DAY_S / HOUR_S:.3g} h"
    bar = "■" * max(1, round(_BAR * (one.day_c or 0.0) / largest_c))
    return Row((one.label, one.circuit, draws, "", hours, "", ah(one.day_c), "", bar))
