"""Every block of every page of the docs is run, or held against what it shows.

A block that no test knows fails here, so that none can go stale unseen.
"""

import ast
import doctest
import re
import shlex
import tomllib
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, HOME
from rigfolio.cli import registry
from rigfolio.cli.entry import main

PAGES = (HOME / "README.md", HOME / "DEVELOPERS.md", *sorted((HOME / "grammar").glob("*.md")))
BLOCK = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SETTINGS = tomllib.loads((HOME / "pyproject.toml").read_text(encoding="utf-8"))


def kind_of(page: Path, name: str, text: str) -> str:
    """What a block is, by what it holds; empty where nobody knows it."""
    if name.startswith("rig"):
        # A test of the reference reads these; that of the README stands in the first hour.
        return "rig" if page.name in ("REFERENCE.md", "README.md") else ""
    if text.startswith("$ rigfolio "):
        return "hour" if page.name == "README.md" else ""
    if text.startswith("#= "):
        return "case"
    if text.startswith("grammar/ "):
        return "tree"
    if name == "python":
        return "python"
    if text.startswith(("python3 -m venv", "pip install")):
        return "shell"
    return ""


BLOCKS = [
    (page, name, text, kind_of(page, name, text))
    for page in PAGES
    for name, text in BLOCK.findall(page.read_text(encoding="utf-8"))
]


def of_kind(kind: str) -> list[tuple[Path, str]]:
    return [(page, text) for page, _, text, found in BLOCKS if found == kind]


def test_every_block_is_of_a_kind_that_is_tried() -> None:
    assert [(page.name, text) for page, _, text, kind in BLOCKS if not kind] == []
    assert {kind for *_, kind in BLOCKS} == {"rig", "hour", "case", "tree", "shell", "python"}
    fences = sum(page.read_text(encoding="utf-8").count("```") for page in PAGES)
    assert fences == 2 * len(BLOCKS)


def test_the_hour_of_the_readme_is_made_from_the_code() -> None:
    # What stands between the marks is typed and compared by `test_pages_are_as_the_code_says`.
    text = (HOME / "README.md").read_text(encoding="utf-8")
    start, end = text.index("<!-- hour -->"), text.index("<!-- /hour -->")
    for _, block in of_kind("hour"):
        assert start < text.index(block) < end


@pytest.mark.parametrize("block", [text for _, text in of_kind("case")])
def test_a_case_that_is_shown_stands_in_its_file(block: str) -> None:
    (rule,) = re.findall(r"#! ([a-z-]+)", block)
    case = (HOME / "tests" / "rules" / f"{rule}.rig").read_text(encoding="utf-8")
    squeezed = [" ".join(line.split()) for line in case.splitlines()]
    shown = [" ".join(line.split()) for line in block.splitlines() if line.strip() != "..."]
    at = squeezed.index(shown[0])
    assert shown[-1] in squeezed[at:]


def test_the_tree_names_every_folder() -> None:
    ((_, block),) = of_kind("tree")
    named = set(re.findall(r"\b([a-z_]+)/", block))
    there = {path.name for path in HOME.iterdir() if path.is_dir() and path.name[0] not in "._"}
    there |= {path.name for path in (HOME / "src" / "rigfolio").iterdir() if path.is_dir()}
    made = {"__pycache__", "build", "dist", "rigfolio.egg-info"}
    assert there - made - named == set()
    deeper = {path.name for path in (HOME / "src" / "rigfolio").rglob("*") if path.is_dir()}
    deeper |= {"faulty", "rigfolio"}
    assert named - there - deeper == set()
    files = re.findall(r"\b([a-z_]+\.py)\b", block)
    assert files
    assert [name for name in files if not any((HOME / "src/rigfolio").rglob(name))] == []


@pytest.mark.parametrize("page", sorted({page for page, _ in of_kind("python")}))
def test_what_is_typed_in_python_gives_what_is_shown(page: Path, monkeypatch) -> None:
    monkeypatch.chdir(HOME)
    shown = "\n".join(text for each, text in of_kind("python") if each == page)
    case = doctest.DocTestParser().get_doctest(shown, {}, page.name, str(page), 0)
    assert case.examples
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE)
    assert runner.run(case).failed == 0


LINES = [
    line.split(" #")[0].strip()
    for _, text in of_kind("shell")
    for line in text.splitlines()
    if line.strip()
]


@pytest.mark.parametrize("line", LINES)
def test_a_line_of_a_shell_names_what_there_is(line: str, tmp_path, monkeypatch, capsys) -> None:
    for part in line.split("&&"):
        program, *rest = shlex.split(part)
        name = Path(program).name
        if name in ("python3", "export"):
            assert rest[:2] == ["-m", "venv"] or rest[0].startswith("PYTHONPATH=src:tests")
        elif name == "pip":
            _installs(rest)
        elif name == "pytest":
            _runs_tests(rest)
        elif name == "run":
            assert (HOME / ".ci" / "run").is_file()
        elif name == "rigfolio":
            monkeypatch.chdir(HOME)
            assert main([*rest, "-o", f"{tmp_path}/"]) == 0
            capsys.readouterr()
        else:
            assert name == "python"
            _runs_program(rest)


def _installs(rest: list[str]) -> None:
    """Extras and groups that pip is asked for are those of the project."""
    assert rest[0] == "install"
    for extra in re.findall(r"\.\[(\w+)\]", " ".join(rest)):
        assert extra in SETTINGS["project"]["optional-dependencies"]
    if "--group" in rest:
        assert rest[rest.index("--group") + 1] in SETTINGS["dependency-groups"]


def _runs_tests(rest: list[str]) -> None:
    options = (HOME / "tests" / "conftest.py").read_text(encoding="utf-8")
    for word in rest:
        known = word in options or (HOME / word).exists() or word in ("-n", "0")
        assert known, word


def _runs_program(rest: list[str]) -> None:
    """The program is there, and takes each option that it is shown with."""
    program = HOME / rest[0]
    tree = ast.parse(program.read_text(encoding="utf-8"))
    strings = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    assert [word for word in rest[1:] if word.startswith("--") and word not in strings] == []


def test_examples_of_the_pages_name_commands_that_there_are() -> None:
    for page in PAGES:
        typed = re.findall(r"`rigfolio ([a-z]+)\b", page.read_text(encoding="utf-8"))
        assert [word for word in typed if not registry.is_command(word)] == []
    assert EXAMPLES.is_dir()
