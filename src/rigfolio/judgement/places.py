"""Where at the panel findings are, worked out once a study."""

from rigfolio.study import Study, once
from rigfolio.wording import PanelPlaces


@once
def places_of(study: Study) -> PanelPlaces:
    """The parts of a rig by where its text speaks of them."""
    return PanelPlaces(study.rig)
