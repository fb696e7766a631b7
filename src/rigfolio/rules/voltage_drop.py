"""A load gets too little voltage: its wires, out and back, lose more than the rule book allows.

*Why:* motors slow and heat, fridges and chargers draw more as volts sag, radios drop out. All of the
way counts, the feeder under the demand of all its loads and the return as well.
"""

from collections.abc import Iterator

from rigfolio.findings import Finding, Fix, Severity, Source
from rigfolio.model.graph import Circuit, Load
from rigfolio.study.drop import Drop
from rigfolio.study.rule import Rule
from rigfolio.study.study import Study
from rigfolio.study.wayout import name_of
from rigfolio.units import show

RULE = Rule(
    "voltage-drop",
    Severity.FAULT,
    Source("voltage drop limits of the rule book", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load against the drop it is allowed; of one circuit the worst."""
    worst: dict[str, tuple[Load, Drop, float]] = {}
    for load in study.rig.loads:
        drop = study.drops.of(load)
        if drop is None:
            continue
        allowed = study.allowed_drop(load)
        over = drop.share - allowed.value
        key = load.circuit or load.about.name
        if over > 1e-9 and (key not in worst or over > worst[key][2]):
            worst[key] = (load, drop, over)
    for load, drop, _ in worst.values():
        yield _finding(study, load, drop)


def _finding(study: Study, load: Load, drop: Drop) -> Finding:
    allowed = study.allowed_drop(load)
    label = load.about.label or load.about.name
    wire = drop.worst
    circuit = next((c for c in study.rig.circuits if c.place == load.circuit), None)
    others = [(wire.span, f"most of it is lost in {name_of(wire)}")] if wire else []
    return RULE.finding(
        f"`{label}` loses {show(drop.volts, 'V')}, {show(drop.share, '%', 2)} of "
        f"{show(drop.nominal_v, 'V')}; {show(allowed.value, '%')} are allowed",
        load.about.span,
        others=others,
        source=allowed.source,
        fix=_fix(study, load, circuit, allowed.value),
        numbers=(("drop_v", drop.volts), ("share", drop.share), ("allowed", allowed.value)),
    )


def _fix(study: Study, load: Load, circuit: Circuit | None, allowed: float) -> Fix:
    size = study.size_for_drop(load, allowed)
    if size is None or circuit is None:
        return Fix("a shorter way, or a thicker feeder")
    return Fix(f"`{size.text}` for the wires of `{circuit.place}`, out and back", "ask")
