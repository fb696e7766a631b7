"""A charger's own line is fused for what the charger gives, and not for the hours of a load.

Source: a charger gives no more than it is rated for (common practice).
"""

import pytest

from helpers.studies import study_from
from rigfolio.demand import flows_of, told_hours_a
from rigfolio.sizing import FuseSize, sizes
from rigfolio.study import Study

RIG = """rig "Bench"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
battery B2 agm, 90 Ah, internal 6 mohm
charger C1 30 A, two outputs
load L1 "Fridge" 28 A{hours}
wire B1+ to L1+ 6 AWG red 3 ft, fuse {load} A at B1+, tag T9
wire L1- to B1- 6 AWG black 3 ft
wire C1.1 to B1+ 8 AWG red 5 ft, fuse {fuse} at B1+, tag T1
wire C1.2 to B2+ 8 AWG red 5 ft, fuse {fuse} at B2+, tag T2
wire C1- to B1- 8 AWG black 5 ft
wire B2- to B1- 8 AWG black 2 ft
"""


def _fuse(study: Study, name: str) -> FuseSize:
    return next(fuse for one in sizes(study) for fuse in one.fuses if fuse.name == name)


@pytest.mark.parametrize("hours", ["", ", continuous, 20 h/day"])
@pytest.mark.parametrize(("fuse", "fit_a"), [("25 A", 30.0), ("?", 30.0), ("30 A", 30.0)])
def test_the_line_of_a_charger_is_fused_for_what_it_gives(
    hours: str, fuse: str, fit_a: float
) -> None:
    study = study_from(RIG.format(hours=hours, fuse=fuse, load=40))
    assert [_fuse(study, f"{name} fuse").fit_a for name in ("T1", "T2")] == [fit_a, fit_a]
    assert flows_of(study).is_charging_line("T1 fuse")
    assert told_hours_a(study, "T1 fuse") == 0.0


def test_the_line_of_a_load_beside_it_is_not() -> None:
    # 28 A for hours are 80 % of 35 A.
    study = study_from(RIG.format(hours=", continuous, 20 h/day", fuse="30 A", load=20))
    assert not flows_of(study).is_charging_line("T9 fuse")
    assert told_hours_a(study, "T9 fuse") == 28.0
    assert _fuse(study, "T9 fuse").fit_a == 35.0
