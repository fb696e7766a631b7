"""Wires between two named places, alone or in a block that shares facts."""

from rigfolio.lang.facts import Facts
from rigfolio.lang.lines import error
from rigfolio.model.draft import Draft, End, FuseSaid
from rigfolio.reading.wiring import fuse_said
from rigfolio.reading.word import Said
from rigfolio.values import Place


def ends_of(said: Said, given: Facts, draft: Draft) -> tuple[End, End] | None:
    """The two places of a wire; an error of the text is noted where they are missing."""
    runs = given.all("run")
    if not runs or not isinstance(runs[0].value, tuple):
        draft.found.append(
            error(
                "fact-missing",
                said.span,
                "`wire` without the two places it joins",
                here="something is missing here",
                fix="`wire B1+ to F1 ...`",
            )
        )
        return None
    one, two = runs[0].value
    places = [place for place in (one, two) if isinstance(place, End)]
    return (places[0], places[1]) if len(places) == 2 else None


def fuse_on(given: Facts) -> FuseSaid | None:
    """The fuse that sits on a wire: `fuse 50 A at P1`, `fuse 50 A 6 in from B1+`."""
    places: dict[str, tuple[Place | None, float]] = {}
    at = given.place("at")
    if isinstance(at, Place):
        places["at"] = (at, 0.0)
    away = given.all("from")
    if away and isinstance(away[0].value, tuple):
        length, place = away[0].value
        if isinstance(place, Place):
            places["from"] = (place, length if isinstance(length, float) else 0.0)
    return fuse_said(given, places)
