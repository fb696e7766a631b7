"""The whole hour: a survey as it was scribbled, put in, judged, sized, printed; a fault found."""

import json

import pytest
from hypothesis import given, settings

from helpers.noisy_survey import panels, table_text
from rigfolio.answers.filled_survey import put_in
from rigfolio.cli.entry import main
from rigfolio.judgement.result import check
from rigfolio.render.csv_text import read_csv
from rigfolio.units import to_si

RIDDLE = """\
circuit P1.4 "?" fuse 5 A
    wire ? AWG blue ? ft
    load "?" ? A"""
SOLVED = """\
circuit P1.4 "Step lamp" fuse 5 A
    wire 16 AWG blue 7 ft
    load "Step lamp" 1 A"""
CONVERTER = """
dc-dc E1 "Radio supply" 5 A from 12 V to 24 V, draws 12 A
busbar D2 "Radio bar" 30 A
wire P1 to E1.in 10 AWG red 3', fuse 15 A at P1
wire E1- to N1 10 AWG black 3'
wire E1.out to D2 14 AWG red 2'6", fuse 7.5 A at E1.out
circuit D2 "Radio" fuse 5 A
    wire 14 AWG red 3 1/2 ft
    load "Radio" 3 A
"""


def as_found(rig, one):
    """Whether a rig says of a slot what was found there."""
    circuit = rig.by_name.circuits[f"P1.{one.number}"]
    wire = next(wire for wire in rig.conductors if wire.name in circuit.wires)
    load = next(load for load in rig.loads if load.about.name in circuit.loads)
    colour = wire.colour.base + (f"/{wire.colour.stripe}" if wire.colour.stripe else "")
    assert circuit.label.casefold() == one.load.casefold()
    assert colour == one.colour
    assert wire.size.awg == one.awg
    assert wire.length_m == pytest.approx(to_si(one.feet, "ft"))
    assert circuit.found_a == one.found_a
    assert circuit.condition == one.mark
    assert load.about.label == one.load
    assert (load.kind, load.value) == ("current", one.draws_a) if one.draws_a else True
    assert ("2 wires" in circuit.note) == (one.row[6] in ("2", "two"))
    assert "1 wire" not in circuit.note


def test_whatever_is_scribbled_is_what_the_text_says(tmp_path_factory):
    cells = unread = 0

    @settings(max_examples=40)
    @given(panels())
    def holds(drawn):
        nonlocal cells, unread
        found, comma = drawn
        folder = tmp_path_factory.mktemp("any")
        rig, table = folder / "my.rig", folder / "survey.csv"
        table.write_text(table_text(found, comma), encoding="utf-8")
        put, result = put_in(str(rig), str(table))
        cells, unread = cells + put.cells, unread + put.unread
        assert not put.has_trouble, put.told
        for one in found:
            as_found(result.study.rig, one)
        for path, content in put.contents.items():
            path.write_bytes(content)
        again, _ = put_in(str(rig), str(table))
        assert again.contents == {}
        assert not again.has_trouble, again.told

    holds()
    assert cells > 500
    assert unread == 0


