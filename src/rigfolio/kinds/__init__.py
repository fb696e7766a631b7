"""What each kind of part is and does: the one place that tells kinds apart.

Everything else asks: `source.stores`, `device.traits.resets`. To add a kind, add its row here and
its word in `statements/`. It knows nothing of any rig.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.kinds.conditions import (
        CONDITIONS as CONDITIONS,
        is_of_heat as is_of_heat,
    )
    from rigfolio.kinds.devices import (
        DEVICES as DEVICES,
        USUAL_GUARD as USUAL_GUARD,
        DeviceKind as DeviceKind,
        guards as guards,
        in_circuits as in_circuits,
    )
    from rigfolio.kinds.junctions import (
        JUNCTIONS as JUNCTIONS,
        JunctionKind as JunctionKind,
    )
    from rigfolio.kinds.loads import (
        CAPACITIVE as CAPACITIVE,
        DUTIES as DUTIES,
        USUAL_DUTY as USUAL_DUTY,
        Duty as Duty,
        DutyKind as DutyKind,
    )
    from rigfolio.kinds.openings import (
        OPENINGS as OPENINGS,
        RESETTING as RESETTING,
        VEHICLE as VEHICLE,
        Opening as Opening,
    )
    from rigfolio.kinds.sources import (
        OCCASIONS as OCCASIONS,
        SOURCES as SOURCES,
        SourceKind as SourceKind,
    )
    from rigfolio.kinds.words import (
        plural as plural,
        with_article as with_article,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        conditions="CONDITIONS is_of_heat",
        sources="OCCASIONS SOURCES SourceKind",
        openings="OPENINGS RESETTING VEHICLE Opening",
        devices="DEVICES USUAL_GUARD DeviceKind guards in_circuits",
        loads="CAPACITIVE DUTIES USUAL_DUTY Duty DutyKind",
        junctions="JUNCTIONS JunctionKind",
        words="plural with_article",
    )
