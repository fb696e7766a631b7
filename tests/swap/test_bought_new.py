"""What is bought is what may be fitted: nothing too thin, and a fuse for each new holder."""

import pytest

from helpers.forgotten import cache
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import Result, check
from rigfolio.swap import Pick, picks, work_since

TEXT = """
rig "Garganey 20"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 4 mohm
busbar N1 100 A
busbar N2 100 A
panel P1 "Panel" 4 slots of 20 A
wire W1 B1+ to N2 6 AWG red 2 ft, fuse 60 A at B1+
wire W2 N1 to B1- 6 AWG black 2 ft
wire W3 N2 to P1 6 AWG red 2 ft
circuit P1.1 "Stern light" fuse 5 A
    wire 18 AWG brown 24 ft
    load "Stern light" 10 W
circuit P1.4 "Bilge pump" fuse 7.5 A
    wire 14 AWG brown/white 10 ft
    load "Bilge pump" 4 A
"""
AHEAD = TEXT.replace(
    'circuit P1.4 "Bilge pump" fuse 7.5 A', 'circuit N2 "Bilge pump" fuse 7.5 A after 4 in'
)


@cache
def garganey(text: str) -> Result:
    return check("garganey.rig", text=text)


def found(text: str, since: str = "") -> tuple[Pick, ...]:
    now = garganey(text)
    assert now.study is not None
    return picks(now.study, again=compared(garganey(since), now)[1] if since else None)


def test_wire_that_no_book_allows_is_not_bought() -> None:
    wires = {pick.what: pick for pick in found(TEXT) if pick.group == "Wire"}
    thin = {what: pick for what, pick in wires.items() if what.startswith("18 AWG")}
    assert len(thin) == 2
    for pick in thin.values():
        # 33 CFR 183.425(d): a conductor by itself is at least 16 AWG (from memory).
        assert pick.bought == "0"
        assert pick.note == "not bought: no wire may be thinner than 16 AWG"
    assert all(pick.bought != "0" for what, pick in wires.items() if what not in thin)


def test_what_leaves_its_slot_for_a_wire_needs_a_fuse_of_its_own_there() -> None:
    fuses = [pick for pick in found(AHEAD, TEXT) if pick.group == "Fuses"]
    (pump,) = fuses
    assert "7.5 A" in pump.what
    assert pump.note == "new: chosen with its holder, and written into the text"
    # One that stands there can be read.
    notes = {pick.note for pick in found(AHEAD) if "kind not stated" in pick.what}
    assert notes == {"read it on the fuse that is fitted"}


@pytest.mark.parametrize(
    ("was", "now", "holders"),
    [
        ("", ", mega", ["fuse holder, as its fuse asks"]),
        (", mega", ", class T", ["fuse holder, class T"]),
        (", mega, interrupts 2 kA", ", mega, interrupts 5 kA", []),
    ],
    ids=["new on its wire", "another make", "another of the same make"],
)
def test_a_fuse_that_fits_no_holder_there_is_bought_with_one(
    was: str, now: str, holders: list[str]
) -> None:
    if was:
        before = TEXT.replace("fuse 60 A", f"fuse 60 A{was}")
        after = TEXT.replace("fuse 60 A", f"fuse 60 A{now}")
    else:
        before, after = TEXT, AHEAD
    picked = [pick for pick in found(after, before) if pick.group == "Parts"]
    assert [pick.what for pick in picked] == holders
    assert len([pick for pick in found(after, before) if pick.group == "Fuses"]) == 1
    # The plan says so where the fuse is fitted, and fits it before a wire lands on it.
    study = garganey(after).study
    assert study is not None
    plan = work_since(study, compared(garganey(before), garganey(after))[1])
    told = [task for part in plan for task in part.tasks if "fuse holder" in task.see]
    assert len(told) == len(holders)
    titles = [part.title for part in plan]
    if not was:
        fitted = titles.index("Fit new parts")
        assert told[0] in plan[fitted].tasks
        assert all(titles.index(title) > fitted for title in titles
                   if title.startswith(("Move", "Pull and fit")))  # fmt: skip


def test_its_wire_is_moved_from_the_slot_to_where_it_begins_now() -> None:
    now = garganey(AHEAD)
    work = {one.before: one for one in compared(garganey(TEXT), now)[1].work if one.before}
    assert work["P1.4/1"].deed in ("move", "replace")
    assert "from P1.4 to circuit N2" in work["P1.4/1"].facts
    # What leads to the pump is the wire of the slot; the inches before its fuse are new.
    assert work["P1.4/1"].after == "N2/Bilge pump"


def test_in_place_of_a_fuse_that_is_too_large_the_largest_that_serves_is_bought() -> None:
    def fuse(load: str) -> Pick:
        text = TEXT.replace("14 AWG brown/white", "16 AWG brown/white").replace("4 A", load)
        (one,) = (p for p in found(text.replace("7.5 A", "30 A")) if "P1.4" in p.places
                  and p.group == "Fuses")  # fmt: skip
        return one

    # 33 CFR 183.425 Table 5: 16 AWG at 75 degC carries 15 A, a fuse of up to 150 % of it (from
    # memory): 22.5 A, so 20 A; behind a load of 25 A none serves.
    small, large = fuse("4 A"), fuse("25 A")
    assert (small.what, small.bought) == ("regular blade 20 A yellow", "3")
    assert small.note == "instead of 30 A green fuse, TOO LARGE"
    assert large.bought == "0"
    assert "TOO LARGE" in large.what
