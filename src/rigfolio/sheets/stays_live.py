"""What stays live: one page for the owner, to hang beside the battery disconnect.

What each position of each disconnect means, what is live in which state and from which source, how
each panel is made dead and what would feed it all the same, and what must stay on.
"""

from collections.abc import Iterable, Iterator

from rigfolio.draw import CAUTION, Column, Page, Row, Table, body, flow, numbered, prose
from rigfolio.isolation import (
    Kept,
    LiveTable,
    Meaning,
    Plan,
    called,
    cell_words,
    folded,
    isolate,
    live_table,
    meanings,
    must_stay_on,
    part_words,
    settings_words,
    states_of,
    step_words,
)
from rigfolio.job import Job
from rigfolio.record import record
from rigfolio.sheet import Sheet

SHEET = Sheet("What stays live", "what-stays-live", bound=50, beside=True)

_PART = 30.0
_STATES = 70.0
_GAP = 1.5
_SWITCHES = (
    Column("switch", 22, bold=True),
    Column("position", 9, bold=True),
    Column("what it does", 69),
)
_NOTE = "Worked out from the text, not measured."
_CAUTIONS = (
    "Dead says that no source of the text reaches it, not that it was measured. Try the meter on "
    "something live, measure, try the meter again. The posts of a battery are always live.",
    CAUTION,
)


@record
class _Look:
    """How much is shown and how large, so that the page stays one page."""

    size_pt: float
    left_out: frozenset[str] = frozenset()
    """Kinds of parts without a line of their own."""


_LOOKS = (_Look(9.0), _Look(8.0), _Look(8.0, frozenset({"end"})), _Look(7.0, frozenset({"end"})))


@record
class _Found:
    """What was worked out of the rig."""

    table: LiveTable
    kept: tuple[Kept, ...]
    plans: tuple[Plan, ...]
    positions: tuple[Meaning, ...]


def pages(job: Job) -> tuple[Page, ...]:
    """One page; more only where the rig has more states and parts than any type could hold."""
    study = job.study
    states = states_of(study)
    found = _Found(
        live_table(study, states),
        must_stay_on(study, states),
        tuple(isolate(study, panel.about.name) for panel in job.rig.panels),
        meanings(study),
    )
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(job, found, _LOOKS[0]), area)
    for look in _LOOKS[1:]:
        if len(bodies) == 1:
            break
        bodies = flow(_tables(job, found, look), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=_NOTE)


def _tables(job: Job, found: _Found, look: _Look) -> Iterator[Table]:
    size = look.size_pt
    if found.positions:
        rows = tuple(_position(one, name) for one, name in _named(found.positions))
        yield Table(_SWITCHES, rows, "What each switch does", size)
    yield _states(job, found, look)
    yield prose("", _legend(job, found.table), size_pt=max(7.0, size - 1))
    if found.kept:
        yield _kept(found, size)
    if found.plans:
        columns = (Column("panel", 22, bold=True), Column("in this order", 78))
        rows = tuple(Row((called(p.place, p.label), _plan(job, p))) for p in found.plans)
        yield Table(columns, rows, "How to make a panel dead", size)
    yield prose("Cautions", *_CAUTIONS, size_pt=size)


def _named(found: Iterable[Meaning]) -> Iterator[tuple[Meaning, str]]:
    """Each position, the first of a switch with the name of the switch."""
    last = ""
    for one in found:
        yield one, called(one.switch, one.label) if one.switch != last else ""
        last = one.switch


def _position(one: Meaning, name: str) -> Row:
    return Row((name, one.position, one.words))


def _columns(found: _Found, first: str) -> tuple[Column, ...]:
    states = found.table.states
    each = _STATES / len(states) - _GAP
    parted = (part for s in states for part in (Column("", _GAP), Column(s.name, each)))
    return (Column(first, _PART, bold=True), *parted)


def _row(first: str, cells: Iterable[str]) -> Row:
    """A row with a gap before the cell of each state."""
    return Row((first, *(part for cell in cells for part in ("", cell))))


def _states(job: Job, found: _Found, look: _Look) -> Table:
    table = found.table
    rows = [_row("set by", (settings_words(job.rig, state) for state in table.states))]
    for row in folded(table):
        if row.part.kind in look.left_out:
            continue
        cells = (_cell(cell_words(cell), is_live=cell.is_live) for cell in row.cells)
        rows.append(_row(part_words(row.part), cells))
    return Table(_columns(found, "part"), tuple(rows), "What is live in which state", look.size_pt)


def _cell(words: str, *, is_live: bool) -> str:
    return f"LIVE: {words}" if is_live else words


def _legend(job: Job, table: LiveTable) -> str:
    """What the letters of the sources stand for, and how supplied states were made."""
    sources = "; ".join(called(s.about.name, s.about.label) for s in job.rig.sources)
    doubt = any(cell.sources != cell.sure for row in table.rows for cell in row.cells)
    words = [f"Sources: {sources}."]
    if doubt:
        words.append("Perhaps: nobody can be sure whether it is on, so it counts as live.")
    made = "; ".join(f"{s.name} ({s.how})" for s in table.states if not s.is_stated)
    if made:
        words.append(f"Supplied, not in the text: {made}.")
    return " ".join(words)


def _kept(found: _Found, size: float) -> Table:
    rows = []
    for one in found.kept:
        cells = (f"on: {', '.join(by)}" if by else "NO SOURCE" for by in one.on)
        rows.append(_row(f"{one.name} ({one.why})", cells))
    return Table(_columns(found, "what"), tuple(rows), "What must stay on", size)


def _plan(job: Job, plan: Plan) -> str:
    if not plan.reached_by:
        return "No source of the text reaches it."
    stopped = [job.rig.by_name.sources[name].about for name in plan.stop_first]
    steps = [f"{called(about.name, about.label)}: stop it" for about in stopped]
    steps += [step_words(job.rig, step) for step in plan.steps]
    words = "".join(f"{number}.\u00a0{step}. " for number, step in enumerate(steps, start=1))
    if not plan.is_enough:
        words += "NOT ENOUGH: wire alone joins it to a source. "
    words += f"{len(steps) + 1}.\u00a0Measure."
    if plan.back_feeds:
        by = ", ".join(called(one.source, one.label) for one in plan.back_feeds)
        words += f" With every disconnect open it is still fed by {by}."
    if plan.goes_dark:
        words += f" Goes dark with it and must stay on: {', '.join(plan.goes_dark)}."
    return words
