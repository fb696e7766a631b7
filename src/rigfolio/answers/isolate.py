"""Isolation and live tables as lines of text for people, and as plain values for programs."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

from rigfolio.books import proof_by_meter
from rigfolio.isolation import (
    ENDED,
    Kept,
    LiveTable,
    Plan,
    called,
    cell_words,
    folded,
    isolate,
    kept_words,
    live_table,
    must_stay_on,
    part_words,
    settings_words,
    states_of,
    step_words,
    still_live_words,
)
from rigfolio.model import Rig
from rigfolio.reports import CAUTIONS, WIDE, columns, listed, wrapped
from rigfolio.study import Study

Plain: TypeAlias = "str | int | bool | Sequence[Plain] | Mapping[str, Plain]"

PERHAPS = (
    "`perhaps` marks a source of which nobody can be sure whether it is on; it counts as live here "
    "and as absent for what must stay on."
)

_LEAST = 12


def isolation_lines(study: Study, name: str) -> tuple[str, ...]:
    """How to make a part dead, for `rigfolio isolate FILE PLACE`.

    Raises
    ------
    KeyError
        Nothing has that name.
    """
    return tuple(_isolation(study.rig, isolate(study, name)))


def live_lines(study: Study) -> tuple[str, ...]:
    """What is live in which state, for `rigfolio live FILE`."""
    states = states_of(study)
    table = live_table(study, states)
    return tuple(_live(study.rig, table, must_stay_on(study, states)))


def isolation_plain(study: Study, name: str) -> Mapping[str, Plain]:
    """What `isolation_lines` says, for programs.

    Raises
    ------
    KeyError
        Nothing has that name.
    """
    plan = isolate(study, name)
    return {
        "place": plan.place,
        "label": plan.label,
        "terminals": plan.terminals,
        "reached_by": plan.reached_by,
        "is_enough": plan.is_enough,
        "loads": plan.loads,
        "stop_first": plan.stop_first,
        "steps": [
            {
                "part": step.action.part,
                "label": step.label,
                "kind": step.action.kind,
                "do": step_words(study.rig, step),
                "keeps_off": step.keeps_off,
                "done_in": step.done_in,
            }
            for step in plan.steps
        ],
        "stays_live": [
            {
                "part": one.part.name,
                "label": one.part.label,
                "terminals": one.part.terminals,
                "sources": one.sources,
                "through_loads": one.through_loads,
            }
            for one in plan.stays_live
        ],
        "back_feeds": [
            {"source": one.source, "label": one.label, "through": one.by} for one in plan.back_feeds
        ],
        "goes_dark": plan.goes_dark,
        "source": {"title": plan.order.title, "status": plan.order.status},
        "cautions": CAUTIONS,
    }


def live_plain(study: Study) -> Mapping[str, Plain]:
    """What `live_lines` says, for programs."""
    states = states_of(study)
    table = live_table(study, states)
    return {
        "states": [
            {
                "name": state.name,
                "is_stated": state.is_stated,
                "how": state.how,
                "settings": [
                    {
                        "part": one.part, "position": one.position, "reason": one.reason,
                        "is_sure": one.is_sure,
                    }
                    for one in state.settings
                ],
            }
            for state in states
        ],
        "parts": [
            {
                "part": row.part.name,
                "label": row.part.label,
                "kind": row.part.kind,
                "terminals": row.part.terminals,
                "live": {
                    state.name: {"sources": cell.sources, "sure": cell.sure,
                                 "through_loads": cell.through_loads}
                    for state, cell in zip(states, row.cells, strict=True)
                },
            }
            for row in table.rows
        ],
        "must_stay_on": [
            {
                "load": one.load.about.name, "label": one.name, "why": one.why,
                "is_stated": one.is_stated, "dead_in": one.dead_in,
            }
            for one in must_stay_on(study, states)
        ],
        "cautions": CAUTIONS,
    }  # fmt: skip


def _isolation(rig: Rig, plan: Plan) -> Iterator[str]:
    place = called(plan.place, plan.label)
    yield f"How to make {place} dead"
    yield ""
    for caution in CAUTIONS:
        yield from wrapped(caution)
    yield ""
    if not plan.reached_by:
        yield from wrapped(f"No source of this text reaches {plan.place}.")
        return
    if not plan.is_enough:
        yield from wrapped(
            f"NOT ENOUGH: wire alone joins {plan.place} to a source; what is listed leaves it live."
        )
    if plan.is_post:
        yield from wrapped(
            f"{plan.place} holds the post of a battery: that post is live between the posts "
            "whatever is opened. Cover it."
        )
    yield from wrapped(f"{plan.place} is reached by {_sources(rig, plan.reached_by)}.")
    yield from _steps(rig, plan)
    yield from listed("Stays live while you work:", still_live_words(plan.stays_live))
    yield from listed(
        f"Would feed {plan.place} with every disconnect and selector open:",
        tuple(
            called(one.source, one.label)
            + (f", through {', '.join(called(name) for name in one.by)}" if one.by else "")
            for one in plan.back_feeds
        ),
    )
    yield from listed("Must stay on and goes dark with this:", plan.goes_dark)


def _steps(rig: Rig, plan: Plan) -> Iterator[str]:
    meter = proof_by_meter()
    orders = []
    if plan.loads:
        many = f"{len(plan.loads)} loads" if len(plan.loads) > 1 else "the load"
        few = f" ({', '.join(plan.loads)})" if len(plan.loads) <= 4 else ""
        orders.append(f"Switch off {many} of {plan.place}{few}: no contact should open under load.")
    sources = {source.about.name: source for source in rig.sources}
    for name in plan.stop_first:
        end = ENDED[sources[name].kind]
        words = f"{called(name, sources[name].about.label)}: {end}"
        orders.append(f"{words}. It would lose its battery while it runs.")
    for step in plan.steps:
        done = f" Stands so in: {', '.join(step.done_in)}." if step.done_in else ""
        orders.append(f"{step_words(rig, step)}. Keeps off {', '.join(step.keeps_off)}.{done}")
    orders.append("Tag what you opened, so that nobody closes it.")
    orders.append(f"With a meter on {plan.place}: {meter.title}; to minus and to the frame.")
    yield ""
    yield f"In this order ({plan.order.status}):"
    for number, order in enumerate(orders, start=1):
        yield from wrapped(order, f"  {number}. ", " " * (4 + len(str(number))))
    yield from wrapped(
        "Back in the reverse order, loads last; the minus lead of a battery after its plus lead."
    )


def _sources(rig: Rig, names: Iterable[str]) -> str:
    labels = {s.about.name: called(s.about.name, s.about.label) for s in rig.sources}
    return ", ".join(labels[name] for name in names)


def _live(rig: Rig, table: LiveTable, kept: Sequence[Kept]) -> Iterator[str]:
    yield f"What is live in which state: {rig.name}"
    yield ""
    for caution in CAUTIONS:
        yield from wrapped(caution)
    yield ""
    for state in table.states:
        how = "" if state.is_stated else f" (supplied: {state.how})"
        yield from wrapped(f"{state.name}: {settings_words(rig, state)}{how}", "", "    ")
    yield ""
    rows = [("", *(state.name for state in table.states))]
    rows += [
        (part_words(row.part), *(cell_words(cell) for cell in row.cells)) for row in folded(table)
    ]
    yield from columns(rows, _room(rows))
    if any(cell.sources != cell.sure for row in table.rows for cell in row.cells):
        yield ""
        yield from wrapped(PERHAPS)
    yield from listed("Must stay on:", tuple(kept_words(one) for one in kept))


def _room(rows: Sequence[tuple[str, ...]]) -> tuple[int, ...]:
    """How wide each column may be: the first as it needs, the others alike."""
    first = min(36, max(len(row[0]) for row in rows))
    each = max(_LEAST, (WIDE - first) // max(1, len(rows[0]) - 1) - 2)
    return (first, *(each for _ in rows[0][1:]))
