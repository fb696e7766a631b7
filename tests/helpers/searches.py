"""Searches for faults in rigs of which several tests ask."""

from rigfolio.diagnosis import Diagnosis, diagnose
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.model import Reading
from rigfolio.record import once
from rigfolio.study import Study, as_fitted


@once
def _scenes_of(study: Study) -> Scenes:
    return Scenes(as_fitted(study))


@once
def diagnosed(study: Study, readings: tuple[Reading, ...]) -> Diagnosis:
    """What a search says; what searches in the same study have solved is solved no more."""
    return diagnose(study, readings, _scenes_of(study))
