"""The pick list against counts done by hand."""

from pathlib import Path

import pytest

from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import check
from rigfolio.swap.purchases import Pick, picks

TEXT = """
rig "Bench"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, stud M8
panel P1 3 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 10 ft, fuse 50 A at B1+ maxi
wire N1 to B1- 6 AWG black 10 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red/black 10 ft, ends fork No8
    load "Lamp" 1 A
circuit P1.2 "Fan" fuse 5 A
    wire 16 AWG red/black 1 ft, ends fork No8
    load "Fan" 1 A
    return 16 AWG white ? ft
slot P1.3 spare
"""


def listed(only: tuple[str, ...] = ()) -> list[Pick]:
    study = check("bench.rig", text=TEXT).study
    assert study is not None
    return list(picks(study, only))


def one(what: str, only: tuple[str, ...] = ()) -> Pick:
    (found,) = [pick for pick in listed(only) if pick.what.startswith(what)]
    return found


def test_fuses_with_two_spares_of_each_rating() -> None:
    assert (one("regular blade 5 A").fitted, one("regular blade 5 A").bought) == ("2", "4")
    assert (one("maxi blade 50 A").fitted, one("maxi blade 50 A").bought) == ("1", "3")


def test_terminals_by_what_the_text_says_and_by_the_stud() -> None:
    # Lamp and Fan: two ends each; one more for waste. Of returns the text says nothing.
    assert (one("fork No8, red, 22 to 16 AWG").fitted, one("fork No8").bought) == ("4", "5")
    assert one("ring M8, for 6 AWG").fitted == "1"


def test_the_stud_of_a_panel_is_that_of_its_feed() -> None:
    study = check(
        "bench.rig", text=TEXT.replace("3 slots of 20 A", "3 slots of 20 A, stud M6")
    ).study
    assert study is not None
    rings = [pick for pick in picks(study) if pick.what.startswith("ring M6")]
    assert [pick.places for pick in rings] == [("B1+/P1",)]


def test_wire_with_slack_by_hand() -> None:
    # 10 ft and 1 ft, each with a tenth or 300 mm (0.98 ft) more, whichever is more:
    # 11 + 1.98, rounded up to whole feet.
    pick = one("16 AWG, red/black")
    assert (pick.fitted, pick.bought) == ("11 ft", "13 ft")
    white = one("16 AWG, white")
    assert (white.fitted, white.bought, white.note) == ("?", "?", "length of P1.2/1R not surveyed")


def test_only_what_was_chosen() -> None:
    found = listed(("P1.2",))
    assert {place for pick in found for place in pick.places} <= {"P1.2", "P1.2/1", "P1.2/1R"}
    assert one("regular blade 5 A", ("P1.2",)).fitted == "1"
    assert {pick.what for pick in listed(("B1+/P1",))} >= {"6 AWG, red RD"}


def since(*edits: tuple[str, str]) -> dict[str, list[Pick]]:
    """What is to be bought for an edit, by group."""
    text = TEXT
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    was, now = check("bench.rig", text=TEXT), check("bench.rig", text=text)
    assert now.study is not None
    _, again = compared(was, now)
    found: dict[str, list[Pick]] = {}
    for pick in picks(now.study, {*again.labels, *again.tags}, again):
        found.setdefault(pick.group, []).append(pick)
    return found


def test_for_another_rating_nothing_but_the_fuse_and_its_words_are_bought() -> None:
    found = since(('"Lamp" fuse 5 A', '"Lamp" fuse 7.5 A'))
    assert [pick.what for pick in found["Fuses"]] == ["regular blade 7.5 A brown"]
    assert found.keys() == {"Fuses"}


def test_for_a_colour_that_was_learnt_nothing_is_bought() -> None:
    unread = TEXT.replace("16 AWG red/black 10 ft", "16 AWG ? 10 ft")
    was, now = check("bench.rig", text=unread), check("bench.rig", text=TEXT)
    assert now.study is not None
    _, again = compared(was, now)
    assert again.tags
    assert picks(now.study, {*again.labels, *again.tags}, again) == ()


def test_a_new_part_is_bought_and_named() -> None:
    found = since(("slot P1.3 spare", 'slot P1.3 spare\nsolar U1 "Roof" 10 A\n'
                   "wire U1+ to B1+ 10 AWG red 9 ft, fuse 15 A at B1+\n"
                   "wire U1- to N1 10 AWG black 9 ft"))  # fmt: skip
    roof, holder = found["Parts"]
    assert roof.what == "U1 Roof"
    assert (holder.what, holder.places) == ("fuse holder, as its fuse asks", ("B1+/U1+ fuse",))
    assert [pick.what for pick in found["Wire"]] == ["10 AWG, black BK", "10 AWG, red RD"]
    assert [pick.places for pick in found["Fuses"]] == [("B1+/U1+ fuse",)]


def test_a_wire_that_moves_has_new_ends_and_one_that_is_rewired_is_bought() -> None:
    moved = since(('circuit P1.1 "Lamp"', 'circuit P1.3 "Lamp"'), ("slot P1.3", "slot P1.1"))
    assert "Wire" not in moved
    assert "Fuses" not in moved
    assert moved["Terminals"][-1].what == "fork No8, red, 22 to 16 AWG"
    rewired = since(("16 AWG red/black 10 ft", "14 AWG red/black 10 ft"))
    assert [pick.places for pick in rewired["Wire"] if "red" in pick.what] == [("P1.1/1",)]
    assert any(pick.what == "fork No8, blue, 16 to 14 AWG" for pick in rewired["Terminals"])


def test_wire_comes_by_size() -> None:
    order = [pick.what.split(",")[0] for pick in listed() if pick.group == "Wire"]
    assert order == ["16 AWG", "16 AWG", "16 AWG", "6 AWG", "6 AWG"]


@pytest.mark.parametrize("file", RIGS, ids=lambda f: f.stem)
def test_every_wire_and_fuse_of_the_examples_is_on_the_list(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    found = picks(study)
    places = {place for pick in found if pick.group == "Wire" for place in pick.places}
    assert places == {wire.name for wire in study.rig.conductors if not wire.lead}
    fuses = {place for pick in found if pick.group == "Fuses" for place in pick.places}
    assert fuses == {d.about.name for d in study.rig.devices if d.protects}
