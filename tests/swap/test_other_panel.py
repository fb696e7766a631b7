"""A panel in whose place one of another name comes, and new parts that wires move to."""

from helpers.forgotten import cache
from rigfolio.folio import compared
from rigfolio.job import Again
from rigfolio.judgement.result import check
from rigfolio.swap import Pick, WorkPart, picks, work_since

OLD = """rig "Dunlin" revised 2026-01-02
    system 12 V
    rules  boat
battery B1 "Engine battery" flooded, 90 Ah, stud M8
fuse    F1 "Panel fuse" 40 A, mega, interrupts 2 kA
busbar  N1 "Minus bar" 100 A
panel   P2 "Fuse panel" 3 slots of 10 A, 30 A in all, negative N1
wire W1 B1+ to F1 10 AWG red 0.2 m
wire W2 F1 to P2  10 AWG red 1 m
wire W3 B1- to N1 6 AWG black 1 m
load L1 "Horn" 5 A, momentary
wire W4 L1- to N1 10 AWG black 2 m
circuit P2.1 "Radio" fuse 5 A
    wire 14 AWG red 3 m
    load "Radio" 3 A
circuit P2.2 "Plotter" fuse 5 A, melted
    wire 14 AWG blue 3 m
    load "Plotter" 2 A
slot P2.3 spare
"""
NEW = (
    OLD.replace('fuse    F1 "Panel fuse" 40 A, mega, interrupts 2 kA',
                'fuse    F9 "New panel fuse" 40 A, class T, interrupts 20 kA')
    .replace("F1", "F9")
    .replace("P2 \"Fuse panel\" 3 slots of 10 A, 30 A in all",
             "P3 \"Fuse panel\" 4 slots of 15 A, 40 A in all, interrupts 2 kA")
    .replace("P2", "P3")
    .replace(", melted", "")
)  # fmt: skip


@cache
def _between(old: str, new: str) -> tuple[Again, tuple[WorkPart, ...], tuple[Pick, ...]]:
    was, now = check("dunlin.rig", text=old), check("dunlin.rig", text=new)
    assert was.study is not None
    assert now.study is not None
    _, again = compared(was, now)
    return again, work_since(now.study, again), picks(now.study, (), again)


def _places(plan: tuple[WorkPart, ...], words: str) -> list[tuple[int, int]]:
    """Where tasks that begin so stand in a plan."""
    return [
        (n, k) for n, part in enumerate(plan) if not part.title.startswith(("Tag", "Before"))
        for k, task in enumerate(part.tasks) if task.do.startswith(words)
    ]  # fmt: skip


def test_new_parts_are_fitted_before_wires_land_on_them() -> None:
    _, plan, _ = _between(OLD, NEW)
    fuse, panel = _places(plan, "F9 New panel fuse"), _places(plan, "P3 Fuse panel")
    assert len(fuse) == len(panel) == 1
    for wire in ("W1 ", "W2 ", "P3.1/1 ", "P3.2/1 "):
        (lands,) = _places(plan, wire)
        assert lands > panel[0], wire
        assert lands > fuse[0] or wire.startswith("P3"), wire


def test_the_old_panel_goes_once_every_wire_is_off_it() -> None:
    _, plan, _ = _between(OLD, NEW)
    off, gone = _places(plan, "P2: off, one at a time"), _places(plan, "P3 Fuse panel")
    assert len(off) == 1
    assert off < gone
    (task,) = plan[off[0][0]].tasks
    for wire in ("W2", "P3.1/1", "P3.2/1"):
        assert wire in task.do
    # What only lands on a bar beside it, and is none of its own, stays on.
    assert "W3" not in task.do
    assert "W4" not in task.do
    assert not _places(plan, "P2: panel")


def test_no_label_is_printed_for_a_panel_that_is_gone_and_each_old_one_comes_off() -> None:
    again, plan, _ = _between(OLD, NEW)
    assert not [place for place in again.labels if place.startswith("P2")]
    assert {"P3.1", "P3.2", "P3.3", "P3.4"} <= set(again.labels)
    assert {"P2.1", "P2.2", "P2.3"} <= set(again.taken_off)
    assert not [task.do for part in plan for task in part.tasks if task.do.startswith("P2.")]


def test_fuses_for_a_panel_that_asks_more_of_them_are_bought() -> None:
    """A blade fuse of the usual kind breaks 1 kA: nobody knows that an old one breaks 2 kA."""
    _, plan, bought = _between(OLD, NEW)
    (fuses,) = (one for one in bought if "blade 5 A" in one.what)
    assert fuses.places == ("P3.1", "P3.2")
    assert "interrupts 2 kA" in fuses.what
    (at,) = _places(plan, "P3.1 Radio")
    assert "the old one out, the new one laid ready" in plan[at[0]].tasks[at[1]].see


def test_fuses_go_along_to_a_panel_that_asks_no_more_of_them() -> None:
    plain = NEW.replace("40 A in all, interrupts 2 kA", "40 A in all")
    assert plain != NEW
    _, _, bought = _between(OLD.replace(", melted", ""), plain)
    assert not [one for one in bought if "blade 5 A" in one.what]


def test_a_fuse_out_of_a_slot_that_was_hot_does_not_go_along() -> None:
    """Common practice: what the heat has reached is renewed, and it has reached what sat in it."""
    plain = NEW.replace("40 A in all, interrupts 2 kA", "40 A in all")
    for new in (plain, OLD.replace(", melted", "")):
        _, plan, bought = _between(OLD, new)
        (fuse,) = (one for one in bought if "blade 5 A" in one.what)
        place = "P3.2" if new is plain else "P2.2"
        assert fuse.places == (place,)
        tasks = [plan[n].tasks[k] for n, k in _places(plan, f"{place} Plotter")]
        assert any("its slot was melted" in task.do for task in tasks)
    # What is only tightened has been there all the time.
    loose = OLD.replace("melted", "loose")
    assert not [one for one in _between(loose, plain)[2] if "blade 5 A" in one.what]


def test_fuses_for_a_panel_of_the_same_name_that_asks_more_of_them_are_bought() -> None:
    """Whatever was written and found before, whatever is written now has to be at hand."""
    new = OLD.replace(", melted", "").replace(
        "3 slots of 10 A, 30 A in all", "4 slots of 15 A, 40 A in all, interrupts 2 kA"
    )
    for was in ("fuse 5 A", "fuse 3 A, found 5 A", "fuse 3 A", "fuse ?, found 5 A", "fuse ?"):
        old = OLD.replace(", melted", "").replace('"Plotter" fuse 5 A', f'"Plotter" {was}')
        again, plan, bought = _between(old, new)
        (fuses,) = (one for one in bought if "blade 5 A" in one.what)
        assert (was, fuses.places) == (was, ("P2.1", "P2.2"))
        ready = [part for part in plan if part.title.startswith("Fuses of the new panel")]
        assert {task.do.partition(" ")[0] for task in ready[0].tasks} == {"P2.1", "P2.2"}
        assert not [w for w in again.work if w.thing == "device" and w.deed == "told"]


def test_what_the_text_only_tells_now_of_fuses_that_stay_is_not_bought() -> None:
    told = OLD.replace("30 A in all,", "30 A in all, interrupts 2 kA,")
    assert told != OLD
    _, _, bought = _between(OLD, told)
    assert not [one for one in bought if one.group == "Fuses"]
