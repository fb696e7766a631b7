"""What ends the current of solar modules before anything on their way is opened.

It flows while light falls on them, and no fuse or plug parts it without an arc (common practice).
"""

from collections.abc import Iterable, Sequence

from rigfolio.isolation.energised import CLOSED, Open, lit_by
from rigfolio.model import Device, Source
from rigfolio.network import edge_name
from rigfolio.study import Study, once
from rigfolio.wording import called, in_a_row


@once
def isolators_of(study: Study, name: str) -> tuple[str, ...]:
    """The switches that end the current of all modules on whose way a part stands, by name.

    The one next to the modules where one alone does it, else all that do it together; none where no
    switch stands between the modules and their controller, or the part is that switch.
    """
    arrays = _arrays_at(study, name)
    found = dict.fromkeys(
        device.about.name
        for device in study.rig.devices
        if device.line in study.sunlit and _is_switch(device) and device.about.name != name
    )
    one = next(((each,) for each in found if _ends(study, arrays, (each,))), ())
    return one or (tuple(found) if _ends(study, arrays, tuple(found)) else ())


def dark_first(study: Study, name: str) -> str:
    """How the current of modules is ended before a part is opened that is no switch.

    `open S1 Roof isolator or cover the modules`; without a switch, `cover the modules`.
    """
    switches = isolators_of(study, name)
    if not switches:
        return "cover the modules"
    return f"open {_named(study, switches)} or cover the modules"


def idle_words(study: Study, name: str) -> str:
    """When a part between modules and controller can be pulled; empty for all other parts."""
    device = study.rig.by_name.devices.get(name)
    if device is None or not parts_modules(study, device):
        return ""
    switches = isolators_of(study, name)
    if not switches:
        return f"No switch ends the current through {name}: cover the modules before it is pulled."
    return (
        f"With {_named(study, switches)} open no current runs through {name}, and it may be "
        "pulled; it stays live while light falls on the modules."
    )


def parts_modules(study: Study, device: Device) -> bool:
    """Whether a device stands between modules and their controller and is no switch."""
    return device.line in study.sunlit and not _is_switch(device)


def _is_switch(device: Device) -> bool:
    """Whether a hand opens it, and it is made for that."""
    return device.traits.opened_by == "hand"


def _named(study: Study, names: Iterable[str]) -> str:
    devices = study.rig.by_name.devices
    return in_a_row(tuple(called(one, devices[one].about.label) for one in names))


def _arrays_at(study: Study, name: str) -> tuple[Source, ...]:
    """The arrays that are joined to a part: to an end of a device, to the input of a controller."""
    ends = {end for one in study.rig.poles.get(name, ()) for end in (one.line, one.load)}
    source = study.rig.by_name.sources.get(name)
    if source is not None:
        ends |= {*(source.lit or ()), *((source.plus,) if source.traits.by_light else ())}
    joined = study.net.walk(ends & {*study.net.at}) if ends else {}
    return tuple(
        one
        for one in study.rig.sources
        if one.traits.by_light and (one.plus in joined or one.minus in joined)
    )


def _ends(study: Study, arrays: Sequence[Source], names: Iterable[str]) -> bool:
    """Whether some switches, open, leave no array a way to a controller and back."""
    held = set(names)
    edges = frozenset(edge_name(d) for d in study.rig.devices if d.about.name in held)
    state = Open(edges, CLOSED.sources)
    return bool(arrays and held) and not any(lit_by(study, one, state.bars) for one in arrays)
