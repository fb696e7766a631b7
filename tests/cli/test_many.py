"""Folders of rigs: which files are rigs, one answer in the order of the files, one summary."""

import json
import os
import re
import shutil
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, FAULTY, RIGS, environment
from helpers.plover import PLOVER
from rigfolio.cli.entry import main
from rigfolio.judgement import folders, many
from rigfolio.judgement.folders import rig_files
from rigfolio.refusal import RefusalError

FINE = PLOVER.replace("fuse 20 A", "fuse 7.5 A")


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    there = tmp_path / "rigs"
    there.mkdir()
    monkeypatch.chdir(there)
    return there


def said(capsys, *words):
    code = main(list(words))
    told = capsys.readouterr()
    return code, told.out, told.err


def test_rigs_of_a_folder_are_found_and_parts_are_not(folder):
    shutil.copytree(EXAMPLES, folder, dirs_exist_ok=True)
    for hidden in (".git/old.rig", ".kept.rig"):
        (folder / hidden).parent.mkdir(exist_ok=True)
        (folder / hidden).write_text(FINE)
    (folder / "notes.txt").write_text(FINE)
    names = {file.name for file in (*RIGS, *FAULTY)}
    assert [Path(name).name for name in rig_files(["."]) if Path(name).name not in names] == []
    assert len(rig_files(["."])) == len(names)
    assert rig_files(["faulty", "faulty", "heron-van.rig", "heron-van.rig"]) == (
        *(f"faulty/{file.name}" for file in FAULTY), "heron-van.rig",
    )  # fmt: skip


def test_figures_in_names_are_counted(folder):
    for number in (10, 9, 1):
        (folder / f"unit-{number}.rig").write_text(FINE)
    assert rig_files([str(folder)]) == tuple(str(folder / f"unit-{n}.rig") for n in (1, 9, 10))


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
def test_a_link_to_a_folder_is_not_followed(folder):
    (folder / "a.rig").write_text(FINE)
    (folder / "again").symlink_to(folder, target_is_directory=True)
    assert rig_files(["."]) == ("a.rig",)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes in folders here")
