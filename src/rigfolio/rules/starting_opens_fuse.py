"""A motor that starts, or a heater that glows first, may open its fuse.

Looked at are loads of which the text says what they start at, behind a fuse of their circuit alone,
with what else runs on there. By the standard of its family the fuse may open sooner than the start
lasts, or than the shortest start of a motor where the text does not say how long it does. Families
whose standard sets no least time are left out.

*Why:* a fuse that opens at every third start gets replaced by a larger one, which the wire may not
carry. A slow kind, or wire for the larger fuse, keeps that hand away.
"""

from collections.abc import Iterator

from rigfolio.demand import flows_of
from rigfolio.findings import Citation, Finding, Fix, Severity, Unknown
from rigfolio.model import Device, Load
from rigfolio.operating import drawn_in, own_circuit
from rigfolio.protection import label_of, largest_fuse_of, other_rating, slot_limit_a
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load, time_words

RULE = Rule(
    "starting-opens-fuse",
    Severity.ADVICE,
    Citation("starting current against the opening times of the fuse", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every fuse that a start may open, with the load that starts hardest."""
    starting = [load for load in study.rig.loads if load.starts_at and load.starts_at > 1.0]
    if not starting:
        return
    for device in study.rig.devices:
        rated_a = device.rating_a
        if not device.protects or not isinstance(rated_a, float):
            continue
        found = _hardest(study, device, starting)
        # A fuse that its loads overload as they run is told of elsewhere.
        if found is not None and _opens(device, found[1], _lasts_s(found[0])):
            yield _finding(study, device, *found)


def _hardest(study: Study, device: Device, starting: list[Load]) -> tuple[Load, float] | None:
    """The load behind a device of its own that starts hardest, and what flows as it starts [A]."""
    users = flows_of(study).users(device.about.name)
    if len(users) != 1:
        return None
    user = next(iter(users))
    own = [load for load in study.rig.loads if (load.circuit or load.about.name) == user]
    held: list[tuple[Load, float]] = []
    for load in own:
        running_a = _drawn_a(study, load)
        if load not in starting or not isinstance(running_a, float):
            continue
        beside = [_drawn_a(study, one) for one in own if one is not load and _runs(one)]
        known_a = sum(one for one in beside if isinstance(one, float))
        held.append((load, (load.starts_at or 1.0) * running_a + known_a))
    return max(held, key=lambda pair: pair[1], default=None)


def _drawn_a(study: Study, load: Load) -> float | Unknown:
    return drawn_in(study, load, own_circuit(study, load)).current_a


def _runs(load: Load) -> bool:
    return load.duty in ("continuous", "cyclic")


def _lasts_s(load: Load) -> float:
    """How long a start lasts, as said or at the least [s]."""
    from rigfolio.books import start_s

    return start_s().value if load.start_s is None else load.start_s


def _opens(device: Device, current_a: float, least_s: float) -> bool:
    """Whether a fuse may open during a start, as far as its standard sets that at all."""
    from rigfolio.shorts import blow

    window = blow(device, current_a).window
    if window is None:
        return False
    return 0.0 < window.min_s < least_s or window.max_s <= least_s


def _finding(study: Study, device: Device, load: Load, current_a: float) -> Finding:
    from rigfolio.shorts import blow

    held = blow(device, current_a)
    assert held.window is not None  # noqa: S101
    assert isinstance(device.rating_a, float)  # noqa: S101
    least_s = _lasts_s(load)
    when = (
        f"opens within {held.window.max_s:g} s" if held.window.min_s == 0.0
        else f"may open after {held.window.min_s:.2g} s"
    )  # fmt: skip
    return RULE.finding(
        f"`{label_of(load)}` starts at {show_load(current_a, 'A')} for "
        f"{time_words(least_s)}{'' if load.start_s is not None else ' or longer'}, a "
        f"{show_limit(device.rating_a, 'A')} {device.kind} {when}",
        device.rating_span or device.about.span,
        others=[(load.about.span, f"starts at {load.starts_at:g} times its current")],
        source=held.source,
        fix=_fix(study, device, current_a, least_s),
        numbers=(("start_a", current_a), ("opens_s", held.window.min_s)),
    )


def _fix(study: Study, device: Device, current_a: float, least_s: float) -> Fix:
    """The next rating that waits for the start, where the slot and every wire allow it."""
    slower = (
        "a slower kind of fuse of the same rating, a soft start, or thicker wire and the larger "
        "fuse that it allows"
    )
    limits = [
        limit.value
        for circuit in study.rig.circuits
        if circuit.device == device.about.name
        and (limit := largest_fuse_of(study, circuit)) is not None
    ]
    slot_a = slot_limit_a(study, device)
    most_a = min([*limits, *([slot_a] if slot_a is not None else [])], default=0.0)
    larger = device
    while isinstance(larger.rating_a, float):
        above = rating_above(larger.rating_a * (1.0 + 1e-6), device)
        if above is None or above > most_a * (1.0 + 1e-9):
            break
        larger = replace(larger, rating_a=above)
        if not _opens(larger, current_a, least_s):
            return other_rating(device, above, ", its wires allow that", slower)
    return Fix(slower)
