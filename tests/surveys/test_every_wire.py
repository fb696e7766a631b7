"""Every wire and every load of a rig has a row on the survey, and what is typed there is taken."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import studied, study_from
from rigfolio.judgement.result import check
from rigfolio.render import StoredTable
from rigfolio.surveys import fill, read_survey
from rigfolio.swap import all_rows

TEXT = """rig "Later wires"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 4 mohm
panel P1 3 slots of 20 A
busbar N1 100 A
load M1 "Winch" ? A, intermittent
inverter X1 "Kettle" ? W
wire B1+ to P1 6 AWG red 1 ft, fuse 60 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire B1+ to M1+ 4 AWG red 9 ft, fuse 100 A at B1+
wire M1- to B1- 4 AWG black 9 ft
wire B1+ to X1+ 2 AWG red 3 ft, fuse 150 A at B1+
wire X1- to B1- 2 AWG black 3 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp 1" 1 A
    wire ? AWG ? 4 ft, tag "P1.1/2"
    load "Lamp 2" 1 A
    return 16 AWG ? ? ft, tag "P1.1/1R"
"""


def rows(text: str = TEXT):
    return {row.place: row for row in all_rows(study_from(text).rig)}


def filled(*typed: tuple[str, ...]) -> str:
    heads, *cells = typed
    table = StoredTable(tuple(enumerate((heads, *cells), 1)), has_commas=False)
    made = fill(study_from(TEXT).rig, {"case.rig": TEXT}, read_survey(table))
    assert made.trouble == ()
    text = TEXT
    for edit in sorted(made.edits, key=lambda one: -one.span.start):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


def test_later_wires_and_the_way_back_stand_behind_their_circuit() -> None:
    places = list(rows())
    at = places.index("P1.1")
    assert places[at : at + 3] == ["P1.1", "P1.1/2", "P1.1/1R"]
    assert rows()["P1.1/2"].cells["length"] == "4 ft"
    assert rows()["P1.1/2"].cells["name"] == "Lamp 1 + to Lamp 2 +"


def test_what_is_typed_of_a_later_wire_is_taken() -> None:
    text = filled(
        ("place", "gauge", "colour", "length"),
        ("P1.1/2", "18 AWG", "red/white", ""),
        ("P1.1/1R", "", "white", "13 ft"),
    )
    assert 'wire 18 AWG red/white 4 ft, tag "P1.1/2"' in text
    assert 'return 16 AWG white 13 ft, tag "P1.1/1R"' in text


def test_a_load_without_a_circuit_has_a_blank_for_what_it_draws() -> None:
    assert rows()["M1"].cells["name"] == "load Winch"
    assert rows()["M1"].cells["draws"] == ""
    text = filled(("place", "draws", "condition", "note"), ("M1", "40 A", "corroded", "two studs"))
    assert 'load M1 "Winch" 40 A, intermittent, note "two studs", corroded' in text
    assert rows(text)["M1"].cells["draws"] == "40 A"


def test_the_plate_of_an_inverter_is_read_as_that_of_a_source() -> None:
    assert rows()["X1"].cells["name"] == "inverter Kettle"
    assert rows()["X1"].asked == ("power",)
    text = filled(("place", "plate"), ("X1", "1000 W"))
    assert 'inverter X1 "Kettle" 1000 W' in text
    assert rows(text)["X1"].cells["plate"] == "1000 W"


@pytest.mark.parametrize("file", [*RIGS, *CORPUS, *FAULTY], ids=lambda file: file.stem)
def test_every_wire_and_load_that_can_be_met_has_a_row(file: Path) -> None:
    result = check(str(file)) if file in FAULTY else None
    study = result.study if result is not None else studied(file)
    if study is None:
        return
    rig = study.rig
    told = list(all_rows(rig))
    places = [row.place for row in told]
    assert len(set(places)) == len(places)
    names = rig.by_name
    lines = {names.conductors[one].span for one in places if one in names.conductors}
    for row in told:
        if row.kind == "circuit" and names.circuits[row.place].wires:
            lines.add(names.conductors[names.circuits[row.place].wires[0]].span)
    met = [wire for wire in rig.conductors if not wire.assumed and not wire.lead]
    assert {wire.span for wire in met} <= lines
    inlets = {source.inlet for source in rig.sources}
    alone = {one.about.name for one in rig.loads if not one.circuit} - inlets
    assert alone <= {row.place for row in told if row.kind in ("load", "part")}
