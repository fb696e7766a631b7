"""Ampere hours behind a converter are told with the volts at which they are counted."""

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import checked
from rigfolio.answers.energy import _named
from rigfolio.demand.energy import uses


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_what_is_within_the_input_of_a_converter_says_its_volts(file):
    study = checked(file).study
    for one in uses(study) if study is not None else ():
        if one.within and one.within_v is not None:
            assert f"at {one.within_v:g} V, within {one.within}" in _named(one)
            (load,) = (each for each in study.rig.loads if each.about.name == one.load)
            assert one.within_v == study.volts[load.plus]
