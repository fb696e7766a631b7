"""Help from the program itself: the page of a word, a rule, a command; examples that run."""

import io
import json
import os
import shlex
import shutil
import subprocess
import sys
import tomllib
from contextlib import redirect_stderr, redirect_stdout

import pytest

from helpers.home import EXAMPLES, HOME
from helpers.short_wren import SHORT_WREN
from rigfolio.cli import registry
from rigfolio.cli.entry import main
from rigfolio.reading.text import words
from rigfolio.rule import rule_names


@pytest.mark.parametrize("word", words())
def test_every_word_has_its_section(word, capsys):
    assert main(["help", word]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"{word}\n\n")
    assert "    " in said, "its example is set in"
    assert "```" not in said
    assert "](#" not in said


@pytest.mark.parametrize("name", rule_names())
def test_every_rule_has_its_page(name, capsys):
    assert main(["help", name]) == 0
    asked = capsys.readouterr().out
    assert main(["explain", name]) == 0
    assert capsys.readouterr().out in asked


@pytest.mark.parametrize("name", registry.command_names())
def test_every_command_has_its_page_with_two_examples(name, capsys):
    assert main(["help", name]) == 0
    asked = capsys.readouterr().out
    assert f"usage: rigfolio {name}" in asked
    assert main([name, "--help"]) == 0
    shown = capsys.readouterr().out
    assert shown in asked
    examples = registry.facts(name).examples
    takes_more = len(registry.parser(name)._actions) > 1
    assert len(examples) >= (2 if takes_more else 1)
    for example in examples:
        assert f"\n  rigfolio {example}\n" in shown


def test_a_word_that_is_a_command_too_has_both(capsys):
    main(["help", "photo"])
    said = capsys.readouterr().out
    assert "mark <thing>" in said
    assert "usage: rigfolio photo" in said


@pytest.mark.parametrize(
    ("asked", "heading", "part"),
    [
        ("tail", "Any conductor:", "`tail <length>`"),
        ("pitch", "panel:", "`pitch <length>`"),
        ("always on", "load:", "it must not lose its source"),
        ("<torque>", "Values:", "`6 Nm`"),
        ("ANY PART", "Any part\n", "`stud <stud>`"),
    ],
)
def test_a_fact_is_found_where_it_is_said(asked, heading, part, capsys):
    assert main(["help", *asked.split()]) == 0
    said = capsys.readouterr().out
    assert heading in said
    assert part in said


def test_what_is_not_known_has_a_nearest(capsys):
    assert main(["help", "wir"]) == 2
    said = capsys.readouterr().err
    assert "nothing is said of `wir`" in said
    assert "the nearest is `wire`" in said


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("converter", "`charger` (fed by the mains), `dc-dc` (from one battery voltage to another) "
         "or `inverter` (from the battery to mains voltage)"),
        ("solar panel", "the word for it is `array`"),
        ("isolators", "`disconnect` (of a battery or of all)"),
        ("glow", "as in `starts at 7 times for 3 min`"),
        ("hot", "why it is, `rigfolio diagnose` looks for"),
        ("handed", "`rigfolio help` lists what there is"),
    ],
)  # fmt: skip
def test_a_word_of_the_trade_leads_to_that_of_the_language(word, said, capsys):
    assert main(["help", *word.split()]) == 2
    assert said in capsys.readouterr().err


def test_how_a_reading_is_written_is_told_with_what_was_on(capsys):
    assert main(["help", "readings"]) == 0
    assert "with Pump starting, in shore, S1 open" in capsys.readouterr().out


def test_without_a_word_all_is_listed(capsys):
    assert main(["help"]) == 0
    said = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    for name in (*words(), *rule_names(), *registry.command_names(), "A fuse within a line"):
        assert name in said


