"""How a relay stands in a state in which its coil is live."""

from collections.abc import Collection, Iterator

from rigfolio.isolation.energised import Open, SourceReach
from rigfolio.isolation.fed import feeding
from rigfolio.model import Device, Load
from rigfolio.network import contacts_of


def worked_by_coils(
    drive: SourceReach, state: Open, apart: Collection[str] = ()
) -> Iterator[tuple[Device, Load]]:
    """The relays that are open in a state although their coil is live there, each with that.

    Parameters
    ----------
    drive : SourceReach
        The rig.
    state : Open
        What is open and off.
    apart : Collection[str]
        Relays that are not asked about, by name.
    """
    for edge, (device, coil) in contacts_of(drive.rig).items():
        if edge in state.edges and device.about.name not in apart and feeding(drive, state, coil):
            yield device, coil
