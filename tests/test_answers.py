"""The questions of a person at the panel: what to open, what stays live, as commands."""

import json
from pathlib import Path

import pytest

from rigfolio.cli import main

ROOT = Path(__file__).parents[1]
WREN = str(ROOT / "examples" / "marsh-wren-17.rig")


def test_isolate_names_every_supply_in_order(capsys):
    assert main(["isolate", WREN, "P1"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "local code and licensed practice come first" in said
    assert said.index("C1 Converter: pull the shore cord") < said.index(
        "S1 Battery disconnect: open"
    )
    assert "Stays live while you work" in said
    assert "S1.line Gas detector" in said
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
    assert "the nearest is `P1" in err


@pytest.mark.parametrize("command", [["live"], ["isolate"]])
def test_text_that_is_not_understood(command, tmp_path, capsys):
    file = tmp_path / "broken.rig"
    file.write_text('rig "Plover"\n    system 12 vlots\n', encoding="utf-8")
    place = ["P1"] if command == ["isolate"] else []
    assert main([*command, str(file), *place]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "error[unknown-unit]" in err
