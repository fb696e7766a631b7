"""The wires between solar modules and their controller lose more than is usual.

Counted out and back while the modules give most, by the watts on their label and the volts at
these, with all arrays of the controller in the sun and the copper as hot as that makes it.

*Why:* what the wires lose never reaches the battery, on every sunny day. Nothing burns: it is
advice.
"""

from collections.abc import Iterator

from rigfolio.books import sun_figure
from rigfolio.demand import sun_drops
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import apart, show, show_limit, show_load
from rigfolio.wording import lost_words

RULE = Rule(
    "array-drop",
    Severity.ADVICE,
    Citation("drop between modules and controller at greatest power", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every array whose watts are told."""
    usual = sun_figure("drop", "share")
    for drop in sun_drops(study):
        if not usual.is_broken_by(drop.share):
            continue
        yield RULE.finding(
            f"`{drop.array.about.name}` loses {show_load(drop.lost_v, 'V')}, "
            f"{apart(drop.share, usual.value, '%')} of {show(drop.works_v, 'V')}, on its way to "
            f"`{drop.controller.about.name}`; {show_limit(usual.value, '%')} are usual",
            drop.array.about.span,
            others=[(drop.worst[0].span, lost_words(*drop.worst, drop.lost_v))],
            source=usual.source,
            fix=Fix("thicker wire out and back, a shorter way, or modules in series"),
            numbers=(
                ("drop_v", drop.lost_v), ("share", drop.share), ("allowed", usual.value),
            ),
        )  # fmt: skip
