"""Cranking cable: which wires carry the start of an engine, and what of it that excuses.

The word `cranking` on a wire excuses the want of a fuse where the wire leads to a motor that turns
an engine over, and the heat of a start of seconds on its way out and back. Whatever else the wire
carries is judged as on any other wire.
"""

from rigfolio.books import starts_engine
from rigfolio.demand import Flows, flows_of
from rigfolio.model import Conductor, Load
from rigfolio.operating import Drawn
from rigfolio.study import Study, once


@once
def starters_of(study: Study) -> frozenset[str]:
    """The names of loads that turn an engine over, on wires that are declared as cranking."""
    used = {
        user
        for wire in study.rig.conductors
        if wire.cranking
        for user in flows_of(study).users(wire.name)
    }
    return frozenset(
        load.about.name
        for load in study.rig.loads
        if (load.circuit or load.about.name) in used and _turns_engine(load)
    )


def is_cranking(study: Study, wire: Conductor) -> bool:
    """Whether a conductor is declared as cranking, and a start runs through it."""
    if not wire.cranking:
        return False
    users = flows_of(study).users(wire.name)
    rig = study.rig
    return any(
        (load.circuit or load.about.name) in users
        for name in starters_of(study)
        if (load := rig.by_name.loads.get(name)) is not None
    )


def running_of(study: Study, wire: Conductor) -> Flows:
    """What runs through a conductor, the starts of an engine left out of cranking cable."""
    return without_starts(study) if is_cranking(study, wire) else flows_of(study)


@once
def without_starts(study: Study) -> Flows:
    """What runs in a rig while no engine is started."""
    usual = flows_of(study)
    still = dict.fromkeys(starters_of(study), Drawn(0.0, study.rig.system_v))
    return Flows(study, drawn=({**usual.own, **still}, {**usual.expected, **still}))


def _turns_engine(load: Load) -> bool:
    words = f"{load.about.name} {load.about.label}"
    return load.duty == "momentary" and starts_engine(words, is_motor=load.nature == "motor")
