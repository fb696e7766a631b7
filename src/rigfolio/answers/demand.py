"""Demand at every level: what parts must carry, and what they are made for."""

from collections.abc import Iterator

from rigfolio.answers.energy import energy_parts
from rigfolio.demand import (
    LevelDemand,
    SharedBank,
    demand_by_level,
    flows_of,
    shared_banks,
)
from rigfolio.model import Load
from rigfolio.protection import start_of_level
from rigfolio.reports import (
    JUDGED,
    Amount,
    AnswerOf,
    Field,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    added_up,
)
from rigfolio.study import Study, as_it_is, once
from rigfolio.units import show, show_against, show_load
from rigfolio.wording import (
    called,
    circuits_in_order,
    found_remark,
    in_a_row,
    kinds_title,
    load_words,
)

_KINDS = (
    "Connected: all loads at once. For hours: what runs on without end. At one time: that, and the "
    "share of occasional loads that the rule book counts, or the largest of them. What chargers "
    "drive through a part counts for hours, where it is more. All together get fewer volts than "
    "each alone, so that a sum of watts is a little more than its parts."
)
_LEVELS = {
    "source": "Sources", "device": "", "panel": "Panels", "circuit": "Circuits",
}  # fmt: skip
"""The title of each level; that of devices says what is in it."""
_COLUMNS = (
    ReportColumn("level"),
    ReportColumn("name"),
    ReportColumn("label"),
    ReportColumn("part", most=30, given=False),
    ReportColumn("connected_a", "connected", 10),
    ReportColumn("continuous_a", "for hours", 10),
    ReportColumn("simultaneous_a", "at one time", 11),
    ReportColumn("rating_a"),
    ReportColumn("of_rating"),
    ReportColumn("made_for", "made for", 9, given=False),
    ReportColumn("unknown"),
    ReportColumn("moment_a"),
    ReportColumn("of_that", most=24, given=False),
)
_MOST_NAMES = 3
"""Loads that are named of those that are not counted; of more only the number is told."""


def demand_report(study: Study) -> Report:
    """What every part must carry and what a day takes, for `rigfolio demand FILE` and its sheet."""
    there = as_it_is(study)
    parts = (*_carried(there), *energy_parts(there), *found_remark(study.rig))
    of = AnswerOf("demand", study.rig.name, study.book.name)
    return Report(f"Demand and energy: {study.rig.name}", (JUDGED,), parts, of=of)


def _carried(study: Study) -> Iterator[Part]:
    """A table for each level."""
    yield Paragraph(_KINDS, name="kinds", gap=True)
    yield Paragraph(_counted(study), name="kinds", for_sheets=True)
    yield from inputs_remark(study)
    yield from (Paragraph(_shared(study, bank), name="shared") for bank in shared_banks(study))
    yield from _levels(study)
    yield from _starts(study)


def levels_shown(study: Study) -> tuple[ReportTable, ...]:
    """What parts of each level must carry, a table for each, as the report has them."""
    return _levels(as_it_is(study))


@once
def _levels(study: Study) -> tuple[ReportTable, ...]:
    order = {one.place: number for number, one in enumerate(circuits_in_order(study.rig))}
    held = sorted(demand_by_level(study), key=lambda one: order.get(one.name, 0))
    parts = study.rig.by_name.devices
    kinds = {parts[one.name].kind for one in held if one.level == "device"}
    return tuple(
        ReportTable(
            title or kinds_title(kinds),
            _COLUMNS,
            tuple(_row(study, one) for one in held if one.level == level),
            "levels",
        )
        for level, title in _LEVELS.items()
    )


def inputs_remark(study: Study) -> tuple[Paragraph, ...]:
    """That the inputs of converters count at full output; none where no converter is wired."""
    ways = flows_of(study).ways
    names = [one.inlet for one in study.rig.sources if one.inlet and ways.get(one.inlet)]
    if not names:
        return ()
    full = (
        f"Inputs of converters, {in_a_row(names)}: what is drawn at full output and nominal volts"
    )
    return (Paragraph(f"{full}; at a moment, by what is given then.", name="kinds"),)