def test_help_works_from_what_is_installed(tmp_path):
    # The folders and files that pip takes, as pyproject.toml names them, and nothing else.
    settings = tomllib.loads((HOME / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]
    data = settings["package-data"]
    for package in settings["packages"]:
        mapped = settings["package-dir"].get(package)
        below = package.removeprefix("rigfolio").replace(".", "/").strip("/")
        source = HOME / (mapped or f"src/rigfolio/{below}")
        target = tmp_path / "site" / package.replace(".", "/")
        target.mkdir(parents=True, exist_ok=True)
        for pattern in ("*.py", *data.get(package, [])):
            for file in source.glob(pattern):
                place = target / file.relative_to(source)
                place.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy(file, place)
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    for asked, part in (("wire", "cranking"), ("fuse-over-wire", "severity"), ("check", "usage:")):
        done = subprocess.run(
            [sys.executable, "-m", "rigfolio", "help", asked],
            cwd=folder, capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONPATH": str(tmp_path / "site")},
        )  # fmt: skip
        assert part in done.stdout


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    """A folder under version control with what the examples of the commands name."""
    folder = tmp_path_factory.mktemp("rigs")

    def git(*rest):
        who = ("-c", "user.name=Nobody", "-c", "user.email=nobody@example.org")
        subprocess.run(["git", *who, *rest], cwd=folder, check=True, capture_output=True)

    wren = SHORT_WREN
    shutil.copy(EXAMPLES / "heron-van" / "panel-before.jpg", folder / "before.jpg")
    wren += 'photo "before.jpg"\n    mark P1.3 at 41 % 23 %\n'
    (folder / "my.rig").write_text(wren.replace("fuse 7.5 A", "fuse 5 A", 1), "utf-8")
    git("init", "-q", "--template=")
    git("add", ".")
    git("commit", "-qm", "as found")
    git("commit", "-qm", "looked at again", "--allow-empty")
    git("commit", "-qm", "and once more", "--allow-empty")
    shutil.copy(folder / "my.rig", folder / "as-found.rig")
    (folder / "my.rig").write_text(wren, "utf-8")
    (folder / "other.rig").write_text(wren, "utf-8")
    git("add", "my.rig")
    git("commit", "-qm", "as it is to be")
    (folder / "survey.csv").write_text("place,colour\nP1.7,pink\n", "utf-8")
    (folder / "test-sheet.csv").write_text("P1.3 = 12.4 V\n", "utf-8")
    said = io.StringIO()
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(said), redirect_stderr(said):
        patch.chdir(folder)
        assert main(["folio", "my.rig", "-o", "folio.pdf"]) in (0, 1)
    return folder


EVERY = [
    (name, example)
    for name in registry.command_names()
    for example in registry.facts(name).examples
]


@pytest.mark.parametrize(("name", "example"), EVERY, ids=[example for _, example in EVERY])
def test_every_example_runs(name, example, bench, tmp_path, monkeypatch, capsys):
    folder = tmp_path / "rigs"
    shutil.copytree(bench, folder)
    if name in ("new", "extract"):
        (folder / "my.rig").unlink()
    if "." in example.split():
        # Two rigs are a folder of rigs.
        (folder / "as-found.rig").unlink()
    monkeypatch.chdir(folder)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO()))
    code = main(shlex.split(example))
    told = capsys.readouterr()
    assert code in (0, 1), told.err
    # What an editor says to a program is said by itself; nobody said anything here.
    assert told.out.strip() or name == "editor"
    if example.endswith("--format json"):
        assert json.loads(told.out)


def test_a_gitignore_comes_with_the_first_rig_alone(tmp_path, capsys):
    first = tmp_path / "rigs"
    first.mkdir()
    assert main(["new", "van", str(first / "one.rig")]) == 0
    kept = (first / ".gitignore").read_text("utf-8")
    assert kept.splitlines()[-1] == "out/"
    (first / ".gitignore").unlink()
    assert main(["new", "van", str(first / "two.rig")]) == 0
    assert not (first / ".gitignore").exists()
    other = tmp_path / "other"
    other.mkdir()
    (other / ".gitignore").write_text("*.bak\n", "utf-8")
    assert main(["new", "van", str(other / "one.rig")]) == 0
    assert (other / ".gitignore").read_text("utf-8") == "*.bak\n"
    capsys.readouterr()


@pytest.mark.parametrize("written", ["purple", "violet", "VT", "`Purple`"])
def test_a_colour_is_found_by_every_word_for_it(written, capsys):
    assert main(["help", written]) == 0
    said = capsys.readouterr().out
    assert "written `violet`, `purple`, `VT`; printed `violet`, VT in IEC 60757" in said


def test_several_words_have_several_pages(capsys):
    pages = []
    for word in ("wire", "fuse-over-wire", "log"):
        assert main(["help", word]) == 0
        pages.append(capsys.readouterr().out)
    assert main(["help", "wire", "fuse-over-wire", "log", "wire"]) == 0
    assert capsys.readouterr().out == "\n".join(pages)
    # One of them without a page: it is named, and nothing is printed.
    assert main(["help", "wire", "wibble"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "nothing is said of `wibble`" in said.err
