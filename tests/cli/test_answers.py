"""The questions of a person at the panel: what to open, what stays live, as commands."""

import json

import pytest

from helpers.home import HOME
from rigfolio.cli.entry import main

WREN = str(HOME / "examples" / "marsh-wren-17.rig")


def test_isolate_names_every_supply_in_order(capsys):
    assert main(["isolate", WREN, "P1"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "local code and licensed practice come first" in said
    assert said.index("C1 Converter: pull the shore cord") < said.index(
        "S1 Battery disconnect: open"
    )
    assert "Stays live while you work" in said
    assert "circuit S1.line Gas detector" in said
    assert "Would feed P1" in said


def test_isolate_as_json_holds_the_same_steps(capsys):
    assert main(["isolate", WREN, "P1", "--format", "json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    steps = json.dumps(plain)
    assert "S1" in steps
    assert "C1" in steps


def test_live_shows_every_state_of_the_text(capsys):
    assert main(["live", WREN]) == 0
    said = capsys.readouterr().out
    for state in ("stored", "towing", "shore"):
        assert state in said
    assert main(["live", WREN, "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)


def test_unknown_place_names_the_nearest(capsys):
    assert main(["isolate", WREN, "P11"]) == 2
    err = capsys.readouterr().err
    assert "nothing is called `P11`" in err
    assert "the nearest name is `P1" in err


@pytest.mark.parametrize("command", [["live"], ["isolate"]])
def test_text_that_is_not_understood(command, tmp_path, capsys):
    file = tmp_path / "broken.rig"
    file.write_text('rig "Plover"\n    system 12 vlots\n', encoding="utf-8")
    place = ["P1"] if command == ["isolate"] else []
    assert main([*command, str(file), *place]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "error[unknown-unit]" in err


THIN = """\
\ufeffrig "Plover"\r
    system 12 V\r
battery B1 105 Ah, internal 10 mohm   # shelf\r
fuse    F1 40 A, on B1+, interrupts 10 kA\r
panel   P1 6 slots of 20 A\r
busbar  N1\r
wire F1.load to P1\t6 AWG red 4 ft\r
wire B1- to N1 6 AWG black 4 ft\r
circuit P1.4 "Fan"   fuse 20 A   # as found\r
    wire  16 AWG red/black 14 ft\r
    load  "Fan" 2 A\r
"""


def test_size_writes_those_tokens_and_nothing_else(tmp_path, capsys):
    file = tmp_path / "plover.rig"
    file.write_bytes(THIN.encode())
    assert main(["check", str(file)]) == 1
    assert main(["size", str(file)]) == 0
    assert file.read_bytes() == THIN.encode()
    assert "20 A -> 7.5 A" in capsys.readouterr().out
    assert main(["size", str(file), "--write"]) == 0
    written = THIN.replace("fuse 20 A", "fuse 7.5 A, found 20 A")
    assert file.read_bytes() == written.encode()
    assert "written: " in capsys.readouterr().err
    # The danger stays until the fuse that is in the slot was swapped.
    assert main(["check", str(file)]) == 1
    file.write_bytes(written.replace(", found 20 A", "").encode())
    assert main(["check", str(file)]) == 0
    assert main(["size", str(file), "--write"]) == 0
    assert "nothing had to be written" in capsys.readouterr().err


def test_size_as_json(capsys):
    assert main(["size", WREN, "--format", "json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    assert plain["book"] == "rv"
    assert len(plain["proposals"]) > 12


def test_an_order_of_slots_is_written_only_when_asked(tmp_path, capsys):
    text = (
        'rig "Order"\n    system 12 V\n    rules vehicle\nbattery B1 agm, 100 Ah\n'
        "panel P1 4 slots of 20 A, pitch 100 mm\nbusbar N1 100 A\n"
        "wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+\nwire N1 to B1- 6 AWG black 1 ft\n"
        'circuit P1.4 "Heater" fuse 15 A    # by the door\n'
        "    wire 14 AWG red 6 ft, tail 500 mm, breakout 10 mm\n"
        '    load "Heater" 12 A\n'
    )
    file = tmp_path / "order.rig"
    file.write_text(text, encoding="utf-8")
    assert main(["arrange", str(file)]) == 0
    assert "slot 4" in capsys.readouterr().out
    assert file.read_text(encoding="utf-8") == text
    assert main(["arrange", str(file), "--write", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["panels"][0]["slots"][0]["slot"] == 1
    assert file.read_text(encoding="utf-8") == text.replace("circuit P1.4", "circuit P1.1")
