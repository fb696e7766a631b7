"""What a table of what is live has lines for, and what keeps a detector on: rigs worked by hand."""

import pytest

from helpers.studies import study_from
from rigfolio.answers import live_report
from rigfolio.isolation import (
    cell_words,
    isolate,
    live_table,
    must_stay_on,
    states_of,
    still_live_words,
)
from rigfolio.isolation.table import parts_of
from rigfolio.judgement.result import load
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

HEAD = 'rig "T"\n    system 12 V\n    rules rv\n'
ALARM = """battery B1 agm, 100 Ah
disconnect S1 100 A
busbar N1 100 A
busbar N2 100 A
panel P1 4 slots
wire B1+ to S1.line 6 AWG red 1 ft, fuse 60 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire N1 to N2 6 AWG black 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
circuit S1.line "Alarm" fuse 3 A
    wire 16 AWG red 9 ft
    load "CO alarm" 0.1 A, always on
"""
TWO_BANKS = """battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
disconnect S2 100 A
busbar D1 100 A
busbar N1 100 A
splice J1
dc-dc E1 10 A from 12 V to 12 V, draws 12 A
panel P1 4 slots, negative N1
wire B1+ to D1 6 AWG red 1 ft, fuse 60 A at B1+
wire B2+ to D1 6 AWG red 1 ft, fuse 60 A at B2+
wire B1- to N1 6 AWG black 1 ft
wire B2- to S2.line 6 AWG black 1 ft
wire S2.load to N1 6 AWG black 1 ft
wire D1 to J1 6 AWG red 1 ft
wire J1 to E1.in 6 AWG red 1 ft, fuse 20 A at J1
wire E1.out to P1 6 AWG red 1 ft
wire E1- to N1 6 AWG black 1 ft
circuit P1.1 "Alarm" fuse 3 A
    wire 16 AWG red 9 ft
    load "CO alarm" 0.1 A, always on
panel P2 4 slots, negative N1
wire D1 to P2 6 AWG red 1 ft, fuse 20 A at D1
circuit P2.3 "Lamps" fuse 3 A
    wire 16 AWG red 9 ft
    load "Lamp" 0.1 A
circuit D1 "Horn" fuse 3 A
    wire 16 AWG red 9 ft
    load "Horn" 1 A
"""


def unplain(text: str) -> Study:
    """The study of a text that leaves a return open."""
    _, rig, errors = load("t.rig", HEAD + text)
    assert rig is not None, errors
    assert {problem.kind for problem in rig.problems} == {"return-not-plain"}
    return Study(rig, rig.book)


def test_a_return_that_is_not_told_says_nothing_of_the_circuit_beside_it() -> None:
    # There are two minus bars: the lamp comes back to either. The alarm says to which.
    (kept,) = must_stay_on(unplain(ALARM + "    return to N1\n"))
    assert (kept.not_said, kept.dead_in) == ("", ())
    (kept,) = must_stay_on(unplain(ALARM))
    assert kept.not_said == "how it returns is not told"
    assert kept.dead_in == ("stored", "in use")


@pytest.mark.parametrize("bond", ["", "chassis G1\nwire B2- to G1 6 AWG bare 1 ft\n"])
def test_a_converter_keeps_on_what_one_of_its_two_batteries_feeds_out_and_back(bond: str) -> None:
    # Stored, S2 cuts off the way back to B2, bonded to a frame or not; that to B1 is whole.
    (kept,) = must_stay_on(study_from(HEAD + TWO_BANKS + bond))
    assert dict(zip(kept.states, kept.on, strict=True))["stored"] == ("E1",)


def test_every_part_on_the_plus_side_has_one_line_and_a_splice_none() -> None:
    # Each slot stands under its own panel; the minus bar and both ends of a switch in the minus
    # are at no volts.
    told = [(part.kind, part.name, part.panel) for part in parts_of(study_from(HEAD + TWO_BANKS))]
    assert told == [
        ("panel", "P1", ""), ("slot", "P1.1", "P1"), ("panel", "P2", ""), ("slot", "P2.3", "P2"),
        ("circuit", "circuit D1", ""), ("load", "E1.in", ""),
        ("source", "B1", ""), ("source", "B2", ""), ("source", "E1", ""), ("bar", "D1", ""),
    ]  # fmt: skip


