"""Every answer in JSON: one envelope, whatever was asked and whether it could be answered."""

import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from helpers.home import EXAMPLES
from rigfolio.cli import main
from rigfolio.cli.registry import command_names, parser

WREN = str(EXAMPLES / "marsh-wren-17.rig")
HEAD = ["format", "command", "rig", "book", "cautions"]
MORE = {
    "isolate": ["P1"],
    "short": ["P1.3"],
    "compare": [WREN],
    "diagnose": ["P1.3 = 11.2 V"],
}
BROKEN = 'rig "Broken"\n    system 12 V\nfuse F1 bogus\n'


def answering() -> list[str]:
    """The commands that say what they know as JSON, by what they take."""
    found = []
    for name in command_names():
        takes: argparse.ArgumentParser = parser(name)
        formats = [one.choices for one in takes._actions if one.dest == "format"]
        found += [name for each in formats if each and "json" in each]
    return found


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, dict[str, Any]]:
    code = main([*words, "--format", "json"])
    said = json.loads(capsys.readouterr().out)
    assert isinstance(said, dict)
    return code, said


def test_there_are_commands_that_answer() -> None:
    assert {"check", "live", "demand", "page", *MORE} <= set(answering())


@pytest.mark.parametrize("command", answering())
def test_an_answer_begins_with_what_it_is_of(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = told(capsys, command, WREN, *MORE.get(command, []))
    assert code in (0, 1)
    assert list(said)[: len(HEAD)] == HEAD
    assert [said[key] for key in HEAD[:4]] == [2, command, "Marsh Wren 17", "rv"]
    assert said["cautions"]
    assert all(isinstance(one, str) for one in said["cautions"])
    assert {"caution", "rules"}.isdisjoint(said)


@pytest.mark.parametrize("command", answering())
@pytest.mark.parametrize("why", ["text", "file", "book", "option"])
def test_what_cannot_be_answered_is_told_as_check_tells_it(
    command: str, why: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "broken.rig"
    file.write_text(BROKEN, encoding="utf-8")
    words = {
        "text": [command, str(file), *MORE.get(command, [])],
        "file": [command, str(tmp_path / "none.rig"), *MORE.get(command, [])],
        "book": [command, WREN, *MORE.get(command, []), "--rules", "barge"],
        "option": [command, WREN, *MORE.get(command, []), "--bogus"],
    }[why]
    code, said = told(capsys, *words)
    assert code == said["exit"] == 2
    assert list(said)[: len(HEAD)] == HEAD
    assert [said[key] for key in HEAD[:4]] == [2, command, None, None]
    assert said["cautions"]
    errors = [one for each in said["files"] for one in each["findings"]]
    assert errors
    for one in errors:
        assert one["severity"] == "error"
        assert one["rule"]
        assert one["headline"]
    if why == "text":
        assert {one["line"] for one in errors} == {3}


@pytest.mark.parametrize("command", ["isolate", "short"])
def test_a_place_that_is_none_is_an_error_with_its_way_out(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = told(capsys, command, WREN, "P11")
    assert code == 2
    (file,) = said["files"]
    (error,) = file["findings"]
    assert (file["file"], error["file"], error["line"]) == (None, None, None)
    assert error["headline"] == "nothing is called `P11`"
    assert error["fix"]["text"].startswith("the nearest name is")


def test_readings_that_are_not_understood_are_told_as_well(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, said = told(capsys, "diagnose", WREN, "P1.3 = 11.2 bananas")
    assert code == said["exit"] == 2
    assert said["files"][0]["findings"]


def test_several_files_have_no_one_rig(capsys: pytest.CaptureFixture[str]) -> None:
    _, said = told(capsys, "check", WREN, str(EXAMPLES / "heron-van.rig"))
    assert (said["rig"], said["book"]) == (None, None)
    assert [one["rig"] for one in said["files"]] == ["Marsh Wren 17", "Heron"]


def test_a_part_is_told_by_its_name_and_a_citation_as_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    _, said = told(capsys, "demand", str(EXAMPLES / "heron-van.rig"))
    loads = {one["load"] for one in said["day"]}
    assert {one["load"] for one in said["starts"]} <= loads
    devices = {one["device"] for one in said["starts"]} - {None}
    assert devices <= {one["name"] for one in said["levels"]}
    for one in (*said["lasts"], *said["charging"]):
        assert set(one["citation"]) == {"title", "status"}
    shares = [one["of_rating"] for one in said["levels"] if one["rating_a"]]
    assert shares
    assert all(share is None or 0.0 < share < 10.0 for share in shares)
