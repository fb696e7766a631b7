"""A relay whose coil is live in a state is closed in it, or the table says that it may come."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers.live import live_report
from rigfolio.isolation import cell_words, live_table, states_of
from rigfolio.network import coils_of, edge_name
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

TEXT = """rig "T"
    system 12 V
battery B1 "House" 105 Ah, flooded, internal 8 mohm
panel P1 6 slots of 30 A
panel P2 6 slots of 30 A
busbar N1 100 A
wire B1+ to P2 6 AWG red 3 ft, fuse 50 A at B1+
relay K1 "Main relay" 100 A, rests open
wire P2 to K1 6 AWG red 1 ft
wire K1 to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Pump" fuse 10 A
    wire 14 AWG red 9 ft
    load "Pump" 7 A
circuit P2.4 "Main relay coil" fuse 2 A
    wire 18 AWG blue 5 ft
    switch SW1 "Key switch" 5 A
    wire 18 AWG blue 5 ft
    load "Main relay coil" 0.2 A
"""
# A relay whose coil hangs behind another relay.
CHAIN = f"""{TEXT}relay K2 "Second relay" 50 A, rests open
wire P1 to K2 10 AWG red 1 ft
load L9 "Lamp" 2 A
wire K2 to L9+ 10 AWG red 1 ft
wire L9- to N1 10 AWG black 1 ft
circuit P1.2 "Second relay coil" fuse 2 A
    wire 18 AWG blue 5 ft
    load "Second relay coil" 0.2 A
"""


def told(text: str, end: str) -> dict[str, str]:
    """What is said of a terminal, state by state."""
    study = study_from(text)
    (row,) = [one for one in live_table(study).rows if end in one.part.terminals]
    names = [one.name for one in states_of(study)]
    return dict(zip(names, map(cell_words, row.cells), strict=True))


STATES = """state towing SW1 closed
state "key off" SW1 open
state odd SW1 closed, K1 open
state forced SW1 open, K1 closed
"""


def test_the_contact_goes_with_its_coil() -> None:
    # By hand: the coil hangs on P2 by SW1 alone.
    assert told(TEXT + STATES, "P1") == {
        "towing": "B1",
        # It rests open, and whoever turns the key closes it.
        "key off": "may come: B1",
        # The text says that it is open and that its coil is live: nobody may trust that.
        "odd": "may come: B1",
        "forced": "B1",
    }


def test_a_coil_behind_a_contact_goes_with_it() -> None:
    said = told(CHAIN + STATES, "L9+")
    assert said["towing"] == "B1"
    assert said["key off"] == "may come: B1"


def test_why_it_is_closed_is_told() -> None:
    study = study_from(TEXT + STATES)
    setting = states_of(study)[0].of("K1")
    assert setting is not None
    assert (setting.position, setting.is_sure) == ("closed", True)
    assert "Main relay coil" in setting.reason
    assert "towing: K1 closed, SW1 closed" in as_text(live_report(study))


def test_a_coil_of_which_nobody_is_sure_leaves_its_contact_unsure() -> None:
    # By hand: P2 hangs on the charger alone, and nobody knows whether that is on in the state.
    by_charger = TEXT.replace(
        "wire B1+ to P2 6 AWG red 3 ft, fuse 50 A at B1+",
        "charger C1 20 A\nwire C1+ to P2 6 AWG red 3 ft, fuse 50 A at P2\n"
        "wire C1- to N1 6 AWG black 3 ft",
    )
    assert told(by_charger + "state keyed SW1 closed\n", "P1")["keyed"] == "perhaps C1"


def contradicted(study: Study) -> list[tuple[str, str]]:
    """States and relays whose coil is live while nothing behind the contact is told as live."""
    table, rig = live_table(study), study.rig
    cells = {end: row.cells for row in table.rows for end in row.part.terminals}
    found = []
    for device in rig.devices:
        coil = coils_of(rig).get(edge_name(device))
        if coil is None:
            continue
        # What is not put at has no row: then its circuit, or what it hangs on, stands for it.
        ends = [cells.get(end) for end in (coil.plus, device.line, device.load)]
        if any(one is None for one in ends):
            continue
        for place, state in enumerate(table.states):
            on, one, two = (each[place] for each in ends if each is not None)
            if on.sure and not on.through_loads and one.is_live != two.is_live:
                found.append((state.name, device.about.name))
    return found


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_no_coil_is_live_whose_contact_is_called_dead(file: Path) -> None:
    assert contradicted(studied(file)) == []


def test_the_same_of_made_up_states() -> None:
    for text in (TEXT, CHAIN):
        assert contradicted(study_from(text + STATES)) == []
