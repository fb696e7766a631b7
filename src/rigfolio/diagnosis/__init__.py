"""Which part is at fault, from readings and symptoms, and what to read next.

It knows the operating point of a rig with one part wrong. It may not know how its answer is told.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.diagnosis.choice import (
        Choice as Choice,
        Prediction as Prediction,
        next_reading as next_reading,
        predictions as predictions,
    )
    from rigfolio.diagnosis.effort import (
        How as How,
    )
    from rigfolio.diagnosis.evidence import (
        Evidence as Evidence,
        untold_inside as untold_inside,
    )
    from rigfolio.diagnosis.posterior import (
        diagnose as diagnose,
        emptied as emptied,
    )
    from rigfolio.diagnosis.roof import (
        RoofFaultKind as RoofFaultKind,
        RoofRead as RoofRead,
        parted as parted,
        roof_of as roof_of,
    )
    from rigfolio.diagnosis.scenes import (
        Scenes as Scenes,
    )
    from rigfolio.diagnosis.suspects import (
        OF_BATTERIES as OF_BATTERIES,
        Suspect as Suspect,
        SuspectKind as SuspectKind,
    )
    from rigfolio.diagnosis.verdicts import (
        Diagnosis as Diagnosis,
        Verdict as Verdict,
        dead_as_wired as dead_as_wired,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        choice="Choice Prediction next_reading predictions",
        effort="How",
        evidence="Evidence untold_inside",
        posterior="diagnose emptied",
        roof="RoofFaultKind RoofRead parted roof_of",
        scenes="Scenes",
        suspects="OF_BATTERIES Suspect SuspectKind",
        verdicts="Diagnosis Verdict dead_as_wired",
    )
