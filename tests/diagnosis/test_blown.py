"""A fuse that keeps blowing has something behind it, wherever the fuse sits."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.diagnosis.choice import choices
from rigfolio.network import edge_name
from rigfolio.values import printed
from rigfolio.wording import typed

TRAILER = """
rig "Trailer"
    system 12 V
battery B1 flooded, 105 Ah, internal 8 mohm
busbar N1 100 A
wire N1 to B1- 6 AWG black 3 ft
connector J2 7 pins of 15 A
{feed}
circuit J2.1.load "Tail lights"
    wire 14 AWG brown 22 ft
    load "Tail lamps" 20 W, filament
    return 14 AWG white 22 ft to N1
"""
FEEDS = {
    "on a wire": "wire W1 B1+ to J2.1 14 AWG brown 12 ft, fuse 10 A at B1+",
    "by itself": "fuse F9 10 A, on B1+\nwire W1 F9 to J2.1 14 AWG brown 12 ft",
    "a breaker": "breaker F9 10 A, on B1+\nwire W1 F9 to J2.1 14 AWG brown 12 ft",
}


@pytest.mark.parametrize("kind", FEEDS)
def test_a_short_is_thought_of_behind_a_fuse_outside_a_panel(kind: str) -> None:
    study = study_from(TRAILER.format(feed=FEEDS[kind]))
    fuse = "W1 fuse" if kind == "on a wire" else "F9"
    # By what it feeds, by its own name, by the wire that it sits on, by the pin that it feeds.
    said = ("Tail lamps blows", f"{fuse} keeps blowing", "W1 blows", "J2.1 blows")
    for line in said:
        told = diagnosed(study, heard(study.rig, line))
        share = sum(one.share for one in told.verdicts
                    if {fuse} & {part for f in one.faults for part in (f.name, f.fuse)}
                    and one.faults[0].kind in ("short", "chafed", "stuck load"))  # fmt: skip
        assert share > 0.9, line
        ohms = [one for one in choices(told) if one.how == "ohms"]
        device = study.device(fuse)
        assert device is not None
        assert [one.a for one in ohms] == [device.load], line


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_every_fuse_that_blows_is_told_with_a_short_behind_it(file: Path) -> None:
    study = studied(file)
    for device in study.rig.devices:
        if not device.protects or len(study.net.steps(device.load)) < 2:
            continue
        told = diagnosed(study, heard(study.rig, f"{typed(printed(device.about.name))} blows"))
        likely = [one for one in told.verdicts if one.share >= 0.1]
        if told.evidence.seen.fuses.overloaded(told.evidence.readings[0], ()):
            continue
        shorted = {one.faults[0].name for one in likely if one.faults[0].kind == "short"}
        assert edge_name(device) in shorted, device.about.name
