"""A load that must stay on lies behind a battery disconnect or selector.

*Why:* a gas detector, a bilge pump or breakaway brakes die when someone turns the battery off to be
careful.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Device, Load
from rigfolio.study.net import Edge
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import listed

RULE = Rule(
    "always-on-behind-disconnect",
    Severity.DANGER,
    Source("detectors, bilge pumps and breakaway brakes keep their supply", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load said to be always on that no battery reaches with the disconnects open."""
    posts = [s for s in study.rig.sources if s.kind == "battery"]
    out = study.net.walk((s.plus for s in posts), _opens)
    back = study.net.walk((s.minus for s in posts), _opens)
    joined = study.net.walk(s.plus for s in posts)
    for load in study.rig.loads:
        if not load.always_on or load.plus not in joined:
            continue
        if load.plus not in out or (load.minus in study.side and load.minus not in back):
            yield _finding(study, load)


def _finding(study: Study, load: Load) -> Finding:
    ways = study.flows.ways.get(load.about.name, [])
    edges = [edge for way in ways[:1] for edge in (*way.out, *way.back)]
    switches = [edge for edge in edges if isinstance(edge, Device) and _opens(edge)]
    label = load.about.label or load.about.name
    names = listed(dict.fromkeys(d.about.name for d in switches)) if switches else "a disconnect"
    return RULE.finding(
        f"`{label}` must stay on and is dead when {names} is open",
        load.about.span,
        others=[(device.about.span, "cuts it off") for device in switches],
        fix=Fix("feed it ahead of the disconnect, with a fuse of its own"),
    )


def _opens(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.kind in ("disconnect", "selector")
