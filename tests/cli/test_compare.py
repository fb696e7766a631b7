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


UNNAMED = """rig "Unnamed"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 6 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 4 ft, fuse 40 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Horn" fuse 5 A
    wire 16 AWG red 9 ft
    load "Horn" 2 A
"""


@pytest.fixture
def versions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same rig twice, to be changed."""
    (tmp_path / "old.rig").write_text(UNNAMED, encoding="utf-8")
    (tmp_path / "new.rig").write_text(UNNAMED, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "new.rig"


@pytest.mark.parametrize(
    ("edit", "off"),
    [
        # Written in above, called otherwise by it.
        (
            ("wire N1 to B1- 6", "wire N1 to B1- 8 AWG blue 4 ft\nwire N1 to B1- 6"),
            "B1-/N1 (now B1-/N1 6 AWG black)",
        ),
        # Written in above, and no name is touched.
        (("wire N1 to B1- 6", "chassis G1\nwire G1 to B1- 8 AWG blue 4 ft\nwire N1 to B1- 6"), ""),
        # The same wire, and what its tag says of it is no longer so.
        (("fuse 5 A", "fuse 7.5 A"), "P1.1/1"),
        (("fuse 40 A at B1+", "fuse 40 A at B1+, tag W7"), "B1+/P1 (now W7)"),
        (("wire N1 to B1- 6 AWG black 4 ft\n", ""), "B1-/N1 (gone)"),
        # A length stands on no tag.
        (("black 4 ft", "black 5 ft"), ""),
    ],
)
def test_tags_that_are_no_longer_true_are_printed_again(
    versions: Path, edit: tuple[str, str], off: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert edit[0] in UNNAMED
    versions.write_text(UNNAMED.replace(*edit), encoding="utf-8")
    assert main(["tags", "new.rig", "--since", "old.rig", "-o", "tags.pdf"]) == 0
    told = capsys.readouterr().out
    said = [line for line in told.splitlines() if line.startswith("to be taken off: ")]
    assert off in (said[0] if said else "")
    assert bool(said) is bool(off)
    assert main(["compare", "old.rig", "new.rig", "--format", "json"]) == 0
    again = json.loads(capsys.readouterr().out)
    for one in again["tags_off"]:
        assert one["now"] is None or one["now"] in again["print_again"]["tags"]


@pytest.mark.parametrize("name", ["B1-/N1", "n1/b1-", "B1- to N1", "N1 to B1−", "wire N1/B1-"])
@pytest.mark.usefixtures("versions")
def test_a_wire_is_found_by_its_ends_in_either_order(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["isolate", "new.rig", name]) == 0
    assert capsys.readouterr().out.startswith("How to make B1-/N1 dead")
    assert main(["short", "new.rig", name]) == 0
    assert main(["wirelist", "new.rig", "--only", name, "-o", "list.pdf"]) == 0
