"""The pick list on paper and as a table: the same lines, nothing cut."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.job import Wish
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.labels import every_label, tagged_wires
from rigfolio.record import replace
from rigfolio.sheets import pick_list


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_paper_and_table_say_the_same(name):
    job = job_from(EXAMPLES / name)
    pages = pick_list.pages(job)
    seen = words(pages)
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "…" not in seen
    rows = pick_list.table(job)[1:]
    assert len(rows) > 10
    for row in rows:
        assert all(word in seen for word in row[1].split())
    for wire in job.rig.conductors:
        assert wire.lead or wire.name in seen


def test_a_wish_for_some_circuits_is_told():
    job = job_from(EXAMPLES / "marsh-wren-17.rig")
    some = replace(job, wish=Wish(only=frozenset({"P1.2"})))
    seen = words(pick_list.pages(some))
    assert "Only for P1.2" in seen
    assert "P1.3" not in seen


def test_tags_and_labels_are_those_that_are_printed():
    job = job_from(EXAMPLES / "marsh-wren-17.rig")
    for wish in (Wish(), Wish(only=frozenset({"P1.2", "W2"})), Wish(only=frozenset({"P1"}))):
        some = replace(job, wish=wish)
        counts = {
            row[1]: int(row[3]) for row in pick_list.table(some) if row[0] == "Tags and labels"
        }
        labels = every_label(some)
        assert counts.get("wire tags, both ends", 0) == sum(len(w.tags) for w in tagged_wires(some))
        assert counts.get("slot labels", 0) == sum(1 for label in labels if label.above)
        outside = counts.get("labels of devices outside panels", 0)
        assert outside == sum(1 for label in labels if not label.above)
    assert len(every_label(job)) > 12


def test_studs_are_counted():
    text = (
        'rig "Stack"\n    rules rv\n    system 12 V\nbattery B1 flooded, 100 Ah, stud M8\n'
        "panel P1 2 slots of 20 A\nbusbar N1 100 A\nwire N1 to B1- 6 AWG black 3 ft\n"
        'circuit P1.1 "Lamp" fuse 5 A\n    wire 16 AWG red 3 ft\n    load "Lamp" 1 A\n'
    )
    one = "wire B1+ to P1 6 AWG red 3 ft\n"
    few = words(pick_list.pages(job_of_result(check("few.rig", text=text + one))))
    assert "No stud of the text holds more than 4 terminals" in few
    many = words(pick_list.pages(job_of_result(check("many.rig", text=text + 5 * one))))
    assert "TOO MANY ON A STUD: 5 terminals on the stud of B1+, 4 belong on one" in many
    assert "ring M8, for 6 AWG" in many


def test_a_rig_with_nothing_but_a_battery_has_nothing_to_be_bought():
    assert "There is nothing to be bought." in words(pick_list.pages(job_of(BARE)))


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    for page in pick_list.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []


RIDDLE = """
rig "Riddle" system 12 V, rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Lamps" fuse ? A
    wire 16 AWG grey 4 ft
    switch SW1 "Door" 10 A
    wire 16 AWG grey 4 ft
    load "Lamp" 1 A
"""


def test_no_fuse_is_bought_of_a_rating_that_nobody_knows():
    job = job_of_result(check("riddle.rig", text=RIDDLE))
    (row,) = [row for row in pick_list.table(job) if "unknown rating" in row[1]]
    assert row[3] == "0"
    assert "?" not in " ".join(map(str, row))


def test_no_terminal_is_bought_for_a_joint_that_a_return_has_not():
    """Out there are two wires at a switch, back there is one: six ends, and four of the feed."""
    job = job_of_result(check("riddle.rig", text=RIDDLE))
    ends = {row[1]: int(row[2]) for row in pick_list.table(job)[1:] if row[0] == "Terminals"}
    assert sum(count for what, count in ends.items() if "22 to 16 AWG" in what) == 6
    tubes = [int(row[2]) for row in pick_list.table(job)[1:] if row[1].startswith("tube")]
    assert sum(tubes) == 6 + 4
