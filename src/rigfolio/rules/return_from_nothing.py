"""A return that the text states begins where nothing comes back.

So it is where a circuit feeds a panel whose circuits return to another bar: its `negative` names
one, and the way back of the circuit begins at a bar of its own that the panel has not got.

*Why:* the wire is tagged and fitted, and carries nothing. What everybody takes to come back by it
comes back by other wires, which were not sized for that.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Circuit, Conductor
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import name_of, place

RULE = Rule(
    "return-from-nothing",
    Severity.FAULT,
    Citation("a return begins where what it serves comes back", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """The first piece of every return that the text states."""
    rig = study.rig
    joined = {end for load in rig.loads for end in (load.plus, load.minus)}
    joined |= {end for source in rig.sources for end in (source.plus, source.minus)}
    joined |= {one.terminal for one in rig.junctions}
    joined |= {panel.negative for panel in rig.panels if panel.negative is not None}
    for circuit in rig.circuits:
        wire = rig.conductor(circuit.returns[0]) if circuit.returns else None
        if wire is None or wire.assumed:
            continue
        if wire.a not in joined and len(study.net.at.get(wire.a, ())) == 1:
            yield RULE.finding(
                f"{name_of(wire)}, the return of `{circuit.place}`, begins at nothing",
                wire.span,
                fix=_fix(study, circuit, wire),
            )


def _fix(study: Study, circuit: Circuit, wire: Conductor) -> Fix:
    ends = {study.rig.conductor(name).b for name in circuit.wires}
    panel = next((one for one in study.rig.panels if one.feed in ends), None)
    if panel is None or panel.negative is None:
        return Fix(f"a wire from what `{circuit.place}` feeds to where {name_of(wire)} begins")
    bar, name = place(study.rig, panel.negative), panel.about.name
    return Fix(
        f"no `negative` for `{name}`, if its circuits return to a bar of its own and by this wire; "
        f"no `return` here, if they return to {bar} by themselves"
    )
