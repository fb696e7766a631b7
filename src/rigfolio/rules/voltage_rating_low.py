"""A part is rated for fewer volts than the system it sits in.

*Why:* a fuse or switch above its volts draws an arc that it cannot put out; a load burns.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import About
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_limit, show_load

RULE = Rule(
    "voltage-rating-low",
    Severity.DANGER,
    Citation("rated for the volts of its circuit or more, in boats 33 CFR 183.455(a)", "seen"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every part with a stated voltage rating against the volts at its terminals."""
    for about, ends in _parts(study):
        system_v = max((study.most_volts.get(end, 0.0) for end in ends), default=0.0)
        if about.rated_v is None or about.rated_v >= system_v:
            continue
        yield RULE.finding(
            f"`{about.name}` is rated {show_limit(about.rated_v, 'V')}, its circuit has "
            f"{show_load(system_v, 'V')}",
            about.span,
            fix=Fix(f"a part rated {show_load(system_v, 'V')} or more"),
            numbers=(("rated_v", about.rated_v), ("system_v", system_v)),
        )


def _parts(study: Study) -> Iterator[tuple[About, tuple[str, ...]]]:
    rig = study.rig
    yield from ((device.about, (device.line, device.load)) for device in rig.devices)
    yield from ((panel.about, (panel.feed, panel.bus)) for panel in rig.panels)
    yield from ((load.about, (load.plus,)) for load in rig.loads)
    yield from ((bar.about, (bar.terminal,)) for bar in rig.junctions)
