"""Wires between two named places, alone or in a block that shares facts."""

from rigfolio.lang import Facts, error
from rigfolio.model import Draft, End, FuseSaid, WireSaid
from rigfolio.reading.wiring import fuse_problems, fuse_said, wire_facts
from rigfolio.reading.word import Said
from rigfolio.values import Place


def add_wire(said: Said, given: Facts, draft: Draft) -> None:
    """Add a wire, with the fuse that sits on it; what it lacks is noted as an error."""
    draft.found += fuse_problems(said, places=("at", "from"))
    ends = _ends(given)
    if ends is None:
        draft.found.append(
            error(
                "fact-missing",
                said.span,
                "`wire` without the two places it joins",
                here="something is missing here",
                fix="`wire B1+ to F1 ...`; a wire of a circuit is indented below it",
            )
        )
        return
    fuse = _fuse(given)
    length_m = given.known("length")
    if fuse is not None and length_m is not None and fuse.after_m > length_m:
        draft.found.append(
            error(
                "fuse-past-end",
                given.span("from") or fuse.span,
                "the fuse sits further along the wire than the wire is long",
                fix="the length is one way, from end to end",
            )
        )
    draft.wires.append(WireSaid(ends, wire_facts(said, given), fuse))


def _ends(given: Facts) -> tuple[End, End] | None:
    """The two places of a wire."""
    runs = given.all("run")
    if not runs or not isinstance(runs[0].value, tuple):
        return None
    one, two = runs[0].value
    places = [place for place in (one, two) if isinstance(place, End)]
    return (places[0], places[1]) if len(places) == 2 else None


def _fuse(given: Facts) -> FuseSaid | None:
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
