"""How the parts of a rig stand in one state of it."""

from collections.abc import Iterable

from rigfolio.isolation.energised import Open
from rigfolio.isolation.set_to import Position, is_open_at, numbered
from rigfolio.model import OPENS, Rig
from rigfolio.network import edge_name
from rigfolio.record import once, record, replace


@record
class Setting:
    """How one part stands in a state.

    `is_sure` is false where nobody can know; then the part counts as the position says for what
    may be live, and the other way round for what must stay on.
    """

    part: str
    position: Position
    reason: str
    is_sure: bool = True
    is_stated: bool = False


@record
class Condition:
    """A state of the rig with the position of every part that can be switched."""

    name: str
    how: str
    is_stated: bool
    settings: tuple[Setting, ...]

    def of(self, part: str) -> Setting | None:
        """How a part stands; None where it is left as it is drawn."""
        return next((one for one in self.settings if one.part == part), None)


@once
def opened(rig: Rig, condition: Condition, *, surely: bool = False) -> Open:
    """What is open and off in a state.

    Parameters
    ----------
    rig : Rig
        The rig.
    condition : Condition
        The state.
    surely : bool
        Only what is sure counts as closed or on; else what may be closed or on counts too.
    """
    by_part = {one.part: one for one in condition.settings}
    shut: set[str] = set()
    cut: set[str] = set()
    for device, place in numbered(rig):
        setting = by_part.get(device.about.name)
        doubt = surely and setting is not None and not setting.is_sure
        bars = doubt or (setting is not None and is_open_at(setting.position, place))
        (cut if bars else shut).add(edge_name(device))
    off = {
        name
        for name in (source.about.name for source in rig.sources)
        if name in by_part
        and (by_part[name].position in OPENS or (surely and not by_part[name].is_sure))
    }
    return Open(frozenset(cut - shut), frozenset(off))


def with_setting(rig: Rig, condition: Condition, setting: Setting) -> Condition:
    """The state with one setting set or changed."""
    rest = (one for one in condition.settings if one.part != setting.part)
    return replace(condition, settings=in_order(rig, (*rest, setting)))


def in_order(rig: Rig, settings: Iterable[Setting]) -> tuple[Setting, ...]:
    """Disconnects and other devices first, then sources, each in the order of the text."""
    names = [device.about.name for device in rig.devices]
    names += [source.about.name for source in rig.sources]
    rank = {name: place for place, name in reversed(list(enumerate(names)))}
    return tuple(sorted(settings, key=lambda one: rank[one.part]))
