"""What sets itself in a state: relays by their coils, combiners by what charges, converters."""

from collections.abc import Collection, Iterable, Iterator

from rigfolio.isolation.conditions import Condition, Setting, opened, with_setting
from rigfolio.isolation.energised import Alive, Open, SourceReach, source_reach
from rigfolio.isolation.fed import feeding
from rigfolio.model import OPENS, Device, Load
from rigfolio.network import contacts_of, ends
from rigfolio.study import Study

_NOT_CHARGED = "nothing that charges reaches either side"


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


def with_coils(drive: SourceReach, condition: Condition) -> Condition:
    """The state with each relay closed whose coil is live in it, unless the text says otherwise."""
    stated = {one.part for one in condition.settings if one.is_stated}
    for surely in (True, False):
        while True:
            state = opened(drive.rig, condition, surely=surely)
            found = next(worked_by_coils(drive, state, stated), None)
            if found is None:
                break
            device, coil = found
            reason = f"its coil, {coil.about}, is live"
            setting = Setting(device.about.name, "closed", reason, surely)
            condition = with_setting(drive.rig, condition, setting)
            stated |= {device.about.name}
    return condition


def uncharged(study: Study, condition: Condition) -> Condition:
    """A state once nothing charges any more in it: combiners that charging closed are open.

    One that the text has closed although nothing that charges reaches it stays so: somebody holds
    it in.
    """
    drive = source_reach(study)
    alive = drive.alive(opened(study.rig, condition))
    for device in study.rig.devices:
        setting = condition.of(device.about.name)
        if not device.traits.joins_banks or setting is None or setting.position in OPENS:
            continue
        if _charged_by(drive, alive, device):
            at_rest = Setting(device.about.name, "open", _NOT_CHARGED)
            condition = with_setting(study.rig, condition, at_rest)
    return condition


def joined_banks(drive: SourceReach, condition: Condition) -> Condition:
    """The state with its combiners set: one closes when a charging source reaches either side."""
    unset = {
        device.about.name: device
        for device in drive.rig.devices
        if device.traits.joins_banks and condition.of(device.about.name) is None
    }
    for device in unset.values():
        condition = with_setting(
            drive.rig, condition, Setting(device.about.name, "open", _NOT_CHARGED)
        )
    for surely in (True, False):
        waiting = {n: d for n, d in unset.items() if condition.of(n).position == "open"}  # type: ignore[union-attr]
        while waiting:
            closing = _closing(drive, condition, waiting.values(), surely=surely)
            if closing is None:
                break
            device, by = closing
            name = device.about.name
            reason = f"closes when {by} charges"
            condition = with_setting(drive.rig, condition, Setting(name, "closed", reason, surely))
            del waiting[name]
    return condition


def _closing(
    drive: SourceReach, condition: Condition, waiting: Iterable[Device], *, surely: bool
) -> tuple[Device, str] | None:
    """A combiner that a charging source reaches, and that source."""
    alive = drive.alive(opened(drive.rig, condition, surely=surely))
    charged = ((device, _charged_by(drive, alive, device)) for device in waiting)
    return next((one for one in charged if one[1]), None)


def _charged_by(drive: SourceReach, alive: Alive, device: Device) -> str:
    """The first charging source that reaches either side of a combiner; empty where none does."""
    charging = {source.about.name for source in drive.rig.sources if source.traits.charges}
    reaching = (name for end in ends(device) for name in alive.get(end, ()))
    return next((name for name in reaching if name in charging), "")


def idle(drive: SourceReach, condition: Condition) -> Condition:
    """The state with each converter off whose input nothing feeds, unless the text says otherwise.

    What nobody can be sure of counts as feeding it.
    """
    state = opened(drive.rig, condition)
    loads = drive.rig.by_name.loads
    for source in drive.rig.sources:
        name = source.about.name
        told = condition.of(name)
        if not source.inlet or told is None or told.is_stated:
            continue
        if not feeding(drive, state, loads[source.inlet]):
            condition = with_setting(
                drive.rig, condition, Setting(name, "off", "its input is dead")
            )
    return condition
