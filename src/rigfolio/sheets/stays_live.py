"""What stays live: one page for the owner, to hang beside the battery disconnect.

What each position of each disconnect means, what is live in which state and from which source, how
each panel is made dead and what would feed it all the same, and what must stay on.
"""

from collections.abc import Iterable, Iterator

from rigfolio.answers import isolate_report, live_report
from rigfolio.draw import (
    Column,
    Page,
    Row,
    Setting,
    Table,
    body,
    columns_of,
    flow,
    holds_all,
    numbered,
    prose,
    rows_of,
)
from rigfolio.isolation import Meaning, meanings
from rigfolio.job import Job
from rigfolio.model import Panel, Rig
from rigfolio.record import record, replace
from rigfolio.reports import DEAD, DEFERS, REASONED, Report, ReportTable, Value
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.wording import called, on_paper

SHEET = Sheet("What stays live", "what-stays-live", binder="to-file", bound=20, beside=True)

_PART = 30.0
_STATES = 70.0
_GAP = 1.5
_SWITCHES = (
    Column("switch", 22, bold=True),
    Column("position", 9, bold=True),
    Column("what it does", 69),
)
_STEPS = (Column("", 4), Column("", 96))
_BOX = "☐"
_VOLTS = "_______\N{NO-BREAK SPACE}V"
_CAUTIONS = (
    "What is said to be dead here is reached by no source in that state, and was not measured. "
    f"{DEAD} The posts of a battery are always live.",
    DEFERS,
)


@record
class _Look:
    """How much is shown and how large, so that the page stays one page."""

    size_pt: float
    left_out: frozenset[str] = frozenset()
    """Kinds of parts without a line of their own."""
    is_joined: bool = False
    """Whether parts of which the same is said in every state share a line."""


_BESIDE, _ENDS = frozenset({"device"}), frozenset({"device", "end"})
_LOOKS = (
    _Look(9.0), _Look(8.0), _Look(8.0, _BESIDE), _Look(8.0, _ENDS),
    _Look(8.0, _ENDS, is_joined=True), _Look(7.0, _ENDS, is_joined=True),
)  # fmt: skip
_SHORT = "Ends of fuses and of wires are left out here; `rigfolio live` lists them."


@record
class _Staying:
    """What was worked out of the rig: what is live in which state, what each switch does."""

    live: Report
    positions: tuple[Meaning, ...]


def pages(job: Job) -> tuple[Page, ...]:
    """One page; more only where the rig has more states and parts than any type could hold."""
    found = _staying(job)
    orders = [_orders(job, panel) for panel in job.rig.panels]
    area = body(job.paper.width_mm, job.paper.height_mm)
    bodies = flow(_tables(job, found, orders, _LOOKS[0]), area)
    for look in _LOOKS[1:]:
        if len(bodies) == 1:
            break
        bodies = flow(_tables(job, found, orders, look), area)
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=REASONED)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: first what is live in all its parts, of which some may be left out."""
    every = tuple(_of_states(job, _staying(job), _LOOKS[0]))
    yield SheetPart(every, lambda: pages(job))
    yield from (SheetPart(_orders(job, panel)) for panel in job.rig.panels)


def _staying(job: Job) -> _Staying:
    return _Staying(live_report(job.study), meanings(job.study))


def _tables(
    job: Job, found: _Staying, orders: Iterable[Table], look: _Look
) -> Iterator[Table]:  # fmt: skip
    yield from _of_states(job, found, look)
    yield from (replace(table, size_pt=look.size_pt) for table in orders)
    yield prose("Cautions", *_CAUTIONS, size_pt=look.size_pt)


def _of_states(job: Job, found: _Staying, look: _Look) -> Iterator[Table]:
    size = look.size_pt
    if found.positions:
        rows = tuple(_position(one, name) for one, name in _named(found.positions))
        yield Table(_SWITCHES, rows, "What each switch does", size)
    yield _live(job, found.live, look)
    legend = _legend(job.rig, found.live, *((on_paper(_SHORT),) if look.left_out else ()))
    yield prose("", legend, size_pt=max(7.0, size - 1))
    (kept,) = found.live.tables("kept")
    if kept.rows:
        setting = _setting(found.live, "what")
        rows = rows_of([kept], setting)
        yield Table(columns_of(setting), rows, "What must stay on", size)


def _orders(job: Job, panel: Panel) -> Table:
    """How a panel is made dead."""
    name = called(panel.about.name, panel.about.label)
    plan = isolate_report(job.study, panel.about.name, "panel")
    (turns,) = plan.tables("in_turn")
    orders = [words for words in turns.cells("do") if isinstance(words, str)]
    measured = (f"measured at {words}: {_VOLTS}" for words in plan.words("proof"))
    steps = [Row((_BOX, words)) for words in (*orders, *plan.words("shut"), *measured)]
    steps += [Row(("", words)) for words in plan.words("mind")]
    return Table(_STEPS, tuple(steps), f"How to make {name} dead", pad_mm=0.6)


def _named(found: Iterable[Meaning]) -> Iterator[tuple[Meaning, str]]:
    """Each position, the first of a switch with the name of the switch."""
    last = ""
    for one in found:
        yield one, called(one.switch, one.label) if one.switch != last else ""
        last = one.switch


def _position(one: Meaning, name: str) -> Row:
    return Row((name, one.position, one.words))


def _setting(live: Report, first: str) -> Setting:
    """The first column, then one for each state with a gap before it."""
    (table,) = live.tables("live")
    states = [column.title for column in table.columns if column.title]
    each = _STATES / len(states) - _GAP
    parted = (
        part for name in states for part in (("", Column("", _GAP)), (name, Column(name, each)))
    )
    return (("part", Column(first, _PART, bold=True)), *parted)


def _live(job: Job, live: Report, look: _Look) -> Table:
    (table,) = live.tables("live")
    shown = zip(table.rows, table.cells("kind"), strict=True)
    table = replace(table, rows=tuple(row for row, kind in shown if kind not in look.left_out))
    if look.is_joined:
        table = replace(table, rows=tuple(_joined(table)))
    setting = _setting(live, "part")
    columns, first = columns_of(setting), rows_of(live.tables("set_by"), setting)
    _, _, wide_mm, _ = body(job.paper.width_mm, job.paper.height_mm)
    if not holds_all(Table(columns, first, size_pt=look.size_pt), wide_mm):
        # Beside each other they are narrow: each then has a line of its own over all columns.
        told = zip((column.title for column in columns[1:]), first[0].cells[1:], strict=True)
        first = tuple(Row((f"{state}: {words}",)) for state, words in told if state)
    return Table(columns, (*first, *rows_of([table], setting)),
                 "What is live in which state", look.size_pt)  # fmt: skip


def _joined(table: ReportTable) -> Iterator[tuple[Value, ...]]:
    """Parts of which the same is said in every state in one line, where the first of them stood."""
    alike: dict[tuple[Value, ...], list[tuple[Value, Value]]] = {}
    for row in table.rows:
        alike.setdefault(row[2:], []).append((row[0], row[1]))
    for cells, held in alike.items():
        yield (held[0][0], "; ".join(str(part) for _, part in held), *cells)


def _legend(rig: Rig, live: Report, *more: str) -> str:
    """What the letters of the sources stand for, and how supplied states were made."""
    sources = "; ".join(called(s.about.name, s.about.label) for s in rig.sources)
    return " ".join((f"Sources: {sources}.", *live.words("legend"), *more))