@pytest.mark.dot
def test_from_a_scribbled_survey_to_a_fault_that_is_found(tmp_path, capsys):
    # What a technician scribbles, one cell without its unit among it.
    rig, table = tmp_path / "camper.rig", tmp_path / "survey.csv"
    heads = "Slot;name;colour;gauge;length;found;belongs;went dead;draws;condition"
    table.write_text(
        f"{heads}\n"
        "P1.1;Lights;Red w/ black stripe;14ga;~12';15a;5 amp;Ceiling lamp;1,5 amps;ok\n"
        "P1.2;Pump;dk green;#12;22 feet;7,5 amp;10A;Pump;7A;burnt\n"
        "p1.3;Fan;Brown;14 gauge;9;5A;5 A;Fan;2 amp;ok\n"
        "P1.4;spare;;;;;;;;\n",
        encoding="utf-8",
    )
    assert main(["survey", str(rig), "--from", str(table), "--write"]) == 1
    told = capsys.readouterr().out
    assert f"{table}:4: p1.3, length: `9`" in told
    table.write_text(table.read_text(encoding="utf-8").replace(";9;", ";9 ft;"), encoding="utf-8")
    assert main(["survey", str(rig), "--from", str(table), "--write"]) == 0
    assert "length 9 ft" in capsys.readouterr().out

    # What the survey could not know is looked up at the battery, and put in with its own table.
    text = rig.read_text(encoding="utf-8")
    text = text.replace("system ? V", "system 12 V").replace("rules vehicle", "rules rv")
    rig.write_text(text, encoding="utf-8")
    more = tmp_path / "more.csv"
    more.write_text(
        "place,plate,gauge,colour,length\n"
        'B1,"flooded, 105 Ah",,,\nN1,100 A,,,\nP1,"4 slots of 20 A, 60 A in all",,,\n'
        "W1,,6ga,red,4'\nW2,,6ga,wht,4'\n",
        encoding="utf-8",
    )
    assert main(["survey", str(rig), "--from", str(more), "--write"]) == 0
    text = rig.read_text(encoding="utf-8")
    feed = next(line for line in text.splitlines() if line.startswith("wire B1+"))
    text = text.replace(feed, f"{feed}, fuse 40 A at B1+ interrupts 10 kA")
    text = text.replace("flooded", "flooded, internal 10 mohm")
    rig.write_text(text, encoding="utf-8")

    # Judged: the large fuse that was found on the lights, and the scorched slot of the pump.
    capsys.readouterr()
    assert main(["check", str(rig), "--format", "json"]) == 1
    rules = {f["rule"] for f in json.loads(capsys.readouterr().out)["files"][0]["findings"]}
    assert {"wrong-fuse-found", "part-damaged"} <= rules
    assert "not-surveyed" not in rules

    # Sized, printed, and put back in: the printed survey changes nothing.
    assert main(["size", str(rig), "--write"]) in (0, 1)
    folder = tmp_path / "papers"
    sheets = "survey,test-sheet"
    assert main(["folio", str(rig), "--sheets", sheets, "-o", f"{folder}/"]) == 0
    assert main(["survey", str(rig), "-o", f"{folder}/"]) == 0
    assert main(["testsheet", str(rig), "-o", f"{folder}/"]) == 0
    before = rig.read_bytes()
    assert main(["survey", str(rig), "--from", f"{folder}/survey.csv", "--write"]) == 0
    assert rig.read_bytes() == before

    # Swapped: the readings of the sheet are kept; then the pump is weak, and the log knows why.
    sheet = folder / "test-sheet.csv"
    lines = sheet.read_text(encoding="utf-8-sig").splitlines()
    at = lines[0].split(",").index("read")
    filled = [lines[0]]
    for line in lines[1:]:
        cells = line.split(",")
        filled.append(",".join((*cells[:at], "12.6" if ",V,12." in line else "", *cells[at + 1 :])))
    sheet.write_text("\n".join(filled) + "\n", encoding="utf-8")
    assert main(["log", str(rig), "--on", "2026-03-14", "--from", str(sheet)]) == 0
    weak = ["Pump dim", "Pump = 9.8 V, with Pump on", "P1 to P1.2 = 2.4 V, with Pump on"]
    assert main(["log", str(rig), "--on", "2026-03-15", "# after the swap", *weak]) == 0
    capsys.readouterr()
    assert main(["diagnose", str(rig), "--logged", "2026-03-15", "--format", "json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    first = answer["verdicts"][0]["faults"][0]
    assert first["part"] == "P1.2"

    # A circuit that is added later goes in without the others being typed again.
    more.write_text("slot,name,gauge,colour,length,went dead,load amps\n"
                    "P1.2,PUMP,12ga,dk green,22',,\n", encoding="utf-8")  # fmt: skip
    before = rig.read_bytes()
    assert main(["survey", str(rig), "--from", str(more), "--write"]) == 0
    assert rig.read_bytes() == before
    assert check(str(rig)).study is not None

    # One more is found out that was a riddle, a converter comes in: both are told from what is new.
    riddle = rig.with_name("riddle.rig")
    text = rig.read_text(encoding="utf-8")
    spare = next(line for line in text.splitlines() if line.startswith("slot P1.4"))
    riddle.write_text(text.replace(spare, RIDDLE), encoding="utf-8")
    rig.write_text(text.replace(spare, SOLVED) + CONVERTER, encoding="utf-8")
    capsys.readouterr()
    assert main(["compare", str(riddle), str(rig), "--format", "json"]) in (0, 1)
    changes = json.loads(capsys.readouterr().out)["changes"]
    kinds = {(one["kind"], one["after"]) for one in changes if one["thing"] == "circuit"}
    assert ("identified", "P1.4") in kinds
    assert not kinds & {("new", "P1.4"), ("rewired", "P1.4")}
    later = tmp_path / "later"
    for command in ("workplan", "testsheet", "picklist"):
        assert main([command, str(rig), "--since", str(riddle), "-o", f"{later}/"]) == 0
    rows = read_csv((later / "test-sheet.csv").read_text(encoding="utf-8-sig"))
    probes = " ".join(row[3] for _, row in rows)
    for end in ("E1.in to E1", "E1.out to E1", "D2 to E1", "across Radio"):
        assert end in probes
    assert "P1.1 to" not in probes
    bought = (later / "pick-list.csv").read_text(encoding="utf-8-sig")
    assert "E1" in bought
    assert "P1.4" not in bought
