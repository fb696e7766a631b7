"""What a start does to the fuse of a circuit: how much flows, for how long, whether it waits.

Looked at are loads of which the text says what they start at, behind a device of their circuit
alone, with what else runs on there.
"""

from collections.abc import Sequence

from rigfolio.books import lasting_start_s, start_s
from rigfolio.demand import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Device, Load
from rigfolio.operating import drawn_in, own_circuit
from rigfolio.record import record
from rigfolio.shorts.clearing import blow
from rigfolio.study import Study, once


@record
class StartCurrent:
    """What flows through a device while a load starts [A], and how long at the least [s]."""

    load: Load
    current_a: float
    least_s: float


def hardest_start(study: Study, device: Device) -> StartCurrent | None:
    """The start behind a device of its own through which most flows; None where there is none."""
    starting = _starting(study)
    users = flows_of(study).users(device.about.name) if starting else ()
    if len(users) != 1:
        return None
    user = next(iter(users))
    own = [load for load in study.rig.loads if (load.circuit or load.about.name) == user]
    held: list[StartCurrent] = []
    for load in own:
        running_a = _drawn_a(study, load)
        if load not in starting or not isinstance(running_a, float):
            continue
        beside = [_drawn_a(study, one) for one in own if one is not load and _runs(one)]
        known_a = sum(one for one in beside if isinstance(one, float))
        held.append(StartCurrent(load, times_at_start(load) * running_a + known_a, _lasts_s(load)))
    return max(held, key=lambda one: one.current_a, default=None)


def may_open(device: Device, start: StartCurrent) -> bool:
    """Whether a device may open during a start, as far as its standard sets that at all."""
    window = blow(device, start.current_a).window
    if window is None:
        return False
    return 0.0 < window.min_s < start.least_s or window.max_s <= start.least_s


def waits_for(device: Device, start: StartCurrent) -> bool:
    """Whether a device can be relied on to wait for a start.

    Where no standard sets times for its family, it is taken to wait for a moment above its rating,
    as motors want it, and not for a start that lasts.
    """
    if may_open(device, start):
        return False
    is_lasting = start.least_s >= lasting_start_s().value
    return not is_lasting or blow(device, start.current_a).speed != "no table"


def times_at_start(load: Load) -> float:
    """How many times what it draws in running a load draws at its start; 1 if none is said [-]."""
    return load.starts_at or 1.0


@once
def _starting(study: Study) -> Sequence[Load]:
    return tuple(one for one in study.rig.loads if times_at_start(one) > 1.0)


def _drawn_a(study: Study, load: Load) -> float | Unknown:
    return drawn_in(study, load, own_circuit(study, load)).current_a


def _runs(load: Load) -> bool:
    return load.duty in ("continuous", "cyclic")


def _lasts_s(load: Load) -> float:
    """How long a start lasts, as said or at the least [s]."""
    return start_s().value if load.start_s is None else load.start_s
