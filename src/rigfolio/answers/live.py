"""What is live in which state of the rig."""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.answers.isolate import ends_said
from rigfolio.isolation import (
    ANY,
    Cell,
    Condition,
    Kept,
    LiveRow,
    LiveTable,
    cell_words,
    folded,
    kept_words,
    live_table,
    must_stay_on,
    part_words,
    settings_words,
    start_words,
    states_of,
)
from rigfolio.model import Rig
from rigfolio.reports import (
    HANDS,
    JUDGED,
    WIDE,
    AnswerOf,
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    Wording,
    remarks,
)
from rigfolio.study import Study

PERHAPS = (
    "`perhaps` marks a source of which nobody can be sure whether it is on; it counts as live here "
    "and as absent for what must stay on."
)
IN_ANY = (
    "A switch `in any position` makes one way at a time, and nobody says which: what any of them "
    "can feed counts as live."
)
MAY_COME = (
    "`may come` marks what is dead only until something closes what rests open before it: a float, "
    "a button or a coil does so at any time, so it counts as live."
)
_MAY_COME_IN_SHORT = (
    "May come: dead only until a float, a button or a coil closes what rests open before it."
)
_PERHAPS_IN_SHORT = "Perhaps: nobody can be sure whether it is on, so it counts as live."
_LEAST = 12


def live_report(study: Study) -> Report:
    """What is live in which state, for `rigfolio live FILE` and the sheet that hangs there."""
    states = states_of(study)
    table = live_table(study, states)
    parts = _live(study.rig, table, must_stay_on(study, states))
    title = f"What is live in which state: {study.rig.name}"
    return Report(
        title, (JUDGED, HANDS), tuple(parts), of=AnswerOf("live", study.rig.name, study.book.name)
    )


def _live(rig: Rig, table: LiveTable, kept: Sequence[Kept]) -> Iterator[Part]:
    settings = [settings_words(rig, state) for state in table.states]
    yield Field("states", [_state(one) for one in table.states])
    told = []
    for state, words in zip(table.states, settings, strict=True):
        how = "" if state.is_stated else f" (supplied: {state.how})"
        told.append(f"{state.name}: {words}{how}")
    yield from remarks(told, hang=4, gap=True)
    yield Field("parts", [_part(rig, table, row) for row in table.rows])
    columns = _columns(table)
    yield ReportTable("", columns, (("", "set by", *settings),), name="set_by", for_sheets=True)
    rows: tuple[tuple[Value, ...], ...] = tuple(
        (row.part.kind, part_words(row.part), *map(_cell, row.cells)) for row in folded(table)
    )
    yield ReportTable("", columns, rows, name="live")
    if any("perhaps" in cell_words(cell) for row in table.rows for cell in row.cells):
        yield Paragraph(PERHAPS, gap=True)
        yield Paragraph(_PERHAPS_IN_SHORT, name="legend", for_sheets=True)
    if any(one.position == ANY for state in table.states for one in state.settings):
        yield Paragraph(IN_ANY, gap=True)
    if any(cell.waits for row in table.rows for cell in row.cells):
        yield Paragraph(MAY_COME, gap=True)
        yield Paragraph(_MAY_COME_IN_SHORT, name="legend", for_sheets=True)
    made = "; ".join(f"{one.name} ({one.how})" for one in table.states if not one.is_stated)
    if made:
        yield Paragraph(f"Supplied, not in the text: {made}.", name="legend", for_sheets=True)
    yield Listing("Must stay on:", tuple(map(_kept, kept)), "must_stay_on")
    stays = tuple((f"{one.name} ({one.why}){start_words(one)}", *map(_on, one.on)) for one in kept)
    yield ReportTable("", columns[1:], stays, name="kept", for_sheets=True)


def _columns(table: LiveTable) -> tuple[ReportColumn, ...]:
    """Part and states, the first as wide as it needs, the others alike."""
    names = [len(part_words(row.part)) for row in folded(table)]
    first = min(36, max(names, default=1))
    each = max(_LEAST, (WIDE - first) // max(1, len(table.states)) - 2)
    states = (ReportColumn(state.name, state.name, each) for state in table.states)
    return (ReportColumn("kind"), ReportColumn("part", most=first), *states)


def _cell(cell: Cell) -> Wording:
    words = cell_words(cell)
    if cell.waits:
        return Wording(words, f"MAY COME: {', '.join(cell.sources)}")
    return Wording(words, f"LIVE: {words}" if cell.is_live else words)


def _on(by: Sequence[str]) -> str:
    return f"on: {', '.join(by)}" if by else "NO SOURCE"


def _state(state: Condition) -> Mapping[str, Value]:
    return {
        "name": state.name,
        "is_stated": state.is_stated,
        "how": state.how,
        "settings": [
            {
                "part": one.part,
                "position": one.position,
                "reason": one.reason,
                "is_sure": one.is_sure,
            }
            for one in state.settings
        ],
    }


def _part(rig: Rig, table: LiveTable, row: LiveRow) -> Mapping[str, Value]:
    return {
        "part": row.part.name,
        "label": row.part.label,
        "kind": row.part.kind,
        "terminals": ends_said(rig, row.part.terminals),
        "live": {
            state.name: {
                "sources": cell.sources,
                "sure": cell.sure,
                "through_loads": cell.through_loads,
                "may_come": cell.waits,
            }
            for state, cell in zip(table.states, row.cells, strict=True)
        },
    }


def _kept(one: Kept) -> Item:
    facts: Mapping[str, Value] = {
        "load": one.load.about.name,
        "label": one.name,
        "why": one.why,
        "is_stated": one.is_stated,
        "dead_in": one.dead_in,
        "once_closed": [device.about.name for device in one.starts],
        "any_closes": one.any_starts,
    }
    return Item(kept_words(one), facts)
