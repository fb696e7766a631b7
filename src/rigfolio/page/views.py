"""Reports of the answers as the page sets them: orders to tick, and what is live state by state."""

from collections.abc import Iterator

from rigfolio.record import record
from rigfolio.reports import Report, Wording


@record
class OrderView:
    """One thing to do, and the key of the part that it is done to; empty for none."""

    words: str
    key: str


@record
class DeadView:
    """How a panel is made dead."""

    title: str
    mind: tuple[str, ...]
    steps: tuple[OrderView, ...]
    stays_live: tuple[str, ...]
    goes_dark: tuple[str, ...]


@record
class StateView:
    """What is live in a state, each part with its sources, and what no source reaches."""

    name: str
    set_by: str
    live: tuple[tuple[str, str], ...]
    dead: tuple[str, ...]


@record
class LiveView:
    """All states of a rig."""

    states: tuple[StateView, ...]
    legend: tuple[str, ...]
    kept: tuple[str, ...]


def dead_view(report: Report) -> DeadView:
    """The orders of a report on how to make a panel dead."""
    (turns,) = report.tables("in_turn")
    keys = [key if isinstance(key, str) else "" for key in turns.cells("part")]
    told = report.words("told")
    steps = zip(told, [*keys, *[""] * (len(told) - len(keys))], strict=True)
    return DeadView(
        report.title,
        report.words("mind"),
        tuple(OrderView(words, key) for words, key in steps),
        report.words("left_live"),
        report.words("goes_dark"),
    )


def live_view(report: Report) -> LiveView:
    """The states of a report on what is live, one by one."""
    return LiveView(tuple(_states(report)), report.words("legend"), report.words("must_stay_on"))


def _states(report: Report) -> Iterator[StateView]:
    (table,), (set_by,) = report.tables("live"), report.tables("set_by")
    parts = [str(part) for part in table.cells("part")]
    for column in table.columns:
        if not column.title:
            continue
        words = [_words(cell) for cell in table.cells(column.key)]
        (how,) = set_by.cells(column.key)
        live = [(part, by) for part, by in zip(parts, words, strict=True) if by != "dead"]
        dead = [part for part, by in zip(parts, words, strict=True) if by == "dead"]
        yield StateView(column.title, str(how), tuple(live), tuple(dead))


def _words(cell: object) -> str:
    return cell.line if isinstance(cell, Wording) else str(cell)
