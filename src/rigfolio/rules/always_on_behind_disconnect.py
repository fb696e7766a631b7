"""A load that must stay on lies behind a battery disconnect or selector.

*Why:* a gas detector, a bilge pump or breakaway brakes die when someone turns the battery off to be
careful.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device, Load
from rigfolio.network import Edge
from rigfolio.protection import listed
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "always-on-behind-disconnect",
    Severity.DANGER,
    Citation("detectors, bilge pumps and breakaway brakes keep their supply", "common practice"),
)

Fed = tuple[frozenset[str], frozenset[str]]
"""Terminals that are reached on the plus and on the minus side."""


def check(study: Study) -> Iterator[Finding]:
    """Every load said to be always on that no battery reaches with the disconnects open."""
    openers = frozenset(d.load for d in study.rig.devices if _is_opener(study, d))
    fed = _fed(study, frozenset())
    held = _fed(study, openers)
    for load in study.rig.loads:
        if not load.always_on or load.plus not in fed[0]:
            continue
        if _is_dead(load, fed, held):
            cutting = [
                device
                for device in study.rig.devices
                if device.load in openers
                and _is_dead(load, fed, _fed(study, frozenset({device.load})))
            ]
            yield _finding(load, cutting)


def _finding(load: Load, cutting: list[Device]) -> Finding:
    label = str(load.about)
    names = dict.fromkeys(device.about.name for device in cutting)
    what = f"{listed(names)} is open" if names else "the disconnects are open"
    if len(names) > 1:
        what = f"{listed(names)} are open, any of them"
    return RULE.finding(
        f"`{label}` must stay on and is dead when {what}",
        load.about.span,
        others=[(device.about.span, "cuts it off") for device in cutting],
        fix=Fix("feed it ahead of the disconnect, with a fuse of its own"),
    )


def _is_dead(load: Load, fed: Fed, held: Fed) -> bool:
    """Whether what fed a load no longer does where only some of the rig is held."""
    return load.plus not in held[0] or (load.minus in fed[1] and load.minus not in held[1])


def _fed(study: Study, openers: frozenset[str]) -> Fed:
    """What the batteries reach on the plus and the minus side with some devices open.

    A DC-DC converter whose input is reached goes on from its output, unless some state of the text
    turns it off: what is off at times keeps nothing on.
    """

    def is_open(edge: Edge) -> bool:
        return isinstance(edge, Device) and edge.load in openers

    plus = [s.plus for s in study.rig.sources if s.stores]
    minus = [s.minus for s in study.rig.sources if s.stores]
    off = {
        part for state in study.rig.states for part, position in state.settings if position == "off"
    }
    converters = [s for s in study.rig.sources if s.inlet and s.about.name not in off]
    while True:
        out = frozenset(study.net.walk(plus, is_open))
        back = frozenset(study.net.walk(minus, is_open))
        more = [
            s for s in converters
            if s.plus not in plus and s.inlet in out and s.minus in back
        ]  # fmt: skip
        if not more:
            return out, back
        plus += [s.plus for s in more]


def _is_opener(study: Study, device: Device) -> bool:
    """Whether a device cuts off a part of the rig: what stands within a circuit does not count.

    A float switch or a relay in the line of its own load is how that load works.
    """
    if device.traits.parts_rig:
        return True
    if device.traits.opened_by != "signal":
        return False
    # One that stands within a circuit has no line end of its own: it begins where a wire ends.
    name = device.about.name
    posts = {source.plus for source in study.rig.sources}
    return device.line == f"{name}.{device.traits.ends[0]}" or device.line in posts
