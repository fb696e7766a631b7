"""What works without the libraries that only drawings, prints and editors need, and what is said.

The answers at the panel are to run where nothing but lark can be had, such as in a browser.
"""

import os
import re
import shutil
import subprocess
import sys

import pytest

from helpers.apart import apart
from helpers.goldens import COLUMNS, kept
from helpers.home import EXAMPLES, HOME, RIGS, environment
from printed.printouts import shown
from rigfolio.cli import registry
from rigfolio.cli.entry import main
from rigfolio.cli.missing import _EXTRAS, _NEEDED

ALL = sorted({*_EXTRAS, *_NEEDED} - {"lark"})
PANEL = ("check", "live", "demand", "size", "isolate", "short", "diagnose")
"""The answers at the panel, whose goldens say what is printed where there is all."""


@pytest.fixture(scope="module")
def bare(tmp_path_factory):
    """Processes without those libraries and without any program."""
    empty = tmp_path_factory.mktemp("no-programs")
    with apart(ALL, PATH=str(empty), COLUMNS=COLUMNS) as processes:
        yield processes


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    there = tmp_path_factory.mktemp("rigs")
    shutil.copytree(EXAMPLES, there / "examples")
    return there


@pytest.mark.parametrize("stem", [file.stem for file in RIGS])
def test_the_answers_at_the_panel_need_nothing_but_lark(stem, folder, bare, monkeypatch, capsys):
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", COLUMNS)
    wanted = dict(kept(stem, *PANEL))
    for more in (["--format", "sarif"], ["--fix"]):
        words = ("check", f"examples/{stem}.rig", *more)
        wanted[words] = shown(words, main(words), *capsys.readouterr())
    without = bare.run_all(folder, list(wanted))
    for (words, printed), said in zip(wanted.items(), without, strict=True):
        assert said.code in (0, 1)
        assert shown(words, said.code, said.out, said.err) == printed


SENT = {"editor": ["editor"], "extract": ["extract", "x.pdf"], "new": ["new", "van", "made.rig"]}
"""How commands are tried of which the first example does not do here."""


@pytest.mark.parametrize("name", registry.command_names())
def test_a_missing_library_is_named_and_never_called_a_bug(name, bare, tmp_path):
    shutil.copytree(EXAMPLES, tmp_path, dirs_exist_ok=True)
    shutil.copy(EXAMPLES / "marsh-wren-17.rig", tmp_path / "my.rig")
    shutil.copy(EXAMPLES / "marsh-wren-17.rig", tmp_path / "as-found.rig")
    (tmp_path / "x.pdf").write_bytes(b"%PDF-1.7\n")
    words = SENT.get(name) or registry.facts(name).examples[-1].split()
    words = [word for word in words if "HEAD" not in word and word != "--since"]
    done = bare.run(tmp_path, words)
    assert done.code in (0, 1, 2), done.err
    assert "bug" not in done.err
    if "is not installed" in done.err:
        assert done.code == 2
        assert re.search(r"fix: .*pip install", done.err)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("library", ALL)
def test_how_to_get_a_library_is_how_pip_is_asked_for_it(library):
    settings = (HOME / "pyproject.toml").read_text("utf-8")
    if library in _EXTRAS:
        listed = settings.split(f"\n{_EXTRAS[library][1]} = [")[1].split("]")[0]
        assert {"lsprotocol": "pygls"}.get(library, library).replace("_", "-") in listed
    else:
        needed = settings.split("\ndependencies = [")[1].split("\n]")[0]
        assert f'"{_NEEDED[library][1]}>=' in needed


def test_every_library_that_is_asked_for_is_known():
    needed = (HOME / "pyproject.toml").read_text("utf-8").split("\ndependencies = [")[1]
    names = set(re.findall(r'"([a-z0-9-]+)>=', needed.split("\n]")[0]))
    assert names == {name for _, name in _NEEDED.values()}


def test_a_module_of_ours_that_is_missing_is_a_bug(folder):
    code = "import sys; sys.modules['rigfolio.answers.isolate'] = None\n"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}from rigfolio.cli import main\n"
         "sys.exit(main(['live', 'marsh-wren-17.rig']))"],
        cwd=folder / "examples", env={**os.environ, **environment()}, capture_output=True,
        text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 3
    assert "rigfolio has a bug" in done.stderr
