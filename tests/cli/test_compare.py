"""Two versions of a rig from files and from git, as a user compares them."""

import json
import subprocess
from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from rigfolio.cli.entry import main

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")


def git(folder: Path, *words: str) -> None:
    own = ("-c", "user.name=Tester", "-c", "user.email=tester@example.org")
    subprocess.run(["git", "-C", str(folder), *own, *words], check=True, capture_output=True)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A rig of two files with one earlier version."""
    git(tmp_path, "init", "-q")
    (tmp_path / "rigs" / "parts").mkdir(parents=True)
    (tmp_path / "rigs" / "parts" / "ac.rig").write_text('ac "Main" 30 A\n', encoding="utf-8")
    rig = tmp_path / "rigs" / "wren.rig"
    rig.write_text(WREN + 'include "parts/ac.rig"\n', encoding="utf-8")
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "as found")
    rig.write_text(
        rig.read_text(encoding="utf-8").replace(
            '"Radio"                  fuse 5 A', '"Stereo" fuse 7.5 A'
        ),
        encoding="utf-8",
    )
    (tmp_path / "rigs" / "parts" / "ac.rig").write_text('ac "Main" 20 A\n', encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.usefixtures("repository")
def test_a_revision_is_read_with_what_it_includes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "HEAD:rigs/wren.rig", "rigs/wren.rig"]) == 0
    said = capsys.readouterr().out
    assert "`Stereo`, was `Radio`" in said
    assert "7.5 A brown, was 5 A tan" in said
    assert "rating 20 A, was 30 A" in said


@pytest.mark.usefixtures("repository")
def test_what_is_to_be_printed_again_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "HEAD:rigs/wren.rig", "rigs/wren.rig", "--format", "json"]) == 0
    again = json.loads(capsys.readouterr().out)["print_again"]
    assert again["labels"] == ["P1.7"]
    assert again["tags"] == ["P1.7/1", "P1.7/1R"]
    assert {"Slot labels", "Wire tags", "Panel directory"} <= set(again["sheets"])
    assert "What stays live" not in again["sheets"]


@pytest.mark.parametrize(
    ("old", "said"),
    [
        ("nowhere:rigs/wren.rig", "`nowhere` of `rigs` cannot be read"),
        ("HEAD:rigs/other.rig", "`rigs/other.rig` is not in revision `HEAD`"),
        ("--output=stolen:rigs/wren.rig", "arguments are required: NEW"),
        ("HEAD:nothing/wren.rig", "cannot be read"),
    ],
)
@pytest.mark.usefixtures("repository")
def test_a_revision_that_is_not_there(
    old: str, said: str, capsys: pytest.CaptureFixture[str], repository: Path
) -> None:
    before = sorted(repository.rglob("*"))
    assert main(["compare", old, "rigs/wren.rig"]) == 2
    assert said in capsys.readouterr().err
    assert sorted(repository.rglob("*")) == before


def test_a_broken_text_is_shown_with_its_place_in_the_revision(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = repository / "rigs" / "wren.rig"
    whole = rig.read_text(encoding="utf-8")
    rig.write_text(whole + "battery B2 105\n", encoding="utf-8")
    git(repository, "commit", "-qam", "broken")
    rig.write_text(whole, encoding="utf-8")
    assert main(["compare", "HEAD:rigs/wren.rig", "rigs/wren.rig"]) == 2
    said = capsys.readouterr().err
    assert f"HEAD:rigs/wren.rig:{whole.count(chr(10)) + 1}:12" in said
    assert "bare-number" in said


def test_without_git_two_files_are_asked_for(
    repository: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PATH", str(repository))
    assert main(["compare", "HEAD:rigs/wren.rig", "rigs/wren.rig"]) == 2
    assert "`git` is not installed" in capsys.readouterr().err
