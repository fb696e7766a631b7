"""What capacitors do, and what a lamp shows that is held where a part is closed again.

They keep volts in a place that is parted, and fill with a rush when it is joined: the lamp flashes
once then, and without it the contact sparks and may weld. What draws for good keeps the lamp lit,
though no wire is short.
"""

from collections.abc import Iterable, Iterator

from rigfolio.books import closed_by_lamp
from rigfolio.isolation.energised import Open, source_reach
from rigfolio.isolation.kept import kept_names
from rigfolio.isolation.plans.least_cut import actions_of, opened_by
from rigfolio.isolation.plans.plan import Plan
from rigfolio.kinds import CAPACITIVE
from rigfolio.model import Load, Rig
from rigfolio.network import edge_name
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import load_words

_LAMP = (
    "through a lamp, and never a small fuse: a lamp limits what a short draws, a small fuse blows "
    "when capacitors fill"
)


def lamp_words() -> str:
    """Why what was opened is closed through a lamp and through nothing else."""
    told = closed_by_lamp()
    return f"{_LAMP} ({told.status})"


@record
class Closing:
    """What closing one part does: whether anything comes alive, what fills its capacitors.

    `draws` are the loads that draw at once and for good, since they have no switch.
    """

    raises: bool
    fills: tuple[str, ...]
    draws: tuple[Load, ...] = ()


def closing(study: Study, plan: Plan, part: str, closed: Iterable[str] = ()) -> Closing:
    """What comes alive when a part is closed again, every fuse of a panel out, the chargers off.

    Parameters
    ----------
    study : Study
        The rig.
    plan : Plan
        What was opened.
    part : str
        The part that is closed, by name.
    closed : iterable of str
        What of the plan is closed already; the rest stays open.
    """
    opened = {step.action.part for step in plan.steps} | {*plan.stop_first, *plan.kept_off}
    opened -= set(closed)
    before, after = (_live(study, names) for names in (opened, opened - {part}))
    raised = after - before
    waiting = frozenset(
        edge_name(device)
        for device in study.rig.devices
        if device.traits.starts_load and device.rests != "closed"
    )
    still, lit = (_live(study, names, waiting) for names in (opened, opened - {part}))
    draws = tuple(load for load in _drawing(study.rig) if load.plus in lit - still)
    return Closing(bool(raised), tuple(dict.fromkeys(_filled(study, raised))), draws)


def charged(study: Study, plan: Plan) -> tuple[str, ...]:
    """What keeps volts for minutes in a place that is dead, or where a wire still leads there.

    Source: common practice; makers of inverters ask for it.
    """
    names = {step.action.part for step in plan.steps}
    state = opened_by(study.rig, (a for a in actions_of(study.rig) if a.part in names))
    ends = [end for end in plan.terminals if study.side.get(end) == "+"]
    near = study.net.walk(ends, state.bars) if plan.reached_by else {}
    found = [
        str(source.about)
        for source in study.rig.sources
        if source.traits.has_capacitors
        and near.keys() & {source.plus, source.inlet, *(source.lit or ())[:1]}
    ]
    loads = (load for load in study.rig.loads if CAPACITIVE.get(load.nature))
    return (*(load_words(study.rig, one) for one in loads if one.plus in near), *found)


def _drawing(rig: Rig) -> Iterator[Load]:
    """The loads that may draw as soon as there are volts: without a switch, or even at rest."""
    kept = kept_names(rig)
    for load in rig.loads:
        if load.rest_a or (load.about.name in kept and load.value):
            yield load


def _live(
    study: Study, opened: Iterable[str], waiting: frozenset[str] = frozenset()
) -> frozenset[str]:
    """What the batteries reach with some parts open, and switches that wait for something."""
    names = set(opened)
    state = opened_by(study.rig, (a for a in actions_of(study.rig) if a.part in names))
    slots = frozenset(edge_name(device) for device in study.rig.devices if device.in_slot)
    off = {source.about.name for source in study.rig.sources if not source.stores}
    return frozenset(
        source_reach(study).alive(Open(state.edges | slots | waiting, state.sources | off))
    )


def _filled(study: Study, raised: frozenset[str]) -> Iterator[str]:
    inlets = {source.inlet for source in study.rig.sources} - {""}
    loads = study.rig.by_name.loads
    for source in study.rig.sources:
        ends = {source.plus, loads[source.inlet].plus if source.inlet in loads else source.plus}
        if source.traits.has_capacitors and ends & raised:
            yield str(source.about)
    for load in study.rig.loads:
        if load.nature in CAPACITIVE and load.plus in raised and load.about.name not in inlets:
            yield load_words(study.rig, load)
