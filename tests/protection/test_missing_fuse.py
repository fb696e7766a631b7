"""A fuse that a wire lacks is told once, with all that it serves and nothing that it does not.

What is said to be served is held against the text with that fuse written into it.
"""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.protection import exposures_of, missing_fuses, unfused_of
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.study import Study

BOAT = """rig "Bench" system 12 V, rules boat, insulation 90 degC
battery B1 "Start" flooded, 100 Ah, delivers 900 A
battery B2 "House" agm, 100 Ah, internal 5 mohm
busbar N1 300 A
busbar N2 300 A
busbar N3 300 A
selector S1 300 A
fuse F2 200 A, class T, interrupts 20 kA, on B2+
breaker F4 100 A, interrupts 20 kA
load L1 "Starter" 180 A, motor, momentary
load L3 "Windlass" 80 A, motor, momentary
wire W1 B1+ to S1.1 50 mm2 red 1 m, cranking
wire W2 B1- to N1 50 mm2 black 1 m
wire W3 F2 to N2 {} mm2 red 0.5 m
wire W5 B2- to N1 50 mm2 black 1 m
wire W7 N2 to S1.2 50 mm2 red 1.5 m{}
wire W8 S1.common to N3 50 mm2 red 0.6 m, cranking
wire W9 N3 to L1+ 50 mm2 red 2 m, cranking
wire W10 L1- to N1 50 mm2 black 2 m
wire W32 N2 to F4 25 mm2 red {} m
wire W33 F4 to L3+ 25 mm2 red 6 m
wire W39 L3- to N1 25 mm2 black 7 m
circuit N2 "Bilge pump" fuse 10 A after 10 cm, always on
    wire W40 2.5 mm2 brown 3 m
    load "Bilge pump" 5 A, motor
"""
RULES = ("fuse-too-far", "unprotected-wire")


def told(study):
    return list(judge(study, RULES))


def ends(study):
    return {(one.wire.name, one.end) for one in exposures_of(study)}


def test_one_fuse_that_is_missing_is_one_danger():
    study = study_from(BOAT.format(70, "", 0.15))
    (found,) = told(study)
    assert found.rule == "unprotected-wire"
    assert "`W7` from `B1`" in found.headline
    assert "which serves `W3`, `W32` and `W40a` behind it too" in found.fix.text
    mended = study_from(BOAT.format(70, ", fuse 300 A at S1.2", 0.15))
    assert told(mended) == []
    # What is told to be served was exposed, and is not once the fuse is there.
    (missing,) = missing_fuses(study)
    served = {(one.wire.name, one.end) for one in missing.served}
    assert served == ends(study) - {("W7", "S1.2")}
    assert not served & ends(mended)


def test_what_the_fuse_does_not_serve_is_told_by_itself_with_a_place_that_does():
    # 0.3 m is more than the 7 in (177 mm) of 33 CFR 183.455(b), whatever is before it; 300 A of
    # the one fuse and 200 A of the other are more than 10 mm2 bears.
    study = study_from(BOAT.format(10, "", 0.3))
    found = told(study)
    (far,) = (one for one in found if "`F4`" in one.headline)
    assert "1.8 m along `W7` and `W32` to `F4`" in far.headline
    assert "for `W32` at `N2`; the one that `W7` lacks is not enough for it" in far.fix.text
    (bare,) = (one for one in found if one.rule == "unprotected-wire")
    assert "`W32`" not in bare.fix.text
    assert ("W32", "N2") in ends(study_from(BOAT.format(10, ", fuse 300 A at S1.2", 0.3)))
    # The place that is told serves it, and no fuse at the selector is needed for that wire.
    own = BOAT.format(10, "", "0.3 m, fuse 125 A at N2 #")
    assert ("W32", "N2") not in ends(study_from(own))


FUSED = [
    (file, device.about.name)
    for file in RIGS
    for study in [checked(file).study]
    if study is not None
    for device in study.rig.devices
    if device.on_wire and device.protects
]


def without(study, name):
    """The rig with a wire led past the fuse that it bears."""
    rig, held = study.rig, study.rig.by_name.devices[name]

    def past(end):
        return held.line if end == held.load else end

    wires = tuple(replace(one, a=past(one.a), b=past(one.b)) for one in rig.conductors)
    devices = tuple(one for one in rig.devices if one is not held)
    return Study(replace(rig, conductors=wires, devices=devices), study.book.name)


def is_told(study, exposure, findings):
    """Whether a finding names the wire, or that its supply has no fuse at all."""
    names = {source.about.name for source in exposure.sources}
    if names and names <= set(unfused_of(study)):
        return True
    spans = [each for one in findings for each in (one.at.span, *(o.span for o in one.others))]
    wire = exposure.wire
    return wire.span in spans or wire.size_span in spans


def held(study):
    """All that is exposed is told; what a missing fuse serves hangs behind that wire."""
    findings = tuple(judge(study, RULES))
    for one in exposures_of(study):
        if one.fault in ("far", "bare"):
            assert is_told(study, one, findings), one.wire.name
        assert not one.way or one.wire in one.way
    for missing in missing_fuses(study):
        for one in missing.served:
            assert missing.first.wire in one.way
            assert len(one.way) > 1


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_nothing_exposed_is_left_untold(file):
    study = checked(file).study
    if study is not None:
        held(study)


@pytest.mark.parametrize(("file", "name"), FUSED, ids=lambda one: getattr(one, "stem", one))
def test_a_fuse_taken_off_a_wire_leaves_nothing_untold(file, name):
    whole = checked(file).study
    study = without(whole, name)
    held(study)
    for missing in missing_fuses(study):
        # With the fuse that stood there all that it is said to serve is served.
        assert not {(one.wire.name, one.end) for one in missing.served} & ends(whole)
