"""A smaller fuse where the loads allow it; copper or a fuse further on where they do not."""

from collections.abc import Sequence
from functools import partial

from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import Fix
from rigfolio.model import Conductor, Device
from rigfolio.protection.limits import limit_in, limit_of
from rigfolio.protection.ways_out.left import (
    copper_left,
    fuse_left,
    or_parted,
)
from rigfolio.protection.ways_out.own_fuse import (
    fuse_of_its_own,
    fuses_of_their_own,
    several_supplies,
)
from rigfolio.protection.ways_out.rating import other_rating, smaller_in_place
from rigfolio.protection.ways_out.thicker import need_of, thicker_wire
from rigfolio.protection.weakest import panels_behind_a, slot_limit_a
from rigfolio.record import replace
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import is_over, show_limit


def fuse_or_copper(
    study: Study,
    wires: Sequence[Conductor],
    limit_a: float,
    devices: Sequence[Device],
    asked: tuple[float, str] = (0.0, ""),
) -> Fix:
    """A smaller fuse where the loads allow it; copper where they do not.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that may carry too little.
    limit_a : float
        What all devices together may let through, other supplies taken off [A].
    devices : Sequence[Device]
        The devices that let too much through.
    asked : tuple of float and str
        The least that another device must be rated for a start [A], and that in words; nothing
        comes of it where no wire in stock bears that.

    Returns
    -------
    Fix
        Never a rating above the limit of the wires that stay.
    """
    places = [*(device.about.name for device in devices), *(wire.name for wire in wires)]
    needed_a = max(least_rated_a(study, name) for name in places)
    least_a = needed_a
    if len(devices) == 1 and is_over(asked[0], needed_a) and _grows(study, wires, asked[0]):
        needed_a = asked[0]
    unknown = next(iter(flows_of(study).most(places).open), "")
    smaller = smaller_in_place(study, limit_a, devices, needed_a, unknown)
    if smaller is not None:
        return smaller
    bears = limit_of(study, wires[0])
    if len(devices) > 1 or (bears is not None and limit_a < bears.value):
        return several_supplies(study, wires, devices)
    own = fuse_of_its_own(study, wires, devices[0]) if needed_a == least_a else None
    if own is None and len(wires) > 1 and not any(wire.circuit for wire in wires):
        own = fuses_of_their_own(study, wires, devices)
    why = asked[1] if is_over(needed_a, least_a) else ""
    return own or _copper_and_fuse(study, wires, devices[0], needed_a, why)


def _grows(study: Study, wires: Sequence[Conductor], rating_a: float) -> bool:
    """Whether wires in stock may lie behind a device of some rating."""
    fitting = rating_above(rating_a)
    return fitting is not None and thicker_wire(study, wires, fitting) is not None


def _copper_and_fuse(
    study: Study, wires: Sequence[Conductor], device: Device, needed_a: float, why: str = ""
) -> Fix:
    need = why or need_of(study, [device.about.name, *(wire.name for wire in wires)])
    slot_a = slot_limit_a(study, device)
    fitting = rating_above(needed_a, device)
    if slot_a is not None and needed_a > slot_a:
        return Fix(
            f"no fuse is right here: {need}, the slot gives {show_limit(slot_a, 'A')}; feed them "
            "from outside the panel, by thicker wire with a fuse of its own"
        )
    where = None if fitting is None else thicker_wire(study, wires, fitting)
    if fitting is None or where is None:
        left = _left(study, wires, device, needed_a)
        return Fix(f"no fuse and no stock size are right here: {need}; {left}")
    names = [wire.name for wire in wires]
    otherwise = or_parted(study, names, f"thicker wire and a fuse to match it: {need}")
    if _stays(study, wires, device, fitting, where):
        return replace(where, text=f"{where.text}: {need}", otherwise=otherwise)
    also = other_rating(device, fitting)
    return Fix(
        f"{where.text}, and {also.text}: {need}", "ask", (*where.changes, *also.changes),
        otherwise=otherwise,
    )  # fmt: skip


def _left(study: Study, wires: Sequence[Conductor], device: Device, needed_a: float) -> str:
    """What is left where no single wire may lie behind a fuse that carries what it must."""
    rated_a, fitting = device.rating_a, rating_above(needed_a, device)
    if isinstance(rated_a, float) and not is_over(needed_a, rated_a):
        return copper_left(study, wires, rated_a, partial(limit_in, study))
    if fitting is None:
        return fuse_left(study, device, needed_a)
    fuse = other_rating(device, fitting).text
    return copper_left(study, wires, fitting, partial(limit_in, study), fuse)


def _stays(
    study: Study, wires: Sequence[Conductor], device: Device, least_a: float, copper: Fix
) -> bool:
    """Whether what is fitted may stay behind thicker copper, which bears it as it is."""
    rated_a, slot_a = device.rating_a, slot_limit_a(study, device)
    if not isinstance(rated_a, float) or is_over(least_a, rated_a):
        return False
    made_a = panels_behind_a(study, device)
    if is_over(rated_a, made_a if slot_a is None else min(made_a, slot_a)):
        return False
    then = thicker_wire(study, wires, rated_a)
    return then is not None and then.changes == copper.changes
