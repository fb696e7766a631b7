"""What a start does to the fuse of a circuit: how much flows, for how long, whether it waits.

Looked at are loads of which the text says what they start at, behind a device of their circuit
alone, with what else runs on there, and what turns an engine over.
"""

from collections.abc import Iterable, Mapping, Sequence

from rigfolio.books import lasting_start_s, start_s
from rigfolio.calc import Window
from rigfolio.demand import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Device, Load, fitted_now
from rigfolio.network import edge_name
from rigfolio.operating import drawn_in, own_circuit, starters_of, starting_a
from rigfolio.protection import whole_starts
from rigfolio.record import record
from rigfolio.shorts.clearing import Blow, blow
from rigfolio.study import Study, once
from rigfolio.units import time_words


@record
class StartCurrent:
    """What flows through a device while a load starts [A], and how long at the least [s]."""

    load: Load
    current_a: float
    least_s: float

    @property
    def lasts(self) -> str:
        """How long in words: `3 min`, `0.1 s or longer` where the text does not say it."""
        return f"{time_words(self.least_s)}{' or longer' if self.load.start_s is None else ''}"


@record
class StartLine:
    """A load that starts at more than it runs at [A], and the device that it starts through.

    `running_a` and `current` are None where nobody knows what it draws; `device` is None where no
    device is for its circuit alone. `blow` is what the start does to what is fitted there now.
    """

    load: Load
    running_a: float | None
    current: StartCurrent | None
    device: Device | None = None
    blow: Blow | None = None


def hardest_start(study: Study, device: Device) -> StartCurrent | None:
    """The start behind a device of its own through which most flows; None where there is none."""
    starting = _starting(study)
    users = flows_of(study).users(device.about.name) if starting else ()
    if len(users) != 1:
        return None
    user = next(iter(users))
    held = (_start_of(study, load) for load in starting if _user(load) == user)
    known = (one for one in held if one is not None)
    return max(known, key=lambda one: one.current_a, default=None)


@once
def starts_of(study: Study) -> tuple[StartLine, ...]:
    """What the text says to start at more than it runs at, and what turns an engine over.

    In the order of the text.
    """
    alone: dict[str, list[Device]] = {}
    for device in study.rig.devices if _starting(study) else ():
        users = flows_of(study).users(device.about.name) if device.protects else ()
        if len(users) == 1:
            alone.setdefault(next(iter(users)), []).append(device)
    engines = starters_of(study)
    for device in study.rig.devices if engines else ():
        held = whole_starts(study).get(edge_name(device)) if device.protects else None
        if held is not None:
            alone.setdefault(_user(held[1]), []).append(device)
    starting = {one.about.name for one in _starting(study)} | engines
    return tuple(
        _told(study, load, _first(study, load, alone.get(_user(load), ())))
        for load in study.rig.loads if load.about.name in starting
    )  # fmt: skip


def _first(study: Study, load: Load, devices: Iterable[Device]) -> Device | None:
    """Of several devices for one circuit alone its own, else the one of the smallest rating."""
    circuit = study.circuit(load.circuit)
    own = "" if circuit is None else circuit.device
    ranked = [
        (one.about.name != own, one.rating_a if isinstance(one.rating_a, float) else 0.0, one)
        for one in devices
    ]
    return min(ranked, key=lambda one: one[:2])[2] if ranked else None


def _told(study: Study, load: Load, device: Device | None) -> StartLine:
    running_a, current = _drawn_a(study, load), _start_of(study, load)
    known_a = running_a if isinstance(running_a, float) else None
    if current is None or device is None:
        return StartLine(load, known_a, current, device)
    through_a = current.current_a
    if load.about.name in starters_of(study):
        # Batteries side by side give a part each.
        through_a = whole_starts(study)[edge_name(device)][0]
    fitted = fitted_now(study.rig, device)
    return StartLine(load, known_a, current, device, blow(fitted, through_a))


def _start_of(study: Study, load: Load) -> StartCurrent | None:
    """What flows while a load starts beside what runs on in its circuit; None where unknown."""
    alone_a = starting_a(study, load)
    if alone_a is None:
        return None
    others = (one for one in study.rig.loads if one is not load and _user(one) == _user(load))
    beside = (_drawn_a(study, one) for one in others if one.traits.for_hours)
    known_a = sum(one for one in beside if isinstance(one, float))
    asked_a = alone_a + known_a
    most_a = _limits_a(study).get(load.plus, asked_a)
    return StartCurrent(load, min(asked_a, most_a), _lasts_s(load))


@once
def _limits_a(study: Study) -> Mapping[str, float]:
    """What the only source of each terminal gives at the most, where it is limited [A]."""
    sources = study.rig.by_name.sources
    lone = (sources[name] for name in flows_of(study).lone)
    return {
        end: source.limit_a
        for source in lone if isinstance(source.limit_a, float)
        for end in study.net.walk([source.plus])
    }  # fmt: skip


def _user(load: Load) -> str:
    """What a load counts for on its way: its circuit, or itself where it belongs to none."""
    return load.circuit or load.about.name


def may_open(device: Device, start: StartCurrent) -> bool:
    """Whether a device may open during a start, as far as its standard sets that at all."""
    window = blow(device, start.current_a).window
    if window is None:
        return False
    return 0.0 < window.min_s < start.least_s or is_sure_to_open(window, start)


def is_sure_to_open(window: Window, start: StartCurrent) -> bool:
    """Whether a device that opens between two times does so before a start is over."""
    return window.max_s <= start.least_s


def opening_words(window: Window, start: StartCurrent) -> str:
    """When a device that may open in a start, between two times, does: `opens within 1.25 s`."""
    if is_sure_to_open(window, start) or window.min_s == 0.0:
        return f"opens within {time_words(window.max_s)}"
    return f"may open after {least_words(window.min_s)}"


def least_words(seconds: float) -> str:
    """A least time, two figures of it."""
    least_s = float(f"{seconds:.2g}")
    return f"{least_s:g} s" if least_s < 100.0 else time_words(least_s)


def waits_for(device: Device, start: StartCurrent) -> bool:
    """Whether a device can be relied on to wait for a start.

    Where no standard sets times for its family, it is taken to wait for a moment above its rating,
    as motors want it, and not for a start that lasts.
    """
    if may_open(device, start):
        return False
    is_lasting = start.least_s >= lasting_start_s().value
    return not is_lasting or blow(device, start.current_a).speed != "no table"


@once
def _starting(study: Study) -> Sequence[Load]:
    return tuple(one for one in study.rig.loads if one.times_at_start > 1.0)


def _drawn_a(study: Study, load: Load) -> float | Unknown:
    return drawn_in(study, load, own_circuit(study, load)).current_a


def _lasts_s(load: Load) -> float:
    """How long a start lasts, as said or at the least [s]."""
    return start_s().value if load.start_s is None else load.start_s
