"""Another rating in the place of a device."""

import math
from collections.abc import Sequence

from rigfolio.demand import flows_of
from rigfolio.findings import Fix, Refit
from rigfolio.model import Conductor, Device
from rigfolio.protection.exposure import exposures_by_wire
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.weakest import panels_behind_a, slot_limit_a
from rigfolio.record import replace
from rigfolio.standard_sizes import rating_below
from rigfolio.study import Study
from rigfolio.units import show, show_limit
from rigfolio.wording import listed, listed_wires, load_name

_WRITTEN = 10
"""Digits of a rating as it is written into a text: all that it has."""


def written(rating_a: float) -> str:
    """A rating as it is written into a text [A]."""
    return show(rating_a, "A", _WRITTEN)


def other_rating(device: Device, rating_a: float, more: str = "", otherwise: str = "") -> Fix:
    """Another rating of a device, to be tried and to be decided by a person."""
    change = Refit("rating", device.about.name, written(rating_a))
    text = f"`{device.kind} {show_limit(rating_a, 'A')}`{more}"
    return Fix(text, "ask", (change,), otherwise=otherwise)


def smaller_device(
    study: Study, device: Device, rating_a: float, unknown: str = "", otherwise: str = ""
) -> Fix:
    """A device of less than is fitted, to be tried; to be decided where a load is not known.

    Parameters
    ----------
    study : Study
        The rig.
    device : Device
        The device that is too large.
    rating_a : float
        What it is to be [A].
    unknown : str
        A load behind it whose draw is not known, or a source of which nobody knows what it gives;
        found where it is left out.
    otherwise : str
        What is to be said where it does not serve.
    """
    found = flows_of(study).demand(device.about.name).open
    unknown = unknown or next(iter(found), "")
    fix = other_rating(device, rating_a, otherwise=otherwise)
    if not unknown:
        return replace(fix, kind="safe")
    if unknown in study.rig.by_name.sources:
        gives = f"what `{unknown}` gives"
        return replace(
            fix,
            text=f"{fix.text}, if that serves: {gives} is unknown",
            otherwise=otherwise or f"read first {gives}",
        )
    load = load_name(study.rig, unknown)
    return replace(
        fix,
        text=f"{fix.text}, if that serves {load}: what it draws is unknown",
        otherwise=otherwise or f"measure what {load} draws",
    )


def smaller_in_place(
    study: Study, limit_a: float, devices: Sequence[Device], needed_a: float, unknown: str
) -> Fix | None:
    """A smaller device in one place that carries what it must; None where there is none."""
    smaller, slot_a = rating_below(limit_a, devices[0]), slot_limit_a(study, devices[0])
    caps = (limit_a, panels_behind_a(study, devices[0]), math.inf if slot_a is None else slot_a)
    for_panels = rating_below(min(caps), devices[0])
    if for_panels is not None and for_panels >= needed_a:
        smaller = for_panels
    if smaller is None or smaller < needed_a or not _is_one_place(study, devices):
        return None
    if len(devices) > 1:
        word = f"`{devices[0].kind} {show_limit(smaller, 'A')}`"
        return Fix(f"one {word} in place of {listed(d.about.name for d in devices)}")
    before = _exposed_before(study, devices[0])
    most = f"{devices[0].kind} of {show_limit(smaller, 'A')} at most"
    return smaller_device(
        study, devices[0], smaller, unknown,
        f"{most} in its place, once {listed_wires(before)} has its own" if before else "",
    )  # fmt: skip


def _exposed_before(study: Study, device: Device) -> tuple[Conductor, ...]:
    """The wires that end at a device and are not protected either: it would come too far on."""
    found = exposures_by_wire(study)
    wires = (one for one in study.rig.conductors if one.name in found)
    return tuple(one for one in wires if device.line in (one.a, one.b))


def _is_one_place(study: Study, devices: Sequence[Device]) -> bool:
    """Whether devices stand side by side, so that one can take their place."""
    zone = reach_of(study).zone
    return len({frozenset((zone[d.line], zone[d.load])) for d in devices}) == 1
