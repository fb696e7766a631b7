"""What works without the libraries that only drawings, prints and editors need, and what is said.

The answers at the panel are to run where nothing but lark can be had, such as in a browser.
"""

import json
import os
import re
import shutil
import subprocess
import sys

import pytest

from helpers.home import EXAMPLES, HOME, RIGS, environment
from rigfolio.cli import registry
from rigfolio.cli.entry import main
from rigfolio.cli.missing import _EXTRAS, _NEEDED

HIDER = """
import sys, os
hidden = set(os.environ["HIDDEN"].split())

class Hider:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in hidden:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)

sys.meta_path.insert(0, Hider())
from rigfolio.cli import main
"""
ONE = f"""{HIDER}
code = main(sys.argv[1:])
assert not {{name.partition(".")[0] for name in sys.modules}} & hidden
sys.stdout.flush()
os._exit(code)
"""
SEVERAL = f"""{HIDER}
import contextlib, io, json
told = []
for words in json.loads(sys.argv[1]):
    with contextlib.redirect_stdout(io.StringIO()) as out, contextlib.redirect_stderr(out):
        told.append((main(words), out.getvalue()))
assert not {{name.partition(".")[0] for name in sys.modules}} & hidden
print(json.dumps(told))
"""
ALL = sorted({*_EXTRAS, *_NEEDED} - {"lark"})
PLACES = {"heron-van": "P1.4", "kittiwake-30": "N2", "lapwing-cabin": "D1", "marsh-wren-17": "C1"}


def run(folder, words, hidden, how=ONE):
    """A process of its own without some libraries and without any program: one command."""
    bare = folder / "no-programs"
    bare.mkdir(exist_ok=True)
    surroundings = environment(
        HIDDEN=" ".join(hidden), PYTHONIOENCODING="utf-8", PATH=str(bare), NO_COLOR="1"
    )
    return subprocess.run(
        [sys.executable, "-c", how, *words], cwd=folder, env=surroundings, check=False,
        capture_output=True, encoding="utf-8", stdin=subprocess.DEVNULL,
    )  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    there = tmp_path_factory.mktemp("rigs")
    shutil.copytree(EXAMPLES, there, dirs_exist_ok=True)
    return there


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_answers_at_the_panel_need_nothing_but_lark(file, folder, monkeypatch, capsys):
    monkeypatch.chdir(folder)
    name, place = file.name, PLACES[file.stem]
    commands = [
        ["check", name], ["check", name, "--format", "sarif"], ["check", name, "--fix"],
        ["live", name], ["isolate", name, place], ["demand", name], ["size", name],
        ["short", name, place], ["diagnose", name, "P1.1 = 11.2 V"],
    ]  # fmt: skip
    without = run(folder, [json.dumps(commands)], ALL, SEVERAL)
    assert not without.stderr
    for words, (code, told) in zip(commands, json.loads(without.stdout), strict=True):
        assert code in (0, 1)
        assert main(words) == code
        streams = capsys.readouterr()
        assert streams.out + streams.err == told


SENT = {"editor": ["editor"], "extract": ["extract", "x.pdf"], "new": ["new", "van", "made.rig"]}
"""How commands are tried of which the first example does not do here."""


@pytest.mark.parametrize("name", registry.command_names())
def test_a_missing_library_is_named_and_never_called_a_bug(name, folder, tmp_path):
    shutil.copytree(folder, tmp_path, dirs_exist_ok=True)
    shutil.copy(EXAMPLES / "marsh-wren-17.rig", tmp_path / "my.rig")
    shutil.copy(EXAMPLES / "marsh-wren-17.rig", tmp_path / "as-found.rig")
    (tmp_path / "x.pdf").write_bytes(b"%PDF-1.7\n")
    words = SENT.get(name) or registry.facts(name).examples[-1].split()
    words = [word for word in words if "HEAD" not in word and word != "--since"]
    done = run(tmp_path, words, ALL)
    assert done.returncode in (0, 1, 2), done.stderr
    assert "bug" not in done.stderr
    if "is not installed" in done.stderr:
        assert done.returncode == 2
        assert re.search(r"fix: .*pip install", done.stderr)
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
        cwd=folder, env={**os.environ, **environment()}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert done.returncode == 3
    assert "rigfolio has a bug" in done.stderr
