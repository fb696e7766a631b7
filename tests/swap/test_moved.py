"""What stands elsewhere on its wires has been moved: hands go there, and it is dead before."""

import pytest

from rigfolio.folio.versions import compared
from rigfolio.job import Again
from rigfolio.judgement.result import check
from rigfolio.study import Study
from rigfolio.swap.changed import work_since
from rigfolio.swap.site import Site

TEXT = """
rig "Teal 19"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 4 mohm
busbar N1 "Negative bar" 100 A
busbar N2 "Plus bar" 100 A
fuse F1 "Winch fuse" 60 A
breaker F3 "Winch breaker" 80 A
load L1 "Winch" 40 A
panel P1 "Panel" 4 slots of 20 A
wire W1 B1+ to F1 6 AWG red 2 ft
wire W2 F1 to N2 6 AWG red 3 ft
wire W3 N2 to F3 6 AWG red 22 ft
wire W4 F3 to L1+ 6 AWG red 2 ft
wire W5 L1- to N1 6 AWG black 9 ft
wire W6 B1- to N1 6 AWG black 2 ft
wire W7 N2 to P1 6 AWG red 8 ft, fuse 60 A 4 in from N2
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 6 ft
    switch SW1 "Wall switch" 10 A
    wire 16 AWG red 3 ft
    load "Lamp" 10 W
circuit N2 "Radio" fuse 5 A after 4 in
    wire 16 AWG tan 6 ft
    load "Radio" 2 A
"""
MOVES = {
    "F1": (("F1 6 AWG red 2 ft", "F1 6 AWG red 1 ft"), ("N2 6 AWG red 3 ft", "N2 6 AWG red 4 ft")),
    "F3": (("red 22 ft", "red 6 in"), ("L1+ 6 AWG red 2 ft", "L1+ 6 AWG red 24 ft")),
    "N2": (("N2 6 AWG red 3 ft", "N2 6 AWG red 2 ft"), ("red 22 ft", "red 23 ft"),
           ("red 8 ft", "red 9 ft"), ("4 in from", "5 in from"), ("after 4 in", "after 5 in")),
    "W7 fuse": (("4 in from", "3 ft from"),),
    "SW1": (("red 6 ft", "red 4 ft"), ("16 AWG red 3 ft", "16 AWG red 5 ft")),
    "N2/Radio fuse": (("after 4 in", "after 2 in"),),
}  # fmt: skip


def between(edits: tuple[tuple[str, str], ...], *, back: bool) -> tuple[Study, Again]:
    text = TEXT
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    results = [check("teal.rig", text=one) for one in (TEXT, text)]
    was, now = reversed(results) if back else results
    assert now.study is not None
    return now.study, compared(was, now)[1]


@pytest.mark.parametrize("back", [False, True])
@pytest.mark.parametrize("part", MOVES)
def test_what_moved_along_its_wires_is_named_and_proved_dead(part: str, *, back: bool) -> None:
    study, again = between(MOVES[part], back=back)
    (move,) = (work for work in again.work if work.after == part)
    assert move.deed == "move"
    site = Site(study, again)
    devices = [d for d in study.rig.devices if d.about.name == part]
    ends = {end for d in devices for end in (d.line, d.load)} or {part}
    assert ends <= set(site.ends)
    leads = [w for w in study.rig.conductors if not w.assumed and ends & {w.a, w.b}]
    deeds = {work.after: work.deed for work in again.work if work.thing == "wire"}
    alone = {"N2/Radio"}  # The wire of a circuit behind its fuse is as long as before.
    assert all(deeds[w.name] in ("new ends", "replace") for w in leads if w.name not in alone)
    steps = [task.do for part in work_since(study, again) for task in part.tasks]
    assert any(step.startswith(part) and "to its new place" in step for step in steps)


def test_a_lead_that_was_only_measured_moves_nothing() -> None:
    # The other lead is as it was: nothing says that the breaker stands elsewhere.
    _, again = between((("red 22 ft", "red 20 ft"),), back=False)
    assert [work.deed for work in again.work] == ["told"]


def test_a_length_that_nobody_knew_moves_nothing() -> None:
    text = TEXT.replace("red 22 ft", "red ? ft")
    later = TEXT.replace("L1+ 6 AWG red 2 ft", "L1+ 6 AWG red 24 ft")
    was, now = check("teal.rig", text=text), check("teal.rig", text=later)
    assert "F3" not in {work.after for work in compared(was, now)[1].work}