def _starts(study: Study) -> Iterator[Part]:
    """What loads start at, where the text says so."""
    if not any(load.times_at_start > 1.0 for load in study.rig.loads):
        yield Field("starts", [])
    else:
        from rigfolio.shorts import STARTS_NOTE, starts_table

        yield starts_table(study)
        yield Paragraph(STARTS_NOTE, name="starts_note", for_sheets=True)


def _shared(study: Study, bank: SharedBank) -> str:
    """What batteries side by side are taken to give, and what that turns on."""
    *most, last = (one.about.name for one in bank.batteries)
    names = f"{', '.join(most)} and {last} stand side by side"
    if not bank.parts:
        return f"{names}; how they share is not known: see what is asked for."
    shares = ", ".join(f"{name} {show(part, '%', 2)}" for name, part in bank.parts.items())
    load = load_words(study.rig, bank.load)
    return (
        f"Assumed: {names}, all of them in and equally full. Of what {load} draws they give "
        f"{shares}, by their leads and what is inside. Where a switch may take one of them off, "
        "the others are counted with its part too."
    )


def _row(study: Study, one: LevelDemand) -> tuple[Value, ...]:
    start = start_of_level(study, one)
    moment_a = 0.0 if start is None else start[0]

    def current(known_a: float, moment_a: float = 0.0) -> Amount:
        """What is unknown is never printed as nothing."""
        return added_up(None if one.unknown and not known_a else known_a, moment_a)

    return (
        one.level, one.name, one.label, called(one.name, one.label),
        current(one.connected_a, 0.0 if one.connected_a else moment_a),
        current(one.continuous_a), current(one.simultaneous_a),
        one.rating_a, one.of_rating,
        "" if one.rating_a is None else Amount(one.rating_a, "A", side="limit"),
        one.unknown, moment_a, _of_that(study, one, start),
    )  # fmt: skip


def _of_that(study: Study, one: LevelDemand, start: tuple[float, Load] | None) -> str:
    """How demand stands to the rating, what starts an engine, and which loads are not counted."""
    parts = []
    share = one.of_rating
    if share is not None:
        hours = " for hours" if one.for_hours else ""
        parts.append(f"{show_against(share, 1.0, '%', 2)[0]}{hours}")
    if start is not None:
        words = f"{show_load(start[0], 'A')} for a moment"
        parts.append(f"{words}: {load_words(study.rig, start[1])}")
    for source in study.rig.sources:
        if source.about.name in one.unknown:
            parts.append(f"what {source.about.name} gives is not known")
    unknown = [load for load in study.rig.loads if load.about.name in one.unknown]
    if unknown:
        more = len(unknown) - _MOST_NAMES
        tail = f" and {more} more" if more > 0 else ""
        named = in_a_row(load_words(study.rig, load) for load in unknown[:_MOST_NAMES])
        parts.append(f"not counted: {named}{tail}")
    unread = {*one.unknown}
    circuits = [each for each in circuits_in_order(study.rig) if each.place in unread]
    if circuits:
        more = len(circuits) - _MOST_NAMES
        tail = f" and {more} more" if more > 0 else ""
        named = in_a_row(called(each.place, each.label) for each in circuits[:_MOST_NAMES])
        parts.append(f"not read what hangs on {named}{tail}")
    return "; ".join(parts)


def _counted(study: Study) -> str:
    """What the rule book counts of occasional loads, and how sources are held."""
    share = study.book.intermittent_share()
    return (
        f"That share is {show(share.value, '%')} of all that is connected beyond the hours; a "
        "circuit by itself counts in full, a source that charges with no more than it is made for. "
        f"Source: {share.source}."
    )
