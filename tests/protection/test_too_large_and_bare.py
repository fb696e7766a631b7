"""A fuse too large for the wire that it sits on is so everywhere, whatever feeds the other end."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.protection import exposures_of, guard_words
from rigfolio.protection.fitted import guard_facts
from rigfolio.protection.inflow import rating
from rigfolio.shorts import is_barred
from rigfolio.swap import spares_to_carry

RIG = """rig "w" system 24 V, rules vehicle insulation 70 degC
battery B1 24 V, lithium, 200 Ah, internal 8 mohm
busbar N1 200 A
busbar N2 200 A
wire W1 B1+ to N2 50 mm2 red 30 cm, fuse 125 A at B1+, class T, interrupts 20 kA
wire W4 N1 to B1- 50 mm2 black 30 cm
solar U1 "Roof" {gives} A
wire W10 U1+ to N2  10 mm2 red 1.5 m, fuse 50 A at N2, interrupts 5 kA
wire W11 U1- to N1  10 mm2 black 1.5 m
"""


@pytest.mark.parametrize("gives", [20, 40])
def test_it_is_too_large_whether_or_not_the_charger_is_too_much_as_well(gives) -> None:
    study = study_from(RIG.format(gives=gives))
    device, wire = study.rig.by_name.devices["W10 fuse"], study.rig.conductor("W10")
    assert is_barred(study, device)
    assert "50 A" not in [one.rating for one in spares_to_carry(study)]
    told = [guard_words(study, wire), *guard_facts(study, wire)]
    assert all("50 A TOO LARGE" in one for one in told), told
    assert ("NONE against U1" in told[0]) is (gives == 40)


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_what_is_a_danger_on_its_own_wire_is_barred(file: Path) -> None:
    study = checked(file).study
    for one in () if study is None else exposures_of(study):
        if one.fault == "over" and len(one.devices) == 1:
            (device,) = one.devices
            if device.on_wire == one.wire.name and one.limit.is_broken_by(rating(device)):
                assert study is not None
                assert is_barred(study, device), device.about.name
