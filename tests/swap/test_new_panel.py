"""The plan of a changed panel: tag, take off, change it, land the wires, lay its fuses ready."""

import pytest

from helpers.home import EXAMPLES
from helpers.label_rigs import words
from rigfolio.folio import compared
from rigfolio.job import Wish
from rigfolio.judgement.result import check, job_of
from rigfolio.labels import tagged_wires
from rigfolio.record import replace
from rigfolio.sheets import pick_list
from rigfolio.swap import WorkPart, work_since

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
BURNT = WREN.replace('circuit P1.3 "Furnace fan"            fuse 10 A',
                     'circuit P1.3 "Furnace fan"            fuse 10 A, scorched')  # fmt: skip
NEW = WREN.replace("12 slots of 20 A", "14 slots of 30 A")
MOVED = NEW.replace("circuit P1.3 ", "circuit P1.12 ").replace("slot P1.12 ", "slot P1.3 ")
assert BURNT != WREN != NEW


def _plan(before: str, after: str) -> tuple[WorkPart, ...]:
    old, new = check("wren.rig", text=before), check("wren.rig", text=after)
    assert new.study is not None
    _, again = compared(old, new)
    return work_since(new.study, again)


def _at(plan: tuple[WorkPart, ...], title: str) -> int:
    return next(n for n, part in enumerate(plan) if part.title.startswith(title))


def _words(part: WorkPart) -> str:
    return "\n".join(f"{task.do}; {task.see}" for task in part.tasks)


def test_what_is_done_at_a_changed_panel_comes_in_its_order() -> None:
    plan = _plan(BURNT, NEW.replace("fuse 7.5 A", "fuse 5 A", 1))
    titles = ("Tag each wire", "Take the old P1 off", "Change P1", "Land the wires on the new P1",
              "Fuses of the new panel", "Power back")  # fmt: skip
    places = [_at(plan, title) for title in titles]
    assert places == sorted(places)
    assert len(set(places)) == len(titles)


@pytest.mark.parametrize("before", [WREN, BURNT])
def test_each_wire_of_a_changed_panel_is_tagged_taken_off_and_landed(before: str) -> None:
    study = check("wren.rig", text=NEW).study
    assert study is not None
    plan = _plan(before, NEW)
    tagged, off, landed = (
        _words(plan[_at(plan, title)]) for title in ("Tag each", "Take the old", "Land the wires")
    )
    panel = study.rig.by_name.panels["P1"]
    slots = {f"P1.{number}" for number in range(1, 13)}
    wires = [
        wire.name for wire in study.rig.conductors
        if not wire.assumed and {wire.a, wire.b} & {panel.feed, panel.bus, *slots}
    ]  # fmt: skip
    assert len(wires) > 10
    lifted = {name for task in plan[_at(plan, "Take the old")].tasks for name in task.lifts}
    for name in wires:
        assert name in lifted
        assert f"{name}: " in tagged
        assert f"{name} " in landed
    assert "every return on its bar" in off


def test_what_the_heat_reached_is_renewed_with_a_new_panel_too() -> None:
    plan = _plan(BURNT, NEW)
    words = _words(plan[_at(plan, "Mend what was found damaged")])
    assert "P1.3 Furnace fan: was scorched; find what made it hot" in words
    assert "renew the part and what the heat reached" in words


def test_no_panel_is_changed_where_only_a_fuse_is() -> None:
    plan = _plan(WREN, WREN.replace("fuse 7.5 A", "fuse 5 A", 1))
    assert not [part.title for part in plan if "new P1" in part.title or "Change P1" in part.title]


def test_as_many_tags_are_cut_as_read_differently() -> None:
    """The sheet of tags, the pick list and the comparison speak of the same wires."""
    strong = MOVED.replace("14 slots of 30 A", "14 slots of 30 A, interrupts 2 kA")
    old, new = check("wren.rig", text=WREN), check("wren.rig", text=strong)
    _, again = compared(old, new)
    # What is fused anew keeps the tags of its wires.
    assert set(again.wires) > set(again.tags)
    only = frozenset((*again.labels, *again.wires, *again.tags))
    job = replace(job_of(new), wish=Wish(only=only, since=again))
    tagged = list(tagged_wires(job))
    assert {wire.name for one in tagged for wire in one.run} == set(again.tags)
    assert 0 < len(tagged) < len(list(tagged_wires(job_of(new)))) / 2
    rows = {row[1]: row[2] for row in pick_list.table(job)}
    assert rows["wire tags, both ends"] == str(sum(len(one.tags) for one in tagged))
    told = words(pick_list.pages(job)).partition("Labels and tags: ")[2].partition(". ")[0]
    assert set(told.split(", ")) == {*again.labels, *again.tags}


def test_what_was_named_beside_a_change_gets_its_tags_too() -> None:
    old, new = check("wren.rig", text=WREN), check("wren.rig", text=MOVED)
    _, again = compared(old, new)
    wish = Wish(only=frozenset(("W1", *again.tags)), since=again, asked=frozenset({"W1"}))
    tagged = {one.wire.name for one in tagged_wires(replace(job_of(new), wish=wish))}
    assert "W1" in tagged
