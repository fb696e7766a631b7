"""What a person asks of the sheets behind a command, made sure of before anything is printed."""

from difflib import get_close_matches

from rigfolio.app import Result
from rigfolio.model.graph import Rig
from rigfolio.placing import RefusalError

_RULER_MM = 100.0
_LEAST_MM, _MOST_MM = 80.0, 120.0


def chosen(result: Result, text: str) -> frozenset[str]:
    """The circuits, panels and wires of a list with commas.

    Raises
    ------
    RefusalError
        Something in it is none of these.
    """
    names = frozenset(name.strip() for name in text.split(",") if name.strip())
    study = result.study
    known = _known(study.rig) if study is not None else frozenset[str]()
    for name in sorted(names - known):
        near = get_close_matches(name, sorted(known), n=1, cutoff=0.5)
        fix = f"the nearest is `{near[0]}`" if near else "`rigfolio live FILE` lists the parts"
        raise RefusalError("place-unknown", f"no circuit, panel or wire is called `{name}`", fix)
    return names


def _known(rig: Rig) -> frozenset[str]:
    return frozenset(
        (
            *(circuit.place for circuit in rig.circuits),
            *(panel.about.name for panel in rig.panels),
            *(wire.name for wire in rig.conductors),
            *(f"{slot.panel}.{slot.number}" for slot in rig.slots),
        )
    )


def correction(measured_mm: float | None) -> float:
    """By how much a print is to be enlarged, from what 100 mm on its ruler measured [-].

    Raises
    ------
    RefusalError
        No printer is that far off.
    """
    if measured_mm is None:
        return 1.0
    if not _LEAST_MM <= measured_mm <= _MOST_MM:
        raise RefusalError(
            "command-not-understood",
            f"`--measured {measured_mm:g}` found, expected what 100 mm of the ruler measure",
            f"between {_LEAST_MM:g} and {_MOST_MM:g} mm; else print at full size, without fitting",
        )
    return _RULER_MM / measured_mm
