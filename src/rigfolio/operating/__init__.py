"""Volts and amperes of every part in a scenario, and what a meter should show.

It knows the network, what is open in a state, and what copper may carry. It may not know what
protects a wire.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.operating.expected import (
        fitted_words as fitted_words,
        shut_words as shut_words,
        stages as stages,
    )
    from rigfolio.operating.meter import (
        NOTHING_WRONG as NOTHING_WRONG,
        Scene as Scene,
        Shown as Shown,
        Wrong as Wrong,
        drawn_at as drawn_at,
        edges_of as edges_of,
    )
    from rigfolio.operating.point import (
        point_of as point_of,
        source_ohm as source_ohm,
        wire_ohm as wire_ohm,
    )
    from rigfolio.operating.test_points import (
        MeterPoint as MeterPoint,
        Stage as Stage,
        bounds_words as bounds_words,
        numbered_points as numbered_points,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        expected="fitted_words shut_words stages",
        meter="NOTHING_WRONG Scene Shown Wrong drawn_at edges_of",
        point="point_of source_ohm wire_ohm",
        test_points="MeterPoint Stage bounds_words numbered_points",
    )
