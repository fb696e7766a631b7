"""`rigfolio format` as it is typed: what is written, what is only said, and what stops it."""

import io
import sys
from pathlib import Path

import pytest

from rigfolio.cli.entry import main

LOOSE = 'battery B1 "House" 100 Ah\nbusbar  N1   100 A\n'
NEAT = 'battery  B1  "House"  100 Ah\nbusbar   N1           100 A\n'
BROKEN = 'battery B1 "House\nbusbar  N1   100 A\n'


@pytest.fixture
def rig(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "a.rig"
    file.write_bytes(LOOSE.encode())
    return file


def test_a_file_is_written_over_once(rig, capsys):
    assert main(["format", "a.rig"]) == 0
    assert capsys.readouterr().out == "written: a.rig\n"
    assert rig.read_bytes() == NEAT.encode()
    assert main(["format", "a.rig"]) == 0
    assert capsys.readouterr().out == ""


def test_check_names_what_would_change_and_writes_nothing(rig, capsys):
    (rig.parent / "b.rig").write_text(NEAT, encoding="utf-8")
    assert main(["format", "--check", "a.rig", "b.rig"]) == 1
    assert capsys.readouterr().out == "not laid out: a.rig\n"
    assert rig.read_bytes() == LOOSE.encode()
    assert main(["format", "--check", "b.rig"]) == 0


def test_the_difference_is_shown_and_nothing_written(rig, capsys):
    assert main(["format", "--diff", "a.rig"]) == 0
    told = capsys.readouterr().out
    assert "-busbar  N1   100 A" in told
    assert "+busbar   N1           100 A" in told
    assert rig.read_bytes() == LOOSE.encode()
    assert main(["format", "--diff", "--check", "a.rig"]) == 1


def test_line_ends_and_mark_of_a_file_stay(rig):
    rig.write_bytes(b"\xef\xbb\xbf" + LOOSE.replace("\n", "\r\n").encode())
    assert main(["format", "a.rig"]) == 0
    assert rig.read_bytes() == b"\xef\xbb\xbf" + NEAT.replace("\n", "\r\n").encode()


def test_what_is_not_understood_stays_and_is_named(rig, capsys):
    rig.write_text(BROKEN, encoding="utf-8")
    assert main(["format", "a.rig"]) == 2
    told = capsys.readouterr()
    assert "error[label-not-closed]" in told.err
    assert rig.read_text(encoding="utf-8") == 'battery B1 "House\nbusbar  N1  100 A\n'


def test_a_pipe_goes_on(rig, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(LOOSE.encode())))
    assert main(["format", "-"]) == 0
    assert capsys.readouterr().out == NEAT


@pytest.mark.parametrize("content", [b"battery B1\xff 100 Ah\n", None])
def test_a_file_that_cannot_be_read_is_left_alone(rig, content, capsys):
    if content is None:
        rig.unlink()
    else:
        rig.write_bytes(content)
    assert main(["format", "a.rig"]) == 2
    assert "error[" in capsys.readouterr().err
    assert not rig.exists() or rig.read_bytes() == content
