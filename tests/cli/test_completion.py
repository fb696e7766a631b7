"""What is printed for shells: every command and option in it, and a shell that completes by it."""

import shutil
import subprocess

import pytest

from rigfolio.books.loader import book_names
from rigfolio.cli import registry
from rigfolio.cli.commands.completion import SHELLS
from rigfolio.cli.entry import main
from rigfolio.manual.reference import reference_words
from rigfolio.rule import rule_names
from rigfolio.sheet import sheet_facts, sheet_names


@pytest.fixture
def script(capsys):
    def made(shell):
        assert main(["completion", shell]) == 0
        return capsys.readouterr().out

    return made


@pytest.mark.parametrize("shell", SHELLS)
def test_it_holds_every_command_and_option(shell, script):
    text = script(shell)
    for name in registry.command_names():
        assert name in text
        for action in registry.parser(name)._actions:
            for option in action.option_strings:
                # Fish is told the name of an option without its dashes.
                assert (option.lstrip("-") if shell == "fish" else option) in text


@pytest.mark.parametrize("shell", SHELLS)
def test_it_holds_words_rules_books_and_sheets(shell, script):
    text = script(shell)
    words = [word for word in reference_words() if " " not in word]
    sheets = [sheet_facts(name).file for name in sheet_names()]
    named = (*words, *rule_names(), *book_names(), *sheets)
    assert [word for word in named if word not in text] == []


@pytest.fixture
def bash(script, tmp_path):
    """What bash offers for the words of a line, the last of which is being typed."""
    program = shutil.which("bash")
    if program is None:
        pytest.skip("no bash here")
    (tmp_path / "my.rig").write_text("")
    (tmp_path / "rigfolio.bash").write_text(script("bash"))

    def offered(*words):
        typed = " ".join(f"'{word}'" for word in words)
        code = (
            f"source ./rigfolio.bash; COMP_WORDS=({typed}); COMP_CWORD={len(words) - 1};"
            "_shtab_rigfolio; printf '%s\\n' \"${COMPREPLY[@]}\""
        )
        done = subprocess.run(
            [program, "--norc", "-c", code], cwd=tmp_path, capture_output=True, text=True,
            check=True,
        )  # fmt: skip
        return set(done.stdout.split())

    return offered


def test_bash_completes_commands_options_and_names(bash):
    assert bash("rigfolio", "di") == {"diagnose", "directory"}
    assert bash("rigfolio", "check", "--f") == {"--format", "--fail-on", "--fix"}
    assert bash("rigfolio", "check", "--format", "s") == {"sarif"}
    assert bash("rigfolio", "explain", "fuse-over-w") == {"fuse-over-wire"}
    assert bash("rigfolio", "check", "my.rig", "--rules", "b") == {"boat"}
    assert bash("rigfolio", "folio", "my.rig", "--sheets", "wire-") == {"wire-list", "wire-tags"}
    assert "wire" in bash("rigfolio", "help", "wir")
    assert bash("rigfolio", "check", "my") == {"my.rig"}


def test_another_shell_is_not_known(capsys):
    assert main(["completion", "abacus"]) == 2
    assert "abacus" in capsys.readouterr().err
