"""One bank by two names is judged alike, and what its maker measured goes before what is reckoned.

Sixteen cells of LiFePO4 are sold as 48 V and as 51.2 V (common practice); 33 CFR 183.455 tells
circuits from 50 V on from those below (seen), and 24 flooded cells at rest and full have 50.9 V.
"""

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.protection import largest_fuse_of
from rigfolio.rule import judge
from rigfolio.shorts import faults_of

RIG = """rig "Launch"
    system 48 V
    rules {book}
    insulation 105 degC
battery B1 lithium, 100 Ah, {volts}, delivers 900 A
fuse F1 60 A class-t on B1+
panel P1 6 slots of 40 A, rated 60 V, negative N1
busbar N1 100 A
wire F1.load to P1 {trunk} AWG red 3 ft
wire N1 to B1- {trunk} AWG black 3 ft
circuit P1.1 "Heater" fuse {fuse} A interrupts 10 kA
    wire {gauge} AWG red 9 ft {more}
    load "Heater" 4 A
"""


@settings(max_examples=80)
@given(
    book=st.sampled_from(["boat", "rv", "vehicle"]),
    gauge=st.sampled_from(["18", "16", "14", "12", "10"]),
    fuse=st.sampled_from([5, 10, 15, 20, 30, 40]),
    trunk=st.sampled_from(["10", "6", "4"]),
    more=st.sampled_from(["", "bundle of 4 wires", "engine space"]),
)
def test_there_is_no_cliff_at_50_volts(study_of, book, gauge, fuse, trunk, more):
    said = {}
    for volts in ("48 V", "51.2 V"):
        text = RIG.format(book=book, volts=volts, gauge=gauge, fuse=fuse, trunk=trunk, more=more)
        study = study_of(text)
        largest = largest_fuse_of(study, study.rig.circuits[0])
        found = sorted((one.rule, one.severity.value) for one in judge(study))
        said[volts] = (largest and largest.value, found)
    assert said["48 V"] == said["51.2 V"]


def test_the_law_from_50_volts_counts_for_a_bank_of_48(study_of):
    text = RIG.format(book="boat", volts="48 V", gauge="14", fuse=20, trunk="6", more="")
    study = study_of(text)
    # 14 AWG at 105 °C: 35 A by 33 CFR 183.425 Table 5; from 50 V on the device is no larger.
    assert largest_fuse_of(study, study.rig.circuits[0]).value == pytest.approx(35.0)


@pytest.mark.parametrize(
    ("inside", "short_a"),
    [
        # 12.73 V full and at rest over 1 mohm would be 12.7 kA, over 50 mohm 255 A.
        ("delivers 2 kA, internal 1 mohm", 2000.0),
        ("delivers 2 kA, internal 50 mohm", 2000.0),
        ("internal 10 mohm", 1273.0),
    ],
)
def test_the_figure_of_the_maker_wins_in_both_directions(study_of, inside, short_a):
    study = study_of(
        f'rig "Post"\n    rules rv\nbattery B1 flooded, 100 Ah, {inside}\nfuse F1 30 A on B1+\n'
        "load L1 1 A\nwire F1.load to L1+ 10 AWG red 1 ft\nwire L1- to B1- 10 AWG black 1 ft\n"
    )
    found = faults_of(study).interrupt(study.device("F1"))
    assert found is not None
    # A bolted fault at the fuse, no copper on its way but none.
    assert found.bound_a == pytest.approx(short_a, rel=0.005)
