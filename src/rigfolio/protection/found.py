"""A rig with the wires that are in it now, where others were found than belong there.

What a text says of a wire that is to come does not change the wire that is there. Until it is
pulled, the thinner of the two is what a device has to guard.
"""

from rigfolio.model import Conductor
from rigfolio.record import replace
from rigfolio.study import Study, once
from rigfolio.units import Size


@once
def as_found(study: Study) -> Study:
    """The rig with each wire in the size that was found, where that is the thinner one.

    Where nobody knows what belongs there, what was found counts. It is the same study where no wire
    was found thinner.
    """
    rig = study.rig
    if not any(map(is_found_thinner, rig.conductors)):
        return study
    wires = tuple(map(in_place, rig.conductors))
    return Study(replace(rig, conductors=wires), study.book.name)


def is_found_thinner(wire: Conductor) -> bool:
    """Whether a wire was found that is thinner than what belongs there, or nobody knows of that."""
    if not isinstance(wire.found, Size):
        return False
    return not isinstance(wire.size, Size) or wire.found.area_m2 < wire.size.area_m2


def in_place(wire: Conductor) -> Conductor:
    """A wire as it is there now."""
    if not is_found_thinner(wire):
        return wire
    assert isinstance(wire.found, Size)  # noqa: S101
    return replace(wire, size=wire.found)
