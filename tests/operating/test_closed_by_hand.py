"""A switch that rests open is named wherever a reading needs it closed: a dry bilge reads 0 V."""

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import checked, heard, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.network import coils_of, edge_name, resting_open, stands_for
from rigfolio.operating import closed_by_hand
from rigfolio.operating.readings.expected import stages
from rigfolio.operating.readings.short_test import circuit_steps
from rigfolio.reports import printed

BILGE = """rig "Boat" system 12 V, rules boat, revised 2026-12-01
battery B1 "House" agm, 100 Ah, internal 5 mohm
busbar N1 100 A
wire B1- to N1 6 AWG black 2 ft
panel P1 4 slots
wire B1+ to P1 6 AWG red 3 ft, fuse 40 A at B1+
wire P1- to N1 6 AWG black 3 ft
circuit P1.1 "Bilge pump" fuse 10 A
    wire 14 AWG brown 3 ft
    changeover SW3 "Pump switch" 10 A, rests off, 1 "manual", 2 "automatic"
    wire from SW3.1 to J3 14 AWG brown 10 ft
    wire from SW3.2 14 AWG brown 10 ft
    switch SW4 "Float" 10 A, rests open
    wire to J3 14 AWG brown 1 ft
    splice J3
    wire 14 AWG brown 1 ft
    load "Pump" 5 A, motor, intermittent
"""


def test_the_float_is_lifted_for_the_reading_of_that_position_alone():
    study = study_from(BILGE)
    steps = [step.do for stage in stages(study) for step in stage.steps]
    read = [do for do in steps if "SW3 Pump switch on" in do or "SW3 on" in do]
    assert [("SW4 Float closed" in do) for do in read if "2 automatic" in do] == [True]
    assert not any("SW4" in do for do in read if "1 manual" in do)


def test_the_short_test_says_so_beside_the_circuit():
    study = study_from(BILGE)
    (step,) = circuit_steps(study)
    told = "SW4 Float closed to read it for SW3 on 2 automatic"
    assert step.do == f"P1.1 Bilge pump: 10 A red fuse in; {told}"


@pytest.mark.parametrize(
    ("said", "is_told"), [("Pump dead, SW3 2", True), ("Pump dead, SW3 1", False)]
)
def test_a_search_says_which_switch_it_takes_as_closed(said, is_told):
    study = study_from(BILGE)
    text = " ".join(printed(diagnosis_report(study, heard(study.rig, said))).split())
    assert ("`SW4 Float`, which rests open: closed by hand, with `Pump` on" in text) == is_told


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *CORPUS)), ids=lambda one: one.stem)
def test_what_is_told_to_be_closed_is_what_the_load_waits_for(file):
    study = checked(file).study
    rig = study.rig
    by_hand = resting_open(rig) - coils_of(rig).keys()
    posts = [one.plus for one in rig.sources], [one.minus for one in rig.sources]
    for load in rig.loads:
        told = {edge_name(one) for one in closed_by_hand(study, load)}
        assert told <= by_hand
        if stands_for(rig, load) == (frozenset(),) and not coils_of(rig):
            ends = zip((load.plus, load.minus), posts, strict=True)
            waits = any(
                end in study.net.walk(own)
                and end not in study.net.walk(own, lambda edge: edge_name(edge) in by_hand)
                for end, own in ends
            )
            assert bool(told) == waits, load.about.name
