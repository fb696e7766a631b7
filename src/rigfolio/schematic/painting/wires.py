"""How a conductor looks: in its colours, thin where they are not known, dashed where assumed."""

from rigfolio.draw import Line, Pen, Point, conductor
from rigfolio.findings import Unknown
from rigfolio.model import Conductor
from rigfolio.wording import shades

ASSUMED = Pen(0.35, "#303030", (1.8, 1.2))
PLAIN = Pen(0.7, "#303030")
_THICK_AREA_M2 = 12e-6


def look(wire: Conductor, path: tuple[Point, ...]) -> tuple[Line, ...]:
    """A conductor in its colours; thin where its colour is not stated, dashed where assumed."""
    if wire.assumed:
        return (Line(path, ASSUMED),)
    if wire.colour is None:
        return (Line(path, PLAIN),)
    area_m2 = 0.0 if isinstance(wire.size, Unknown) else wire.size.area_m2
    thick_mm = 1.3 if area_m2 >= _THICK_AREA_M2 else 0.9
    base, stripe = shades(wire.colour)
    if base is None:
        return conductor(path, "#ffffff", None, thick_mm, unknown=True)
    return conductor(path, base, stripe, thick_mm)
