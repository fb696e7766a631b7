"""No reading is asked behind a fuse that does not go in; the dead rig is read all the same."""

import pytest

from helpers.home import FAULTY
from helpers.hut import HUT
from helpers.studies import study_from
from rigfolio.judgement.result import check
from rigfolio.model import Log
from rigfolio.operating import numbered_points
from rigfolio.shorts import is_barred
from rigfolio.study import Study
from rigfolio.swap import reading_stages, sheet_stages
from rigfolio.swap.held import barred
from rigfolio.swap.roof import every_stage

LARGE = f"""\
{HUT}circuit P1.2 "Radio" fuse {{rating}}
    wire 16 AWG blue 9 ft
    load "Radio" 1 A
"""


def lines(study: Study) -> dict[str, list[str]]:
    """What is written down of each circuit, by what is done."""
    made = reading_stages(study, sheet_stages(study), Log((), ()))
    return {
        step.do: [line.entry for line in step.lines]
        for stage in made if not stage.is_dead for step in stage.steps
    }  # fmt: skip


def test_a_fuse_that_goes_in_has_its_readings() -> None:
    told = lines(study_from(LARGE.format(rating="5 A")))
    (of_radio,) = (entries for do, entries in told.items() if do.startswith("P1.2"))
    assert of_radio


@pytest.mark.parametrize("rating", ["30 A", "? A"])
def test_one_that_does_not_has_none_and_says_so(rating: str) -> None:
    study = study_from(LARGE.format(rating=rating))
    told = lines(study)
    (do,) = (one for one in told if one.startswith("P1.2"))
    assert "NO FUSE GOES IN" in do
    assert do.endswith("no reading before that is put right: print anew then")
    assert told[do] == []
    assert not any("P1.2" in each or "Radio" in each for made in told.values() for each in made)
    # Dead, it is tried for a short.
    assert any("P1.2" in point.a for _, _, _, point in numbered_points(sheet_stages(study)))


def test_a_panel_behind_a_slot_that_stays_empty_is_not_read() -> None:
    text = HUT + (
        "panel P2 2 slots of 20 A, negative N1\n"
        'circuit P1.2 "Spare panel" fuse {}\n    wire 16 AWG red 9 ft to P2\n'
        'circuit P2.1 "Lamp" fuse 3 A\n    wire 16 AWG red 9 ft\n    load "Lamp" 1 A\n'
    )
    for rating, is_read in (("5 A", True), ("30 A", False)):
        study = study_from(text.format(rating))
        points = [p for _, stage, _, p in numbered_points(every_stage(study))
                  if not stage.title.startswith("Ohms")]  # fmt: skip
        assert any("P2" in point.a for point in points) is is_read


@pytest.mark.parametrize("file", FAULTY, ids=lambda file: file.stem)
def test_no_rig_asks_for_a_reading_behind_what_is_barred(file) -> None:
    study = check(str(file)).study
    if study is None:
        return
    out = {one.place for one in study.rig.circuits if one.device in barred(study)}
    assert out == {
        one.place for one in study.rig.circuits
        if (device := study.device(one.device)) is not None and is_barred(study, device)
    }  # fmt: skip
    for made in (sheet_stages(study), every_stage(study)):
        for _, stage, step, point in numbered_points(made):
            if point.unit != "ohm":
                assert step.circuit not in out, (stage.title, step.do)
