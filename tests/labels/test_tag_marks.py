"""A tag marks the fuse of its wire as labels and directory do."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.labels import guard_told, tagged_wires
from rigfolio.protection import guard_there
from rigfolio.shorts import UNFIT_MARKS, warning_marks
from rigfolio.study import Study

PUMP = """rig "Pump"
    system 24 V
    rules vehicle
battery B1 agm, 180 Ah, internal 8 mohm
load L1 "Pump" 20 A
wire W1 B1+ to L1+ 10 mm2 red 3 m, fuse 40 A at B1+, {kind}
wire L1- to B1- 10 mm2 black 3 m
"""


def agree(study: Study) -> int:
    """How many wires have a fuse that does not belong there: each says so, long and short."""
    count = 0
    for wire in study.rig.conductors:
        guard = guard_there(study, wire)
        held = guard.devices if guard.why in ("guarded", "over") else ()
        devices = [study.device(one.about.name) for one in held]
        marks = [mark for one in devices if one is not None for mark in warning_marks(study, one)]
        whole, short = guard_told(study, wire)
        # What does not guard a wire is not named as what does.
        assert guard.why in ("guarded", "over") or not set(UNFIT_MARKS) & set(whole.split(", "))
        for mark in marks:
            if mark != "TOO LARGE":
                assert mark in whole, wire.name
                assert mark in short, wire.name
                count += 1
    return count


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_what_guards_a_wire_and_is_unfit_is_marked(file: Path) -> None:
    study = checked(file).study
    if study is not None:
        agree(study)


def job(kind: str) -> Job:
    return job_of(check("pump.rig", text=PUMP.format(kind=kind)))


def test_the_tags_of_a_wire_whose_fuse_breaks_too_little_say_so() -> None:
    """27 V / 8 mohm are above 3 kA; a maxi fuse breaks 1 kA (ISO 8820-3, from memory)."""
    assert agree(study_from(PUMP.format(kind="maxi"))) > 0
    weak, strong = (
        {tag.name: tag.facts for each in tagged_wires(job(kind)) for tag in each.tags}
        for kind in ("maxi", "class t")
    )
    assert weak.keys() == strong.keys()
    (name,) = [name for name, facts in weak.items() if "BREAKS TOO LITTLE" in facts[0]]
    assert all("BREAKS TOO LITTLE" in words for words in weak[name])
    assert not any("TOO LITTLE" in words for facts in strong.values() for words in facts)
