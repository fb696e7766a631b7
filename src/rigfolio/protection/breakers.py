"""What may stand before a conductor where a rule book lists breakers apart from fuses.

A breaker that may be larger than a fuse counts for less, in the ratio of the two columns, so that
one largest flow tells whether a conductor is protected, whatever stands before it.
"""

from collections.abc import Collection
from typing import Literal

from rigfolio.model import Conductor, Device, Source
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.returns import returns_of
from rigfolio.study import Study, once

Before = Literal["fuse", "breaker", "both"]


@once
def tells_breakers(study: Study) -> bool:
    """Whether breakers are judged apart from fuses: by the book, and where there are any."""
    has_column = any(column.device == "breaker" for column in study.book.columns)
    return has_column and any(device.traits.column == "breaker" for device in study.rig.devices)


def kind_before(study: Study, wire: Conductor) -> Before:
    """What protects a conductor, where the book tells breakers from fuses.

    Fuses, breakers or both; fuses where nothing does.
    """
    return _found(study, wire.name) if tells_breakers(study) else "fuse"


@once
def _found(study: Study, name: str) -> Before:
    wire = study.rig.conductor(name)
    by: list[Device | Source] = []
    if study.side.get(wire.a) == "-":
        back = returns_of(study).get(wire.name)
        circuit = study.circuit(wire.circuit)
        own = study.device(circuit.device) if circuit is not None else None
        by = list(back.by) if back is not None else [own] if own is not None else []
    else:
        for inflow in reach_of(study).inflows(wire):
            by += inflow.by
    return kind_of([one for one in by if isinstance(one, Device)])


def kind_of(parts: Collection[Device | Source]) -> Before:
    """What some devices are, taken together; a source that limits itself counts with fuses."""
    kinds = {part.traits.column if isinstance(part, Device) else "fuse" for part in parts}
    if "breaker" not in kinds:
        return "fuse"
    return "breaker" if kinds == {"breaker"} else "both"
