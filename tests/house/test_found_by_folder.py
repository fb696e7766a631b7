"""Commands and sheets state their own facts, and nothing else lists them."""

import shlex
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from helpers.home import HOME
from rigfolio import sheet
from rigfolio.cli import registry

SHEETS = sheet.sheet_names()


@pytest.mark.parametrize("name", registry.command_names())
def test_examples_of_a_command_are_understood(name: str) -> None:
    examples = registry.facts(name).examples
    assert examples
    for example in examples:
        first, *rest = shlex.split(example)
        assert first == name
        assert registry.parser(name).parse_intermixed_args(rest).command == name


def test_every_command_belongs_to_a_step_of_the_job() -> None:
    placed = [name for _, names in registry.by_step() for name in names]
    assert sorted(placed) == list(registry.command_names())
    assert [step for step, _ in registry.by_step()] == list(registry.STEPS)


@pytest.mark.parametrize("word", ["", "..", "../entry", "__init__", "chek", "check.py", "Check"])
def test_no_other_word_is_a_command(word: str) -> None:
    assert not registry.is_command(word)


def test_a_command_imports_no_other_and_no_sheet(tmp_path: Path) -> None:
    code = (
        "import sys; from rigfolio.cli import main; main(['check', sys.argv[1]]);"
        "print([m for m in sys.modules if m.startswith(('rigfolio.cli.commands.',"
        " 'rigfolio.sheet', 'rigfolio.folio'))])"
    )
    rig = str(HOME / "examples" / "marsh-wren-17.rig")
    done = subprocess.run(
        [sys.executable, "-c", code, rig], capture_output=True, check=True, cwd=tmp_path
    )
    assert done.stdout.decode().splitlines()[-1] == "['rigfolio.cli.commands.check']"


@pytest.mark.parametrize("name", SHEETS)
def test_facts_that_are_read_are_those_that_hold(name: str) -> None:
    assert sheet.sheet_facts(name) == import_module(f"rigfolio.sheets.{name}").SHEET


def test_no_two_sheets_claim_one_place_title_or_file() -> None:
    facts = [sheet.sheet_facts(name) for name in SHEETS]
    places = [(each.binder, each.bound) for each in facts if each.bound]
    printed = [(each.command, each.form) for each in facts if each.command]
    for claimed in (places, printed, [each.title for each in facts], [each.file for each in facts]):
        assert len(claimed) > 10
        assert len(set(claimed)) == len(claimed)


def test_what_prints_a_sheet_is_a_command() -> None:
    named = {sheet.sheet_facts(name).command for name in SHEETS} - {""}
    assert named <= set(registry.command_names())


def test_a_sheet_that_states_nothing_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "bare.py").write_text('"""A sheet."""\n', encoding="utf-8")
    monkeypatch.setattr(sheet, "_FOLDER", tmp_path)
    sheet.sheet_facts.cache_clear()
    with pytest.raises(ValueError, match="states no `SHEET`"):
        sheet.sheet_facts("bare")
    sheet.sheet_facts.cache_clear()
