"""Nothing between solar modules and their controller can be opened by hand.

A disconnect, a switch, a breaker, a fuse or a plug does, in either lead. Small modules, which a
cloth covers and a plug at their back parts, are left out.

*Why:* modules have no switch and give volts in any daylight. Whoever works on the controller, or
finds it smoking, has to go up and cover them, or pulls a lead that draws an arc.
"""

from collections.abc import Iterator

from rigfolio.books import sun_figure
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.isolation import lit_by
from rigfolio.model import Device, Source
from rigfolio.network import Edge
from rigfolio.protection import SunSide, coldest_v, sun_sides
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show_load
from rigfolio.wording import listed

RULE = Rule(
    "array-not-parted",
    Severity.ADVICE,
    Citation("modules can be parted from their controller by hand", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every controller, with the arrays that drive it and nothing parts."""
    least = sun_figure("parted", "ampere")
    for side in sun_sides(study):
        arrays = [one for one in side.arrays if _is_joined(study, side, one)]
        given_a = sum(one.limit_a for one in arrays if isinstance(one.limit_a, float))
        if not is_over(least.value, given_a):
            yield _finding(study, side, arrays, given_a)


def _is_joined(study: Study, side: SunSide, array: Source) -> bool:
    """Whether an array drives its controller whatever is opened by hand between them."""
    plus, _ = side.controller.lit or ("", "")
    return array.plus not in study.shorted and plus in lit_by(study, array, _is_opened)


def _is_opened(edge: Edge) -> bool:
    if not isinstance(edge, Device):
        return False
    traits = edge.traits
    return edge.protects or traits.is_plug or traits.opened_by == "hand"


def _finding(study: Study, side: SunSide, arrays: list[Source], given_a: float) -> Finding:
    name = side.controller.about.name
    limits = [limit.value for one in arrays if (limit := coldest_v(study, one)) is not None]
    volts = f" and {show_load(max(limits), 'V')}" if limits else ""
    return RULE.finding(
        f"nothing parts {listed(one.about.name for one in arrays)} from `{name}` by hand",
        side.controller.about.span,
        others=[(one.about.span, "is joined to its input by wire alone") for one in arrays],
        source=sun_figure("parted", "ampere").source,
        fix=Fix(
            f"a disconnect in both leads within reach of `{name}`, made for direct current of "
            f"{show_load(given_a * sun_figure('bright', 'factor').value, 'A')}{volts}"
        ),
        numbers=(("given_a", given_a), ("least_a", sun_figure("parted", "ampere").value)),
    )
