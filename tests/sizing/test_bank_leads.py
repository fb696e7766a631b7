"""Leads of batteries side by side grow together: one of another gauge makes its battery work more.

Source: leads of batteries in parallel are of equal resistance (common practice).
"""

from helpers.studies import study_from
from rigfolio.demand import bank_leads
from rigfolio.sizing import sizes
from rigfolio.sizing.settled import fitted

BANK = """rig "Bench"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
battery B2 agm, 100 Ah, internal 4 mohm
busbar N1 400 A
busbar N2 400 A
load L1 "Winch" 320 A, motor, intermittent
wire W1 B1+ to N1 2 AWG red 2 ft, fuse 250 A, interrupts 20 kA at B1+
wire W2 B2+ to N1 2 AWG red 6 ft, fuse 250 A, interrupts 20 kA at B2+
wire W3 B1- to N2 2 AWG black 2 ft
wire W4 B2- to N2 2 AWG black 6 ft
wire W5 N1 to L1+ 4/0 AWG red 2 ft, fuse 350 A, interrupts 20 kA at N1
wire W6 L1- to N2 4/0 AWG black 2 ft
"""


def test_the_lead_that_bears_what_it_must_grows_with_its_twin() -> None:
    # 2 AWG has 0.156 mohm a foot: B1 lies behind 4 + 4 x 0.156 = 4.6 mohm, B2 behind 4 + 12 x 0.156
    # = 5.9, so that B1 gives 179 A of 320 A, the other 141 A. In a boat 2 AWG bears 170 A (33 CFR
    # 183.425 Table 5).
    study = study_from(BANK)
    assert [{wire.name for wire in one} for one in bank_leads(study)] == [
        {"W1", "W2"},
        {"W3", "W4"},
    ]
    rig = fitted(study, sizes(study)).rig
    assert rig.conductor("W3").size != study.rig.conductor("W3").size
    assert len({rig.conductor(name).size for name in ("W1", "W2", "W3", "W4")}) == 1


def test_where_one_has_to_stay_as_it_is_so_does_its_twin() -> None:
    # What the fuses break is not said, so that no more may flow beside them.
    study = study_from(BANK.replace(", interrupts 20 kA", ""))
    found = [one for one in sizes(study) if one.place in ("W1 fuse", "W3", "W4")]
    assert [bool(one.problem) for one in found] == [True, True, True]
