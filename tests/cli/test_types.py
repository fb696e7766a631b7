"""A fleet of one type: judged together, compared, and a type never written for one unit."""

import json
from pathlib import Path

import pytest

from helpers.fleet import FINCH
from rigfolio.cli.entry import main

ONE = """\
rig "Finch 1" system 12 V, rules rv
include "finch.rig" except rig
"""
TWO = """\
rig "Finch 2" system 12 V, rules rv
include "finch.rig" except rig, except P1.2
circuit P1.2 "Pump" fuse 20 A
    wire 16 AWG yellow 3 ft
    load "Pump" 2 A
"""


@pytest.fixture(autouse=True)
def _fleet(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name, text in (("finch", FINCH), ("one", ONE), ("two", TWO)):
        Path(f"{name}.rig").write_text(text, encoding="utf-8")


def _texts():
    return {file.name: file.read_text("utf-8") for file in Path().glob("*.rig")}


def test_of_a_folder_the_units_are_judged(capsys):
    assert main(["check", "."]) == 1
    said = capsys.readouterr().out
    assert "one.rig: " in said
    assert "two.rig: " in said
    assert "2 rigs" in said


@pytest.mark.parametrize("format_", ["json", "sarif"])
def test_a_finding_is_told_where_it_stands(format_, capsys):
    main(["check", "one.rig", "two.rig", "--format", format_])
    said = json.loads(capsys.readouterr().out)
    places = json.dumps(said)
    assert '"finch.rig"' in places
    assert '"two.rig"' in places


@pytest.mark.parametrize(
    "command", [["check", "one.rig", "--fix", "--write"], ["size", "one.rig", "--write"],
                ["name", "one.rig", "--write"]],
)  # fmt: skip
def test_nothing_is_written_into_a_type_for_one_unit(command, capsys):
    before = _texts()
    assert main(command) == 2
    said = capsys.readouterr().err
    assert "`finch.rig` would be written into, a type of which `one.rig` is one unit" in said
    assert _texts() == before


def test_what_a_unit_has_otherwise_is_written_there(capsys):
    before = _texts()
    main(["check", "two.rig", "--fix", "--write"])
    assert "written: two.rig" in capsys.readouterr().out
    after = _texts()
    assert after["finch.rig"] == before["finch.rig"]
    assert "fuse 20 A" not in after["two.rig"].replace("found 20 A", "")


def test_the_type_by_itself_is_mended_for_all(capsys):
    main(["check", "finch.rig", "--fix", "--write"])
    assert "written: finch.rig" in capsys.readouterr().out
    assert _texts()["one.rig"] == ONE


def test_two_units_are_compared_as_rigs(capsys):
    assert main(["compare", "one.rig", "two.rig"]) == 0
    said = capsys.readouterr().out
    assert "draws 2 A, was 3 A" in said
    assert "Gone" not in said


def test_a_unit_is_laid_out_and_stays_the_same_rig(capsys):
    text = ONE.replace("except rig", "\n  except   rig # a name of its own")
    Path("one.rig").write_text(text, encoding="utf-8")
    assert main(["format", "one.rig"]) == 0
    laid = _texts()["one.rig"]
    assert laid != text
    assert laid.split() == text.split()
    assert main(["format", "one.rig", "--check"]) == 0


def test_what_is_excepted_and_not_there_ends_with_two(capsys):
    Path("one.rig").write_text(ONE.replace("except rig", "except rig, except F2"), "utf-8")
    assert main(["check", "one.rig"]) == 2
    said = capsys.readouterr().err
    assert "nothing in the included file is called `F2`" in said
    assert "one.rig:2:40" in said
    assert "the nearest name there is `F1`" in said
