"""What takes the last battery off a source that must not run without one."""

from collections.abc import Iterator

from rigfolio.isolation import in_use
from rigfolio.model import OPENS, Device, Source
from rigfolio.network import Edge
from rigfolio.study import Study


def losing_battery(study: Study, charged_by: str) -> Iterator[tuple[Source, tuple[Device, ...]]]:
    """The sources of a drive that must not run without a battery, with what takes the last off.

    Parameters
    ----------
    study : Study
        The rig.
    charged_by : str
        What drives them, as the table of kinds has it: `sun`, `engine`, `wind`.
    """
    for source in study.rig.sources:
        if source.traits.charges_with == charged_by and source.traits.needs_battery:
            parting = parts_last_battery(study, source)
            if parting:
                yield source, parting


def parts_last_battery(study: Study, source: Source) -> tuple[Device, ...]:
    """The switches any of which, turned off by hand, leaves a source without a battery.

    Empty where the source has none to begin with. Left out are those that the states of the text
    turn off only with the source off as well: who wrote them knows.
    """
    by_hand = {
        device.about.name: device
        for device in study.rig.devices
        if device.traits.opened_by == "hand" and not device.traits.is_plug
    }
    return tuple(
        device
        for name, device in by_hand.items()
        if loses_battery(study, source, name) and not _is_foreseen(study, source, device)
    )


def loses_battery(study: Study, source: Source, name: str) -> bool:
    """Whether a source has a battery in use and none with the device of a name open."""
    return _has_battery(study, source, "") and not _has_battery(study, source, name)


def _is_foreseen(study: Study, source: Source, device: Device) -> bool:
    """Whether every state that turns a switch off turns the source off too, and some state does."""
    settings = [dict(state.settings) for state in study.rig.states]
    turned = [one for one in settings if one.get(device.about.name) in OPENS]
    return bool(turned) and all(one.get(source.about.name) == "off" for one in turned)


def _has_battery(study: Study, source: Source, off: str) -> bool:
    """Whether some battery is joined to both terminals of a source in use, one switch off."""
    apart = in_use(study.rig)

    def is_off(edge: Edge) -> bool:
        return apart.bars(edge) or (
            isinstance(edge, Device) and bool(off) and edge.about.name == off
        )

    plus = study.net.walk([source.plus], is_off)
    minus = study.net.walk([source.minus], is_off)
    return any(
        battery.stores and battery.plus in plus and battery.minus in minus
        for battery in study.rig.sources
    )
