"""A wire that has been hot is pulled new, on every paper; one that only corroded is cut back."""

import pytest

from helpers.studies import study_from
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import check
from rigfolio.swap import picks, work, work_elsewhere
from rigfolio.swap.repairs import TITLE

TEXT = """rig "M"
    system 24 V
    rules vehicle
battery B1 agm, 100 Ah, internal 8 mohm
panel P1 2 slots of 20 A, negative N1
busbar N1 100 A
wire W1 B1+ to P1 16 mm2 red 1 m, fuse 50 A at B1+, class t{feed}
wire N1 to B1- 16 mm2 black 1 m
circuit P1.1 "Fans" fuse 10 A
    wire 1.5 mm2 red 3 m{mark}
    load "Fan" 2 A
"""


def of(mark: str = "", feed: str = "") -> str:
    return TEXT.format(mark=f", {mark}" if mark else "", feed=f", {feed}" if feed else "")


@pytest.mark.parametrize("mark", ["melted", "scorched"])
def test_a_wire_that_was_hot_is_pulled_new(mark: str) -> None:
    study = study_from(of(mark))
    parts = work(study, "P1")
    (mend,) = (part for part in parts if part.title == TITLE)
    (task,) = (task for task in mend.tasks if "P1.1/1" in task.do)
    assert "pull 1.5 mm², 3 m" in task.do
    assert task.lifts == ("P1.1/1",)
    every = " ".join(f"{task.do} {task.see}" for part in parts for task in part.tasks)
    assert "bright copper" not in every
    (wire,) = (pick for pick in picks(study) if pick.group == "Wire" and "P1.1/1" in pick.places)
    assert wire.note.startswith("new: the one there is ")
    assert wire.bought not in ("0", "?")


def test_a_feed_that_was_hot_is_pulled_new() -> None:
    study = study_from(of(feed="melted"))
    told = [task.do for part in work_elsewhere(study) for task in part.tasks]
    (pulled,) = (do for do in told if "pull 16 mm², 1 m" in do)
    assert pulled.startswith("W1, ")
    moved = [task for part in work(study, "P1") for task in part.tasks if "W1 " in task.do]
    assert all("bright copper" not in task.see for task in moved)


def test_a_wire_that_corroded_is_cut_back() -> None:
    study = study_from(of("corroded"))
    seen = " ".join(task.see for part in work(study, "P1") for task in part.tasks)
    assert "is corroded: cut back to bright copper" in seen
    assert not any("new: " in pick.note for pick in picks(study))


@pytest.mark.parametrize(("mark", "is_bought"), [("melted", True), ("corroded", False)])
def test_what_is_bought_for_the_work_alone(mark: str, is_bought: bool) -> None:
    was, now = check("m.rig", text=of(mark)), check("m.rig", text=of())
    assert now.study is not None
    _, again = compared(was, now)
    wires = [pick for pick in picks(now.study, (), again) if pick.group == "Wire"]
    assert ([pick.places for pick in wires] == [("P1.1/1",)]) is is_bought
