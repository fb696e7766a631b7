"""The house plan holds: files, names, cases and rows of the README agree; sizes are kept."""

import ast
import inspect
import pkgutil
import re
from importlib import import_module
from pathlib import Path

import pytest

import rigfolio.calc
from make_readme import HOME, README, renewed, rig_of
from rigfolio.judgement.result import check
from rigfolio.rule import rule, rule_names

SOURCE = HOME / "src" / "rigfolio"
FILES = sorted(SOURCE.rglob("*.py"))
MOST_LINES = 400
MOST_FUNCTION_LINES = 50
MACHINE = re.compile(
    r"/(?:work|tmp)/|(?<!scope=\")\bsessions?\b|localhost|pypi\.org", re.IGNORECASE
)
"""Paths of one machine, hosts of a registry, and talk of who wrote what when."""


def test_readme_is_as_the_code_says() -> None:
    text = README.read_text(encoding="utf-8")
    assert renewed(text) == text, "run `python tests/make_readme.py`"


def test_readme_rig_is_understood() -> None:
    text = rig_of(README.read_text(encoding="utf-8"))
    rules = {finding.rule for finding in check("sanderling.rig", text=text).findings}
    assert rules == {"fuse-over-wire", "colour-not-surveyed"}


def test_top_level_is_as_agreed() -> None:
    named = {path.name for path in HOME.iterdir() if not path.name.startswith(".")}
    agreed = {
        "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml",
        "src", "grammar", "examples", "tests", "out",
    }  # fmt: skip
    made_by_pip = {"build", "dist", "rigfolio.egg-info"}
    assert named - made_by_pip == agreed


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(SOURCE)))
def test_sizes(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert text.count("\n") <= MOST_LINES
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            assert lines <= MOST_FUNCTION_LINES, f"{node.name}: {lines} lines"


@pytest.mark.parametrize("name", rule_names())
def test_rule_has_its_page_and_its_cases(name: str) -> None:
    one, _check, page = rule(name)
    assert one.name == name
    assert "*Why:*" in page
    cases = HOME / "tests" / "rules" / f"{name}.rig"
    assert f"#! {name} " in cases.read_text(encoding="utf-8")


def _calc_functions() -> list[object]:
    found = []
    for module in pkgutil.iter_modules(rigfolio.calc.__path__):
        loaded = import_module(f"rigfolio.calc.{module.name}")
        for name, value in sorted(vars(loaded).items()):
            is_own = inspect.isfunction(value) and value.__module__ == loaded.__name__
            if is_own and not name.startswith("_"):
                found.append(value)
    return found


@pytest.mark.parametrize("function", _calc_functions(), ids=lambda f: f.__qualname__)
def test_formula_says_where_it_comes_from(function: object) -> None:
    page = inspect.getdoc(function) or ""
    for section in ("Parameters", "Returns", "Source"):
        assert f"{section}\n---" in page, section


def test_nothing_speaks_of_one_machine() -> None:
    looked_at = 0
    for folder in ("src", "grammar", "examples", "tests"):
        for file in sorted((HOME / folder).rglob("*")):
            if file.suffix in (".py", ".rig", ".md", ".toml", ".lark", ".txt") and file.is_file():
                looked_at += 1
                text = file.read_text(encoding="utf-8", errors="replace")
                if file != Path(__file__).resolve():
                    assert not MACHINE.search(text), file
    assert looked_at > 100
