"""A return lets less through than the fuses on the way out.

*Why:* nothing watches a return. What a fuse lets through on the way out comes back on the way home,
and a return that several circuits share carries the sum of them.
"""

import math
from collections.abc import Iterator

from rigfolio.findings import Finding, Severity, Source
from rigfolio.model.graph import Conductor
from rigfolio.model.graph import Source as Supply
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import copper, name_of
from rigfolio.units import show

RULE = Rule(
    "return-too-thin",
    Severity.DANGER,
    Source("returns are judged as strictly as the wires out", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every conductor of the minus side against what can come back through it.

    An assumed return is a twin of its wire out and is judged there.
    """
    for wire in study.rig.conductors:
        limit = study.limit(wire)
        if study.side.get(wire.a) != "-" or limit is None or wire.assumed or wire.cranking:
            continue
        back = study.flows.backs.get(wire.name)
        bound_a = back.bound_a if back is not None else 0.0
        driven_a = _driven(study, wire)
        most_a = max(bound_a if math.isfinite(bound_a) else 0.0, driven_a)
        if most_a <= limit.value * (1.0 + 1e-9):
            continue
        circuits = list(back.levels) if back is not None and bound_a >= driven_a else []
        yield RULE.finding(
            f"{show(most_a, 'A')} can come back through {name_of(wire)}, it may carry "
            f"{show(limit.value, 'A')}",
            wire.size_span,
            here=f"may carry {show(limit.value, 'A')}: {limit.how}",
            others=[
                (c.span, f"returns here, up to {show(back.levels[c.place], 'A')}")
                for c in study.rig.circuits
                if back is not None and c.place in circuits[:6]
                and math.isfinite(back.levels[c.place])
            ],
            source=limit.source,
            fix=copper(study, wire, most_a),
            numbers=(("return_a", most_a), ("limit_a", limit.value)),
        )  # fmt: skip


def _driven(study: Study, wire: Conductor) -> float:
    """What a source with a limit drives through the wire that lands on its minus [A]."""
    sources: tuple[Supply, ...] = study.rig.sources
    limits = [s.limit_a for s in sources if s.minus in (wire.a, wire.b) and s.kind != "battery"]
    return max((limit for limit in limits if isinstance(limit, float)), default=0.0)
