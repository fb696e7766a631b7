"""What a load that starts for minutes is expected to show while it starts, beside as it runs."""

import pytest

from helpers.studies import heard, study_from
from rigfolio.operating.readings.test_points import MeterPoint
from rigfolio.study import Study
from rigfolio.swap.roof import every_stage, sheet_stages

HUT = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 8 mohm
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Heater" fuse 7.5 A
    wire 14 AWG red 10 ft
    load "Heater" 1.5 A, starts at 7 times{lasts}
    load "Lamp" 0.5 A
"""


def points(study: Study, *, full: bool) -> list[MeterPoint]:
    found = every_stage(study) if full else sheet_stages(study)
    return [one for stage in found for step in stage.steps for one in step.points]


@pytest.mark.parametrize("full", [True, False])
def test_a_start_of_minutes_is_read_while_it_lasts(full: bool) -> None:
    """7 x 1.5 A = 10.5 A; 20 ft of 14 AWG have 2.525 ohm for 1000 ft (ASTM B258, from memory).

    They lose 0.53 V, and the battery 10.5 A x 8 mohm more; the loads may draw a sixth more or less.
    """
    found = points(study_from(HUT.format(lasts=" for 3 min")), full=full)
    amps = next(one for one in found if one.unit == "A" and one.starting)
    assert amps.starting == {"Heater"}
    assert amps.low < 10.5 < amps.high
    assert amps.high < 1.25 * 10.5
    start, runs = (
        next(one for one in found if one.entry == "Heater = " and one.unit == "V"
             and "Heater" in one.on and bool(one.starting) is is_start)
        for is_start in (True, False)
    )  # fmt: skip
    fallen_v = runs.high - start.high
    assert 9.0 * (0.020 * 2.525 + 0.008) * 0.8 < fallen_v < 9.0 * (0.020 * 2.525 + 0.008) * 1.2


@pytest.mark.parametrize("lasts", ["", " for 2 s"])
def test_an_inrush_is_over_before_anybody_reads_it(lasts: str) -> None:
    for full in (True, False):
        assert not [one for one in points(study_from(HUT.format(lasts=lasts)), full=full)
                    if one.starting]  # fmt: skip


@pytest.mark.parametrize("full", [True, False])
def test_what_is_to_be_written_down_is_read_back_as_it_was_meant(full: bool) -> None:
    study = study_from(HUT.format(lasts=" for 3 min"))
    starts = [one for one in points(study, full=full) if one.starting]
    assert starts
    for one in starts:
        (read,) = heard(study.rig, one.written("9.5"))
        assert (frozenset(read.on or ()), frozenset(read.starting)) == (one.on, one.starting)
