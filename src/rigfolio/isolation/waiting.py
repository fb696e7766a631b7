"""What rests open, and may close at any time: what may come to life behind it."""

from collections.abc import Collection

from rigfolio.isolation.by_itself import worked_by_coils
from rigfolio.isolation.conditions import Condition, opened
from rigfolio.isolation.energised import Open, SourceReach
from rigfolio.model import Rig
from rigfolio.network import edge_name, rests_open


def may_be(drive: SourceReach, condition: Condition) -> Open:
    """As `opened`, with what rests open closed too, where the text does not say how it stands.

    A float, a button or a coil closes it at any time, and nobody at the panel sees that coming. A
    relay that is said to be open while its coil is live is closed by that.
    """
    rig = drive.rig
    state = opened(rig, condition)
    stated = {one.part for one in condition.settings if one.is_stated}
    shut = waiting(rig, stated) | {edge_name(one) for one, _ in worked_by_coils(drive, state)}
    return Open(state.edges - shut, state.sources)


def waiting(rig: Rig, stated: Collection[str] = ()) -> frozenset[str]:
    """What `rests_open` without the parts named, as edges: also what feeds panels.

    What may come to life is more than what `network.resting_open` tells, which is closed for what
    is on.
    """
    return frozenset(
        edge for edge, one in rests_open(rig).items() if one.about.name not in stated
    )  # fmt: skip
