"""A disconnect has its two ends joined past it, so that it parts nothing.

With everything that a person can open opened, wires, bars, the frame or fuses still join one side
of it to the other: the current takes that way. So it is with a disconnect in the minus lead of a
battery whose minus is bonded to the frame as well, in a rig that returns by the frame.

*Why:* a person who has turned it off takes the rig for dead, and works on live wires.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Conductor, Device
from rigfolio.network import Edge, path
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "disconnect-isolates-nothing",
    Severity.FAULT,
    Citation("a disconnect that is open parts the battery from what it feeds", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every disconnect whose sides stay joined with all that can be opened by hand open."""
    for device in study.rig.devices:
        if not device.traits.parts_rig or device.traits.selects:
            continue
        around = study.net.walk([device.line], _is_opened)
        if device.load in around and device.line != device.load and study.side.get(device.line):
            way = [edge for edge in path(around, device.load) if isinstance(edge, Conductor)]
            yield _finding(study, device, way)


def _is_opened(edge: Edge) -> bool:
    if not isinstance(edge, Device):
        return False
    by_hand = edge.traits.resets and not edge.resets_itself
    return edge.traits.opens or edge.traits.is_plug or by_hand


def _finding(study: Study, device: Device, way: list[Conductor]) -> Finding:
    name = device.about.name
    fix = f"lead everything on one side of `{name}` past the other by way of it alone"
    if study.side.get(device.line) == "-":
        fix = f"put `{name}` in the plus lead, or bond the frame on its far side from the battery"
    return RULE.finding(
        f"`{name}` isolates nothing: its two sides are joined past it",
        device.about.span,
        others=[(wire.span, "on the way round it") for wire in reversed(way)],
        fix=Fix(fix),
    )
