"""A motor that starts, or a heater that glows first, may open its fuse.

Looked at are loads of which the text says what they start at, behind a fuse of their circuit alone,
with what else runs on there. By the standard of its family the fuse may open sooner than the start
lasts, or than the shortest start of a motor where the text does not say how long it does. Families
whose standard sets no least time are left out. Of the start of an engine it is told where a fuse
on its way is sure to open within seconds, also one that serves other loads.

*Why:* a fuse that opens at every third start gets replaced by a larger one, which the wire may not
carry. A slow kind, or wire for the larger fuse, keeps that hand away.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigfolio.books import Limit, longest_s
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Load
from rigfolio.network import edge_name
from rigfolio.protection import largest_fuse_of, other_rating, whole_starts
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load
from rigfolio.wording import label_of

if TYPE_CHECKING:
    from rigfolio.shorts import StartCurrent

RULE = Rule(
    "starting-opens-fuse",
    Severity.ADVICE,
    Citation("starting current against the opening times of the fuse", "common practice"),
    also=(Severity.FAULT,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every fuse that a start may open, with the load that starts hardest."""
    yield from _cranked(study)
    if not any(load.starts_at for load in study.rig.loads):
        return
    from rigfolio.shorts import hardest_start, may_open

    for device in study.rig.devices:
        if not device.protects or not isinstance(device.rating_a, float):
            continue
        start = hardest_start(study, device)
        # A fuse that its loads overload as they run is told of elsewhere.
        if start is not None and may_open(device, start):
            yield _finding(study, device, start)


def _cranked(study: Study) -> Iterator[Finding]:
    """Every fuse on the way of an engine's start that opens in the seconds of it."""
    starts = whole_starts(study)
    for device in study.rig.devices if starts else ():
        current_a, load = starts.get(edge_name(device), (0.0, None))
        if device.protects and load is not None:
            yield from _opened_by(device, current_a, load)


def _opened_by(device: Device, current_a: float, load: Load) -> Iterator[Finding]:
    from rigfolio.shorts import blow

    if not isinstance(device.rating_a, float):
        return
    held = blow(device, current_a)
    if held.window is None or held.window.max_s > longest_s().value:
        return
    yield RULE.finding(
        f"`{label_of(load)}` takes {show_load(current_a, 'A')} for seconds, a "
        f"{show_limit(device.rating_a, 'A')} {device.kind} opens within "
        f"{show_load(held.window.max_s, 's', 2)}",
        device.rating_span or device.about.span,
        others=[(load.about.span, "starts here")],
        source=held.source,
        severity=Severity.FAULT,
        fix=Fix("a larger one, with cable that allows it"),
        numbers=(("start_a", current_a), ("opens_s", held.window.max_s)),
    )


def _finding(study: Study, device: Device, start: "StartCurrent") -> Finding:
    from rigfolio.shorts import blow, is_sure_to_open, opening_words

    load, current_a = start.load, start.current_a
    held = blow(device, current_a)
    assert held.window is not None  # noqa: S101
    assert isinstance(device.rating_a, float)  # noqa: S101
    return RULE.finding(
        f"`{label_of(load)}` starts at {show_load(current_a, 'A')} for {start.lasts}, a "
        f"{show_limit(device.rating_a, 'A')} {device.kind} {opening_words(held.window, start)}",
        device.rating_span or device.about.span,
        others=[(load.about.span, f"starts at {load.starts_at:g} times its current")],
        source=held.source,
        severity=Severity.FAULT if is_sure_to_open(held.window, start) else None,
        fix=_fix(study, device, start),
        numbers=(("start_a", current_a), ("opens_s", held.window.min_s)),
    )


def _fix(study: Study, device: Device, start: "StartCurrent") -> Fix:
    """The next rating that waits for the start, where the slot and every wire allow it."""
    from rigfolio.shorts import may_open

    slower = (
        "a slower kind of fuse of the same rating, a soft start, or thicker wire and the larger "
        "fuse that it allows"
    )
    own = study.rig.begun.get(device.about.name, ())
    limits = [largest_fuse_of(study, one) for one in own]
    larger = device
    while isinstance(larger.rating_a, float):
        above = rating_above(larger.rating_a * (1.0 + 1e-6), device)
        if above is None or not limits or any(_bars(limit, above) for limit in limits):
            break
        larger = replace(larger, rating_a=above)
        if not may_open(larger, start):
            return other_rating(device, above, ", its wires allow that", slower)
    return Fix(slower)


def _bars(limit: Limit | None, rating_a: float) -> bool:
    """Whether a circuit bears less than a rating, or nobody knows what it bears."""
    return limit is None or limit.is_broken_by(rating_a)