def test_a_rig_without_a_switch_is_in_use_and_not_stored() -> None:
    # A state of the text that sets a charger is not the rig stored: nothing in it parts the rig.
    text = "battery B1 agm, 100 Ah\ncharger C1 20 A\nwire C1+ to B1+ 8 AWG red 1 ft\n" \
           "wire C1- to B1- 8 AWG black 1 ft\nstate parked C1 off\n"  # fmt: skip
    assert [state.name for state in states_of(study_from(HEAD + text))] == ["parked", "shore"]


def test_a_rig_of_two_switches_is_stored_only_where_both_stand_open() -> None:
    # One of two open leaves a panel live and another dead: that is neither stored nor in use.
    one = [one.name for one in states_of(study_from(HEAD + _switched("S1 open")))]
    assert one == ["parked", "stored", "in use"]
    both = [one.name for one in states_of(study_from(HEAD + _switched("S1 open, S2 open")))]
    assert both == ["parked", "in use"]


MINUS_SWITCH = """battery B1 flooded, 100 Ah
panel P1 4 slots, negative N1
busbar N1 100 A
chassis G1
disconnect S1 100 A
wire B1+ to P1 6 AWG red 1 ft
wire N1 to S1.load 6 AWG black 1 ft
wire S1.line to B1- 6 AWG black 1 ft
wire B1- to G1 6 AWG bare 1 ft
circuit P1.1 "Lights" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
circuit P1.2 "Fan" fuse 5 A
    wire 16 AWG red 9 ft
    load "Fan" 1 A
"""


def test_a_minus_bar_that_is_cut_off_stands_at_plus_through_its_lamps_and_has_a_line() -> None:
    # With S1 open no current runs: the lamps drop nothing, and N1 has the volts of P1 against the
    # frame. With S1 closed it is at no volts, and so is the battery's side of S1 in both.
    study = study_from(HEAD + MINUS_SWITCH)
    told = {row.part.name: row.cells for row in live_table(study).rows}
    for name in ("N1", "S1.load"):
        stored, in_use = told[name]
        assert (stored.sources, stored.through_loads) == (("B1",), True)
        assert not in_use.is_live
    assert not {"S1.line", "G1"} & told.keys()
    text = as_text(live_report(study))
    assert "through loads: B1" in text
    assert "perhaps" not in text


def test_a_fuse_that_is_pulled_leaves_the_minus_bar_at_plus_by_the_other_lamp() -> None:
    study = study_from(HEAD + MINUS_SWITCH)
    (stored,) = (state for state in states_of(study) if state.name == "stored")
    words = still_live_words(isolate(study, "P1.1", stored).stays_live)
    assert "from B1 through loads: S1.load; N1" in words
    # Closed, the bar is at no volts whatever is pulled.
    assert not any("N1" in one for one in still_live_words(isolate(study, "P1.1").stays_live))


def test_no_line_for_the_way_back_where_nothing_opens_it() -> None:
    told = [row.part.name for row in live_table(study_from(HEAD + TWO_BANKS)).rows]
    # S2 opens the way back of a second battery only: B1 holds the bar down.
    assert "N1" not in told


def _switched(said: str) -> str:
    return (
        "battery B1 agm, 100 Ah\ndisconnect S1 100 A\ndisconnect S2 100 A\npanel P1 4 slots\n"
        "panel P2 4 slots\nbusbar N1 100 A\nwire B1+ to S1.line 6 AWG red 1 ft\n"
        "wire S1.load to P1 6 AWG red 1 ft\nwire B1+ to S2.line 6 AWG red 1 ft\n"
        "wire S2.load to P2 6 AWG red 1 ft\nwire N1 to B1- 6 AWG black 1 ft\n"
        f"state parked {said}\n"
    )


def test_what_may_be_live_and_what_surely_is_are_told_apart() -> None:
    # Nobody says whether the sun shines on a parked rig; while it does, it surely does.
    sun = "solar U1 15 A\nwire U1+ to S1.load 10 AWG red 1 ft\nwire U1- to N1 10 AWG black 1 ft\n"
    table = live_table(study_from(HEAD + _switched("S1 open, S2 closed") + sun))
    told = {
        state.name: [(cell.sources, cell.sure) for row in ("P1", "P2")
                     for cell in [table.row(row).cells[at]]]
        for at, state in enumerate(table.states)
    }  # fmt: skip
    assert told["parked"] == [(("U1",), ()), (("B1",), ("B1",))]
    assert told["sun"] == [(("B1", "U1"), ("B1", "U1")), (("B1", "U1"), ("B1", "U1"))]
    assert cell_words(table.row("P1").cells[0]) == "perhaps U1"
