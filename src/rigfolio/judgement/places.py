"""Where at the panel findings are, worked out once a study."""

from rigfolio.findings import Finding
from rigfolio.study import Study, once
from rigfolio.wording import PanelPlaces


@once
def places_of(study: Study) -> PanelPlaces:
    """The parts of a rig by where its text speaks of them."""
    return PanelPlaces(study.rig)


def place_at(study: Study | None, finding: Finding) -> str:
    """Where at the panel a finding is, in words; empty for one of a text that is not understood."""
    return places_of(study).at(finding.at.span) if study is not None else ""


def placed_headline(place: str, finding: Finding) -> str:
    """What was found, behind its place at the panel if it has one."""
    return f"{place}: {finding.headline}" if place else finding.headline
