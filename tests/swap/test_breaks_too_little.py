"""What is not bought because it breaks too little is what `check` tells of, by the same current."""

import re
from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.findings import Finding, Severity
from rigfolio.model import Device
from rigfolio.rule import judged
from rigfolio.shorts import breaks_too_little_words, faults_of
from rigfolio.study import Study

WEAK = {"interrupt-too-low", "branch-interrupt-low"}
GRAVE = {Severity.DANGER, Severity.FAULT}
# A bank that states what it has inside, a starter battery with its cranking amperes alone, joined.
TEXT = """rig "Two"
    system 12 V
    rules boat
battery B1 "Start" flooded, 100 Ah, cold cranking 700 A
battery B2 "House" agm, 100 Ah, internal 5 mohm
fuse F1 "Main" 100 A, mega, interrupts 2 kA
breaker F4 "Windlass" 100 A, interrupts 3 kA
fuse F2 "Bank" 200 A, class-t, interrupts 20 kA, on B2+
selector S1 "Selector" 300 A
busbar N1
busbar N2
wire B1+ to S1.1 50 mm2 red 1.2 m
wire F2 to N2 35 mm2 red 0.5 m
wire N2 to S1.2 50 mm2 red 1.5 m
wire B1- to N1 50 mm2 black 0.8 m
wire B2- to N1 35 mm2 black 1 m
wire S1.common to F1 50 mm2 red 0.15 m
wire F1 to L1+ 25 mm2 red 4 m
load L1 "Heater" 60 A
wire L1- to N1 25 mm2 black 4 m
wire N2 to F4 25 mm2 red 0.15 m
wire F4 to L2+ 25 mm2 red 6 m
load L2 "Windlass" 80 A, motor, intermittent
wire L2- to N1 25 mm2 black 6 m
"""


def told_of(study: Study, device: Device) -> list[Finding]:
    """What is said of a device, at its place or beside another one that is weak alike."""
    spans = {device.rating_span, device.about.span}
    return [
        one
        for one in judged(study)
        if one.rule in WEAK
        and one.severity in GRAVE
        and (one.at.span in spans or any(label.span in spans for label in one.others))
    ]


def wanted_a(finding: Finding) -> float:
    assert finding.fix is not None
    found = re.search(r"ones? that interrupts? ([\d.]+) A", finding.fix.text)
    assert found, finding.fix.text
    return float(found[1])


def agree(study: Study) -> int:
    """How many devices break too little; each is told of, and what is asked for is enough."""
    count = 0
    for device in study.rig.devices:
        if not breaks_too_little_words(study, device):
            continue
        count += 1
        found = faults_of(study).interrupt(device)
        assert found is not None
        assert found.flows_a is not None
        told = told_of(study, device)
        assert told, device.about.name
        assert max(map(wanted_a, told)) >= found.flows_a - 1.0, device.about.name
    return count


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_pick_list_and_findings_agree(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        agree(study)


def test_a_battery_that_tells_its_cranking_amperes_alone() -> None:
    study = study_from(TEXT)
    assert agree(study) == 2
    found = faults_of(study).interrupt(study.rig.by_name.devices["F1"])
    assert found is not None
    # For sure 2.33 times 700 A and what B2 drives through its copper; as much as the copper lets.
    assert found.least_a is not None
    assert found.bound_a is not None
    assert 2.33 * 700.0 < found.least_a < found.bound_a
    words = breaks_too_little_words(study, study.rig.by_name.devices["F1"])
    assert words == f"interrupts 2000 A, {found.flows} can flow"


def test_a_breaker_listed_behind_cranking_amperes_is_judged_by_what_else_is_known() -> None:
    study = study_from(TEXT)
    assert told_of(study, study.rig.by_name.devices["F4"])
    alone = TEXT.replace("internal 5 mohm", "cold cranking 100 A")
    assert not told_of(study_from(alone), study_from(alone).rig.by_name.devices["F4"])
