"""How a relay stands in a state in which its coil is live."""

from collections.abc import Collection, Iterator

from rigfolio.isolation.energised import Open, SourceReach
from rigfolio.isolation.fed import feeding
from rigfolio.model import Device, Load
from rigfolio.network import coils_of, edge_name


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
    coils = coils_of(drive.rig)
    held = [
        one for one in drive.rig.devices
        if edge_name(one) in coils and edge_name(one) in state.edges and one.about.name not in apart
    ]  # fmt: skip
    for device in held:
        coil = coils[edge_name(device)]
        if feeding(drive, state, coil):
            yield device, coil
