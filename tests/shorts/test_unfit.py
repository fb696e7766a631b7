"""A fuse that is itself a danger where it stands is shown nowhere as if it belonged there."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.findings import Severity
from rigfolio.rule import judged
from rigfolio.shorts import barred_words, is_barred, unfit_of, warning_marks
from rigfolio.study import Study

OWN = {"interrupt-too-low": "BREAKS TOO LITTLE", "voltage-rating-low": "FOR TOO FEW VOLTS"}
TEXT = """rig "Pump"
    system 24 V
    rules vehicle
battery B1 agm, 180 Ah, internal 8 mohm
load L1 "Pump" 20 A
wire B1+ to L1+ 10 mm2 red 3 m, fuse 40 A at B1+, maxi
wire L1- to B1- 10 mm2 black 3 m
"""
LITTLE = "NO FUSE GOES IN: 40 A orange fuse, interrupts 1000 A, 3200 A can flow"


def told(text: str) -> tuple[Study, str]:
    study = study_from(text)
    (device,) = study.rig.devices
    return study, barred_words(study, device) if is_barred(study, device) else ""


def agree(study: Study) -> int:
    """How many dangers of a fuse itself there are: each is marked, and none is put to use."""
    count = 0
    for one in judged(study):
        if one.rule not in OWN or one.severity is not Severity.DANGER or one.accepted is not None:
            continue
        for device in study.rig.devices:
            if device.protects and one.at.span in (device.about.span, device.rating_span):
                assert OWN[one.rule] in warning_marks(study, device), device.about.name
                assert is_barred(study, device), device.about.name
                count += 1
    return count


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_what_is_a_danger_itself_is_marked_and_not_put_to_use(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        agree(study)


def test_a_fuse_that_breaks_too_little() -> None:
    study, words = told(TEXT)
    assert words == LITTLE
    assert agree(study) == 1
    assert not agree(study_from(TEXT.replace("maxi", "class t")))


def test_a_fuse_rated_or_made_for_too_few_volts() -> None:
    text = TEXT.replace("24 V", "48 V").replace("maxi", "class t, rated 32 V")
    study, words = told(text)
    assert words.endswith("fuse, rated 32 V, its circuit has 48 V")
    assert agree(study) == 1
    assert not agree(study_from(text.replace("32 V", "58 V")))
    kind = study_from(TEXT.replace("24 V", "48 V"))
    assert agree(kind) == 1
    (device,) = kind.rig.devices
    assert [one.why for one in unfit_of(kind, device)] == ["made for 32 V, its circuit has 48 V"]


def test_of_what_somebody_accepted_nothing_is_marked() -> None:
    named = TEXT.replace("wire B1+ to L1+", "wire W1 B1+ to L1+")
    study, words = told(named + 'accept interrupt-too-low at W1 "on order" 2026-03-14\n')
    assert any(one.accepted is not None for one in judged(study))
    assert not words


def test_behind_another_fuse_it_is_marked_and_goes_in() -> None:
    lead = "fuse F1 60 A, class t\nwire B1+ to F1 16 mm2 red 0.1 m\nwire F1 to L1+"
    ahead = TEXT.replace("wire B1+ to L1+", lead).replace("at B1+, maxi", "at F1, maxi")
    study = study_from(ahead)
    device = next(one for one in study.rig.devices if one.family == "maxi")
    assert warning_marks(study, device) == ("BREAKS TOO LITTLE",)
    assert not is_barred(study, device)
