"""The devices outside panels: each that somebody may have to pull or set, with what that does."""

import pytest
from hypothesis import given, settings, strategies as st

from helpers.diagram_rigs import KINDS, text_of
from helpers.home import EXAMPLES
from helpers.studies import studied, study_from
from helpers.sun_rigs import ROOF
from helpers.tow_rigs import TOW
from rigfolio.isolation.alone import opened_alone
from rigfolio.isolation.energised import source_reach
from rigfolio.isolation.plans.least_cut import actions_of, opened_by
from rigfolio.labels.devices import device_rows
from rigfolio.labels.system_volts import daylight_words


def row(study, name):
    (found,) = [one for one in device_rows(study) if one.name == name]
    return found


def test_every_device_outside_panels_that_a_hand_opens_has_one_row():
    rows = device_rows(studied(EXAMPLES / "marsh-wren-17.rig"))
    assert [one.name for one in rows] == [
        "F1", "S1", "J1", "W4 fuse", "W8 fuse", "W10 fuse", "W11 breaker", "S1.line/1 fuse",
        "S1.line-2/1 fuse", "K1",
    ]  # fmt: skip


def test_a_row_says_where_a_device_is_and_what_it_is_made_for():
    boat, van = (studied(EXAMPLES / f"{name}.rig") for name in ("kittiwake-30", "heron-van"))
    assert row(boat, "F1").place == "on B1+ Start battery"
    assert row(boat, "S1").place == "between B1+ Start battery and M1+ Starter"
    assert row(van, "F1").rating == "150 A class T"
    assert (row(van, "W12 fuse").rating, row(van, "W12 fuse").kind) == (
        "60 A terminal cube",
        "fuse",
    )


def test_a_row_says_what_goes_dark_and_what_would_keep_it_live():
    wren = studied(EXAMPLES / "marsh-wren-17.rig")
    assert row(wren, "S1").dark_words == "P1 Galley panel (unless C1 Converter runs)"
    assert row(wren, "S1").live == (
        ("S1.line", ("B1 House battery", "U1 Solar controller", "V1 Tow vehicle")),
        ("S1.load", ("C1 Converter",)),
    )
    assert row(wren, "S1.line/1 fuse").label == "Gas detector"
    assert row(wren, "S1.line/1 fuse").dark == ("Gas detector",)


def test_a_device_of_a_charger_cuts_it_off_and_one_between_banks_parts_them():
    boat, van = (studied(EXAMPLES / f"{name}.rig") for name in ("kittiwake-30", "heron-van"))
    assert row(boat, "W16 fuse").dark_words == "cuts off C1 Shore charger"
    assert row(boat, "W14 fuse").dark_words == "parts B1 Start battery and B2 House bank"
    assert row(van, "W10 fuse").dark_words == "cuts off E1 Charger from the engine"


def test_a_fuse_in_the_lead_of_a_source_stands_for_the_source():
    """On the battery alone its lamps are fed backwards through that lead; on tow they stay lit."""
    study = study_from(TOW)
    for name in ("W16 fuse", "W17 fuse"):
        assert row(study, name).purpose == "V1 Truck"
        assert row(study, name).effect == (
            "goes dark: L1 Marker lamps (unless V1 Truck runs); V1 Truck charges no more"
        )
    assert row(study, "W20 fuse").purpose == "L1 Marker lamps"
    main = next(one for one in device_rows(study) if "B1" in one.name)
    assert (main.purpose, main.lead) == ("L1 Marker lamps", "")


def test_a_fuse_before_a_selector_says_in_which_position_it_counts():
    boat = studied(EXAMPLES / "kittiwake-30.rig")
    assert row(boat, "F2").dark_words == "P1 Breaker panel; M2 Windlass (with X1 on 2)"
    assert row(boat, "F2").stays_live


@settings(max_examples=40, deadline=None, derandomize=True)
@given(kind=st.sampled_from(KINDS), seed=st.integers(0, 400))
def test_what_is_said_to_go_dark_is_dead_but_for_the_sources_that_are_named(kind, seed):
    study = study_from(text_of(kind, seed))
    reach = source_reach(study)
    actions = actions_of(study.rig)
    for one in device_rows(study):
        found = opened_alone(study, one.name)
        own = [action for action in actions if action.part == one.name]
        named = [a for a in actions if a.part in found.unless]
        alive = reach.alive(opened_by(study.rig, [*own, *named]))
        was = reach.alive()
        for part in found.dark:
            assert all(end in was for end in part.terminals)
            if not found.when:
                assert not any(end in alive for end in part.terminals)
        assert {end for end, _ in found.live} <= reach.alive(opened_by(study.rig, own)).keys()


def test_a_row_says_the_volts_that_its_kind_is_not_made_for_anyhow():
    study = study_from(ROOF)
    assert row(study, "Y1+/Z1 fuse").rated == "10 A, 1000 V"
    assert row(study, "S1").rated == "32 A, 100 V"
    assert row(study, "F1").rated == "100 A class T"
    # Nothing is stated: the least that it must bear, 48 x (1 + 0.003 x 40) = 53.76 V.
    unread = study_from(ROOF.replace(", rated 1000 V", ""))
    assert row(unread, "Y1+/Z1 fuse").rated == "10 A, at least 53.8 V"


def test_what_modules_feed_is_told_to_be_live_in_daylight():
    study = study_from(ROOF)
    assert daylight_words(study, ("Z1",)) == "live in daylight, 53.8 V cold"
    assert daylight_words(study, ("N2", "B1+")) == ""
    words = row(study, "Y1+/Z1 fuse").dark_words
    assert words == (
        "cuts off Y1 Front; never under load: first open S1 Roof isolator or cover the modules"
    )


RELAYED = """rig "Hitch" system 12 V, rules rv
battery B1 "House" flooded, 105 Ah
panel P1 "Cabin" 4 slots of 20 A, negative N1
busbar N1 100 A
relay K1 "Main relay" 100 A{rests}
wire B1+ to K1 6 AWG red 2 ft, fuse 50 A at B1+
wire K1 to P1 6 AWG red 2 ft
wire N1 to B1- 6 AWG black 2 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 2 A
"""


@pytest.mark.parametrize("rests", ["", ", rests open", ", rests closed"])
def test_a_relay_outside_panels_has_a_row_that_says_what_it_darkens(rests) -> None:
    """No hand opens it, its coil does: by hand, all of P1 hangs behind it."""
    found = row(study_from(RELAYED.format(rests=rests)), "K1")
    assert (found.rated, found.kind, found.seat) == (
        "100 A",
        "relay",
        "B1+/K1 fuse.load to P1 feed",
    )
    assert found.effect == "goes dark: P1 Cabin"
