"""What every answering command prints of every example, to the character, as text and as JSON.

A golden is a printout: what was typed, what came (lines of the error stream behind `!`), and the
exit code. `pytest tests/printed --bless` writes them anew. The commands run in a folder that holds
a copy of the examples, so that no path and no file of the machine shows in what they print.
"""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest

from helpers.forgotten import cache
from printed.printouts import (
    BROKEN,
    EDITS,
    EXAMPLES,
    GIVEN,
    HOME,
    RIGS,
    Printout,
    printouts,
    shown,
)
from rigfolio import folio, judgement
from rigfolio.answers import diagnose as diagnosing
from rigfolio.cli import main
from rigfolio.cli.registry import command_names, parser
from rigfolio.folio import versions as comparing
from rigfolio.judgement import result as app
from rigfolio.model import Reading
from rigfolio.study import Study

GOLDENS = Path(__file__).parent / "goldens"
ALL = {each.name: each for each in printouts()}
COLUMNS = "100"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the examples, their logs, a second version of each, and filled tables."""
    folder = tmp_path_factory.mktemp("bench")
    for name in ("examples", "edited"):
        shutil.copytree(EXAMPLES, folder / name)
    shutil.copytree(GIVEN, folder / "given")
    shutil.copyfile(BROKEN, folder / "broken.rig")
    for rig in RIGS:
        log = f"{rig}-log.txt"
        shutil.copyfile(GIVEN / log, folder / "examples" / log)
        file = folder / "edited" / f"{rig}.rig"
        text = file.read_text(encoding="utf-8")
        for old, new in EDITS[rig]:
            assert old in text
            text = text.replace(old, new)
        file.write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def once() -> tuple[Callable[..., object], ...]:
    """What lines and JSON share, each done once: reading, judging, comparing, finding a fault."""
    compared, diagnose = comparing.compared, diagnosing.diagnose
    kept: dict[tuple[str, str], object] = {}
    found: dict[object, tuple[Study, object]] = {}

    def done_once(read: Callable[..., app.Result]) -> Callable[..., app.Result]:
        of_file = cache(read)

        def asked(
            file: str,
            book: str = "",
            *,
            text: str | None = None,
            instead: Mapping[str, str] | None = None,
        ) -> app.Result:
            # A text with an edit on trial is read once anyway.
            return (
                of_file(file, book)
                if text is None
                else read(file, book, text=text, instead=instead)
            )

        return asked

    def compared_once(old: app.Result, new: app.Result) -> object:
        key = (old.file, new.file)
        if key not in kept:
            kept[key] = compared(old, new)
        return kept[key]

    def diagnose_once(study: Study, readings: Sequence[Reading]) -> object:
        key = (id(study), tuple(readings))
        if key not in found:
            found[key] = study, diagnose(study, readings)
        return found[key][1]

    return done_once(app.check), done_once(app.understood), compared_once, diagnose_once


@pytest.fixture
def run(
    bench: Path,
    once: tuple[Callable[..., object], ...],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> Callable[[Printout], str]:
    """Runs the commands of a golden one after another and gives all that was printed."""
    monkeypatch.chdir(bench)
    monkeypatch.setenv("COLUMNS", COLUMNS)
    # Where it is, and where a command finds it once anybody has asked the face of the package.
    for module in (app, judgement):
        monkeypatch.setattr(module, "check", once[0])
        monkeypatch.setattr(module, "understood", once[1])
    monkeypatch.setattr(comparing, "read", once[1])
    for module in (comparing, folio):
        monkeypatch.setattr(module, "compared", once[2])
    monkeypatch.setattr(diagnosing, "diagnose", once[3])

    def printed(asked: Printout) -> str:
        said = []
        for command in asked.commands:
            code = main(command)
            said.append(shown(command, code, *capsys.readouterr()))
        return "\n".join(said)

    return printed


def _marked(name: str) -> object:
    # Which sheets are to be printed again is told from their pages, the schematic's among them.
    return pytest.param(name, marks=pytest.mark.dot) if "/compare" in name else name


@pytest.mark.parametrize("name", [_marked(name) for name in ALL])
def test_what_is_printed(name: str, run: Callable[[Printout], str], bless: bool) -> None:
    said = run(ALL[name])
    golden = GOLDENS / f"{name}.txt"
    if bless:
        golden.parent.mkdir(parents=True, exist_ok=True)
        golden.write_text(said, encoding="utf-8", newline="")
    assert said == golden.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", [name for name, each in ALL.items() if each.is_json])
def test_json_can_be_read(name: str) -> None:
    for said in (GOLDENS / f"{name}.txt").read_text(encoding="utf-8").split("\n\n$ "):
        body = said.partition("\n")[2].rpartition("\nexit ")[0]
        assert json.loads(body)


def test_no_golden_that_nothing_prints() -> None:
    there = {file.relative_to(GOLDENS).with_suffix("").as_posix() for file in GOLDENS.rglob("*.*")}
    assert there == set(ALL)


@pytest.mark.parametrize("rig", RIGS)
def test_every_command_that_answers_as_json_is_among_them(rig: str) -> None:
    answering = {
        name
        for name in command_names()
        for action in parser(name)._actions
        if action.dest == "format" and "json" in (action.choices or ())
    }
    asked = {each.commands[0][0] for name, each in ALL.items()
             if name.startswith(f"{rig}/") and each.is_json}  # fmt: skip
    # What a page is told is held to its schema, beside the page.
    assert asked == answering - {"page"}
    assert len(answering) > 5


def test_a_process_of_its_own_prints_the_same(bench: Path) -> None:
    """The installed way in, under a hash seed of its own."""
    asked = ALL["marsh-wren-17/demand-json"]
    settings = {"PYTHONPATH": str(HOME / "src"), "PYTHONHASHSEED": "7", "COLUMNS": COLUMNS}
    done = subprocess.run(
        [sys.executable, "-m", "rigfolio", *asked.commands[0]],
        cwd=bench,
        env={**os.environ, **settings},
        capture_output=True,
        check=False,
    )
    said = shown(asked.commands[0], done.returncode, done.stdout.decode(), done.stderr.decode())
    assert said == (GOLDENS / f"{asked.name}.txt").read_text(encoding="utf-8")