def test_a_pipe_that_nobody_writes_to_is_told_and_not_waited_for(folder):
    (folder / "a.rig").write_text(FINE)
    os.mkfifo(folder / "p.rig")
    done = subprocess.run(
        [sys.executable, "-m", "rigfolio", "check", "."],
        env=environment(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert "`p.rig` cannot be read: it is not a plain file" in done.stderr


def test_no_more_folders_are_looked_through_than_anybody_keeps_rigs_in(folder, monkeypatch):
    for name in "abc":
        (folder / name).mkdir()
        (folder / name / "one.rig").write_text(FINE)
    monkeypatch.setattr(folders, "MOST_FOLDERS", 4)
    assert len(rig_files(["."])) == 3
    (folder / "d").mkdir()
    with pytest.raises(RefusalError, match="more than 4 folders"):
        rig_files(["."])


def test_a_folder_without_rigs_is_refused(folder, capsys):
    (folder / "empty").mkdir()
    with pytest.raises(RefusalError, match="no rig file lies in"):
        rig_files(["empty"])
    code, out, err = said(capsys, "check", "empty")
    assert (code, out) == (2, "")
    assert "error[folder-empty]" in err


@pytest.mark.parametrize("options", [[], ["--summary"], ["--format", "lines"]], ids=" ".join)
def test_a_folder_says_what_its_files_say(options, folder, capsys):
    shutil.copytree(EXAMPLES / "faulty", folder, dirs_exist_ok=True)
    (folder / "fine.rig").write_text(FINE)
    code, out, err = said(capsys, "check", ".", *options)
    assert (code, err) == (1, "")
    listed, together, _ = said(capsys, "check", *rig_files(["."]), *options)
    assert listed == code
    without = [line for line in out.splitlines() if not re.match(r"\d+ rigs: ", line)]
    quiet = [line for line in together.splitlines() if not line.startswith("fine.rig: no")]
    assert [line for line in without if line] == [line for line in quiet if line]
    kept = said(capsys, "check", ".", *options)
    assert kept == (code, out, err)


def test_one_line_counts_all_rigs(folder, capsys):
    for number in range(20):
        (folder / f"{number}.rig").write_text(PLOVER if number == 3 else FINE)
    (folder / "broken.rig").write_text(FINE.replace("2 A", "2 lamps"))
    code, out, err = said(capsys, "check", ".")
    assert code == 2
    assert "21 rigs: 1 error, 1 danger in 2 of them; 1 not understood\n" in out
    assert out.count("licensed practice") == 1
    assert "7.rig" not in out
    assert err.startswith("error[")
    Path("broken.rig").unlink()
    Path("3.rig").unlink()
    code, out, err = said(capsys, "check", ".")
    assert (code, err) == (0, "")
    assert out.startswith("19 rigs: no findings\n")


def test_json_of_a_folder_is_that_of_its_files(folder, capsys, monkeypatch):
    shutil.copytree(EXAMPLES / "faulty", folder, dirs_exist_ok=True)
    _, out, _ = said(capsys, "check", ".", "--format", "json")
    whole = json.loads(out)
    one_by_one = []
    for file in rig_files(["."]):
        _, out, _ = said(capsys, "check", file, "--format", "json")
        one_by_one += json.loads(out)["files"]
    assert whole["files"] == one_by_one
    assert whole["exit"] == max(one["exit"] for one in one_by_one)


def test_processors_change_nothing(folder, capsys, monkeypatch):
    shutil.copytree(EXAMPLES / "faulty", folder, dirs_exist_ok=True)
    told = []
    for processors in (1, 2, 3):
        monkeypatch.setenv("XDG_CACHE_HOME", str(folder.parent / str(processors)))
        monkeypatch.setattr(many.os, "cpu_count", lambda count=processors: count)
        told.append(said(capsys, "check", "."))
    assert told == told[:1] * 3


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no terminal to be had here")
def test_a_bar_is_for_a_terminal_alone(folder):
    for number in range(40):
        (folder / f"{number}.rig").write_text(PLOVER if number == 39 else FINE)
    typed = [sys.executable, "-m", "rigfolio", "check", ".", "--format", "lines"]
    surroundings = environment(XDG_CACHE_HOME=str(folder.parent / "cache"), TERM="xterm")
    plain = subprocess.run(typed, env=surroundings, capture_output=True, check=False)
    assert (plain.returncode, plain.stderr) == (1, b"")
    termios = pytest.importorskip("termios")
    reader, writer = os.openpty()
    termios.tcsetwinsize(writer, (24, 80))
    shown = subprocess.run(
        typed, env=surroundings, stdout=subprocess.PIPE, stderr=writer, check=False
    )
    os.close(writer)
    bar = b""
    with suppress(OSError):
        # The end of a terminal that nobody writes to any more is an error on some systems.
        while more := os.read(reader, 4096):
            bar += more
    os.close(reader)
    assert shown.stdout == plain.stdout
    assert b"/40" in bar
    assert b"rigs" in bar


def test_a_folio_of_each_rig_goes_where_its_file_lies(folder, capsys, tmp_path):
    (folder / "north").mkdir()
    for name in ("a.rig", "north/a.rig"):
        (folder / name).write_text(FINE)
    (folder / "broken.rig").write_text(FINE.replace("2 A", "2 lamps"))
    sheets = ["--sheets", "panel-directory"]
    code, out, err = said(capsys, "folio", ".", "-o", str(tmp_path / "made"), *sheets)
    assert code == 2
    made = sorted(str(path.relative_to(tmp_path)) for path in (tmp_path / "made").rglob("*.pdf"))
    assert made == ["made/a/panel-directory.pdf", "made/north/a/panel-directory.pdf"]
    assert [Path(line) for line in out.splitlines()] == [tmp_path / name for name in made]
    assert "3 rigs: 2 printed, 1 not\n" in err
    assert err.count("licensed practice") == 1
    alone = tmp_path / "alone"
    assert main(["folio", "a.rig", "-o", f"{alone}/", *sheets]) == 0
    capsys.readouterr()
    first, second = (path / "panel-directory.pdf" for path in (alone, tmp_path / "made" / "a"))
    assert first.read_bytes() == second.read_bytes()


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["a.rig", "b.rig", "-o", "x.pdf"], "`x.pdf` is one file, and there are 2"),
        (["a.rig", "b.rig", "--since", "c.rig"], "`--since` compares one rig"),
        (["a.rig", "-"], "`-` is one rig"),
    ],
)
def test_what_is_for_one_rig_is_refused_for_several(words, why, folder, capsys):
    for name in ("a.rig", "b.rig", "c.rig"):
        (folder / name).write_text(FINE)
    code, _, err = said(capsys, "folio", *words)
    assert code == 2
    assert why in err
    assert not list(folder.rglob("*.pdf"))
