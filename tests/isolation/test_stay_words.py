"""What is printed of a load that must stay on is what the live answer finds of it."""

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.isolation import must_stay_on, stay_words, stay_words_of
from rigfolio.job import Job
from rigfolio.judgement.result import job_of, understood
from rigfolio.labels import every_label
from rigfolio.wording import ALWAYS_ON, MUST_STAY_ON, NOT_ALWAYS_ON

TEXT = """
rig "Scaup 20"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 4 mohm
disconnect S1 "Main switch" 100 A
panel P1 "Panel" 4 slots of 20 A, pitch 16 mm
busbar N1 100 A
wire W1 B1+ to S1.line 6 AWG red 2 ft, fuse 60 A at B1+
wire W2 S1.load to P1 6 AWG red 2 ft
wire W3 N1 to B1- 6 AWG black 2 ft
circuit P1.1 "Bilge pump" fuse 7.5 A, always on
    wire 14 AWG brown 10 ft
    load "Bilge pump" 4 A, intermittent
circuit S1.line "Gas alarm" fuse 2 A after 4 in, always on
    wire 16 AWG pink 10 ft
    load "Gas detector" 0.2 A
circuit P1.2 "Lamp" fuse 5 A
    wire 16 AWG blue 5 ft
    load "Lamp" 1 A
"""


def scaup() -> Job:
    return job_of(understood("scaup.rig", text=TEXT))


def test_only_what_no_switch_cuts_off_is_called_always_on() -> None:
    study = scaup().study
    words = {one.place: stay_words_of(study, (one,)) for one in study.rig.circuits}
    assert words == {"P1.1": NOT_ALWAYS_ON, "circuit S1.line": ALWAYS_ON, "P1.2": ""} or words == {
        "P1.1": NOT_ALWAYS_ON, "S1.line": ALWAYS_ON, "P1.2": "",
    }  # fmt: skip


def test_a_label_says_no_more_than_is_true() -> None:
    said = {label.name: label.in_full for label in every_label(scaup())}
    assert said["Bilge pump"].endswith(NOT_ALWAYS_ON)
    assert said["Gas alarm"].endswith(ALWAYS_ON)


def test_of_a_load_that_nothing_is_known_of_neither_is_said() -> None:
    assert stay_words(scaup().study, ("Nothing",)) == MUST_STAY_ON


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_what_is_printed_agrees_with_what_is_found(name: str) -> None:
    study = checked(EXAMPLES / name).study
    assert study is not None
    for one in must_stay_on(study):
        is_on = stay_words(study, (one.load.about.name,)) == ALWAYS_ON
        assert is_on is not bool(one.dead_in)
