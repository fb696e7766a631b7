"""Volts of modules in the cold read alike wherever they are told, and bounds hold them."""

import re
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.figures import calculation_report
from rigfolio.operating import bounds_words, judged_bounds, numbered_points
from rigfolio.protection import sun_volts
from rigfolio.rules.array_over_input import check
from rigfolio.study import Study
from rigfolio.swap import every_stage, sheet_stages
from rigfolio.units import show_load

RIG = """
rig "Knot"
    system  24 V
    rules   rv
    coldest -15 degC
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
panel P1 2 slots of 20 A
busbar N1 100 A
array Y1 2 modules in series, open circuit 22.6 V, short circuit 6.2 A, 110 W, works at 18.8 V,
    gains 0.30 % a degree colder
solar U1 15 A, input 50 V
wire Y1+ to U1.in 4 mm2 red 5 m
wire Y1- to U1.in- 4 mm2 black 5 m
wire U1+ to P1 4 mm2 red 2 m, fuse 20 A at P1
wire U1- to N1 4 mm2 black 2 m
wire N1 to B1- 10 mm2 black 1 m
wire B1+ to P1 10 mm2 red 1 m, fuse 40 A at B1+
circuit P1.1 "Lamp" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 24 W
"""


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda one: one.stem)
def test_no_bound_is_printed_narrower_than_it_was_worked_out(file: Path) -> None:
    """A load is not rounded down nor a limit up: the least of a reading is no less than printed."""
    study = studied(file)
    for _, _, _, point in numbered_points((*sheet_stages(study), *every_stage(study))):
        low, high = judged_bounds(point)
        assert low <= point.low
        assert point.high <= high
        figures = [float(one) for one in re.findall(r"\d+(?:\.\d+)?", bounds_words(point))]
        if bounds_words(point).endswith("mV"):
            assert figures[-1] / 1000.0 >= point.high - 1e-9
        elif " to " in bounds_words(point).removeprefix("up to "):
            assert figures[0] <= point.low + 1e-9
            assert figures[-1] >= point.high - 1e-9


def _parts(study: Study) -> str:
    """All parts of the calculation, amounts still typed."""
    return repr(calculation_report(study).parts)


def test_cold_volts_are_one_figure_in_findings_labels_sheets_and_calculation() -> None:
    """Two modules of 22.6 V, 0.3 % a degree, at -15 °C: 45.2 V by 1.12 are 50.624 V, 50.7 V up."""
    study = study_from(RIG)
    cold_v = sun_volts(study)["Y1+"]
    assert cold_v == pytest.approx(50.624)
    assert show_load(cold_v, "V") == "50.7 V"
    (found,) = (one for one in check(study) if "Y1" in one.headline)
    assert "50.7 V" in found.headline
    ends = [p for _, _, _, p in numbered_points(sheet_stages(study)) if p.a == "Y1+"]
    assert ends
    assert all(bounds_words(one).endswith("50.7 V") for one in ends)
    held = re.findall(r"value=50\.62\d*, unit='V', digits=(\d), side='(\w+)'", _parts(study))
    assert held == [("3", "load")]
