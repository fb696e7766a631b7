"""What is tried: nothing new where nothing is other, and the same whichever way it is asked."""

import pytest

from rigfolio.demand import Flows, flows_of
from rigfolio.findings import Unknown
from rigfolio.sizing.needs import flows_with, on_trial, sizes_on_trial
from rigfolio.units import awg_size
from sizing.rigs import made
from sizing.settle import judged

SEEDS = range(40)


def as_it_is(study):
    wires = (wire for wire in study.rig.conductors if not isinstance(wire.size, Unknown))
    sizes = {wire.span: wire.size for wire in wires}
    ratings = {device.about.name: device.rating_a for device in study.rig.devices}
    return sizes, ratings


def thicker(study):
    """Every second wire in the thickest gauge."""
    return {wire.span: awg_size(-3) for wire in study.rig.conductors[::2]}


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rig_as_it_is_is_no_trial(seed):
    study = judged(made(seed).text).study
    assert on_trial(study, *as_it_is(study)) is study
    assert on_trial(study, {}, {}) is study
    assert flows_with(study, {}) is flows_of(study)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_trial_holds_what_is_other_and_nothing_else(seed):
    """Asked for again it is the same, with what has been worked out of it."""
    study = judged(made(seed).text).study
    sizes = thicker(study)
    trial = on_trial(study, sizes, {})
    assert on_trial(study, sizes, {}) is trial
    assert on_trial(study, {}, {}) is study
    for was, now in zip(study.rig.conductors, trial.rig.conductors, strict=True):
        wanted = was.size if was.lead else sizes.get(was.span, was.size)
        assert now.size == wanted
    for name in (d.about.name for d in study.rig.devices if d.protects):
        other = on_trial(study, sizes, {name: 3.25})
        assert other is not trial
        now = {d.about.name: d.rating_a for d in other.rig.devices if d.protects}
        was = {d.about.name: d.rating_a for d in study.rig.devices if d.protects}
        assert now == was | {name: 3.25}


@pytest.mark.parametrize("seed", SEEDS)
def test_loads_draw_on_trial_what_they_draw_once_it_is_fitted(seed):
    study = judged(made(seed).text).study
    for sizes in (thicker(study), as_it_is(study)[0]):
        tried = flows_with(study, sizes)
        fitted = Flows(on_trial(study, sizes, {}))
        for name, drawn in fitted.expected.items():
            assert tried.expected[name].known_a == pytest.approx(drawn.known_a, rel=1e-9)
        plainly = Flows(study, sizes_on_trial(sizes))
        for name, drawn in plainly.own.items():
            assert tried.own[name].known_a == pytest.approx(drawn.known_a, rel=1e-9)
