"""What the fuse of a circuit opens that hangs at another fuse: what its coils hold."""

from collections.abc import Iterable

from rigfolio.isolation import opened_alone
from rigfolio.labels.devices import coming_on_words, part_called
from rigfolio.model import Circuit
from rigfolio.network import coils_of, openers_of
from rigfolio.study import Study


def coil_words(study: Study, circuits: Iterable[Circuit]) -> str:
    """What else goes dark or comes on with the fuse of circuits, by the coils in them; or nothing.

    What hangs behind a contact is found at its own fuse by nobody who pulls that of the coil.
    """
    circuits = tuple(circuits)
    coils = {*coils_of(study.rig).values(), *openers_of(study.rig).values()}
    held = {one.place for one in circuits} | {name for one in circuits for name in one.loads}
    if held.isdisjoint(one.about.name for one in coils):
        return ""
    found = [opened_alone(study, one.device) for one in circuits if one.device]
    dark, on = (
        tuple(dict.fromkeys(part_called(one.kind, one.name, one.label) for one in parts))
        for parts in (
            [part for one in found for part in one.dark if part.name not in held],
            [part for one in found for part in one.comes_on],
        )
    )
    also = f"also dark: {' and '.join(dark)}" if dark else ""
    told = "; ".join(filter(None, (also, coming_on_words(on))))
    return told and f"opened, {told}"
