"""The house plan holds: files, names, cases and rows of the README agree; sizes are kept."""

import ast
import inspect
import pkgutil
import re
import tomllib
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path

import pytest

import rigfolio.calc
from make_readme import HOME, PAGES, README, renewed, rig_of
from rigfolio.draw import lettering, table
from rigfolio.judgement.result import check
from rigfolio.rule import rule, rule_names

TESTS = sorted(file for file in (HOME / "tests").rglob("*.py") if "benchmarks" not in file.parts)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_pages_are_as_the_code_says(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert "<!-- /" in text
    assert renewed(text) == text, "run `python tests/make_readme.py`"


def test_readme_is_short() -> None:
    assert len(README.read_text(encoding="utf-8").splitlines()) <= 150


def test_readme_rig_is_understood() -> None:
    text = rig_of(README.read_text(encoding="utf-8"))
    rules = {finding.rule for finding in check("sanderling.rig", text=text).findings}
    assert rules == {"fuse-over-wire", "colour-not-surveyed"}


def test_every_package_is_installed() -> None:
    settings = tomllib.loads((HOME / "pyproject.toml").read_text(encoding="utf-8"))
    root = HOME / "src" / "rigfolio"
    there = {
        ".".join(("rigfolio", *file.parent.relative_to(root).parts))
        for file in root.rglob("__init__.py")
    }
    assert set(settings["tool"]["setuptools"]["packages"]) == there | {"rigfolio.grammar"}


def test_top_level_is_as_agreed() -> None:
    named = {path.name for path in HOME.iterdir() if not path.name.startswith(".")}
    agreed = {
        "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml",
        "src", "grammar", "examples", "tests", "out",
    }  # fmt: skip
    made_by_pip = {"build", "dist", "rigfolio.egg-info"}
    assert named - made_by_pip == agreed


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


def _modules(root: Path, files: Iterable[Path]) -> list[str]:
    parts = (file.relative_to(root).with_suffix("").parts for file in files)
    return [".".join(one).removesuffix(".__init__") for one in parts]


def test_every_file_can_be_imported() -> None:
    """Also one that nothing else asks for; pytest itself imports its tests."""
    source = HOME / "src"
    names = _modules(source, source.rglob("*.py"))
    names += _modules(
        HOME / "tests", (file for file in TESTS if not file.name.startswith(("test_", "conftest")))
    )
    for name in sorted(names):
        if not name.endswith("__main__"):
            import_module(name)
    assert len(names) > 500


def _clocks(text: str) -> list[str]:
    """What of a test depends on how fast the machine is: a clock that is read, a limit in time."""
    found: list[str] = []
    if not re.search(r"time|deadline", text):
        # None of the names below can stand in it.
        return found
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [each.name for each in node.names if each.name in ("time", "timeit")]
        elif isinstance(node, ast.ImportFrom) and node.module in ("time", "timeit"):
            found.append(node.module)
        elif isinstance(node, ast.keyword) and node.arg in ("timeout", "deadline"):
            is_none = isinstance(node.value, ast.Constant) and node.value.value is None
            found += [] if is_none else [node.arg]
    return found


@pytest.mark.parametrize("file", TESTS, ids=lambda file: str(file.relative_to(HOME)))
def test_no_test_looks_at_a_clock(file: Path) -> None:
    assert _clocks(file.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("text", "clocks"),
    [
        ("import time", ["time"]),
        ("import os, timeit", ["timeit"]),
        ("from time import perf_counter", ["time"]),
        ("run(x, timeout=60)", ["timeout"]),
        ("settings(deadline=200)", ["deadline"]),
        ("settings(deadline=None)", []),
        ("import datetime", []),
    ],
)
def test_a_clock_in_a_test_is_seen(text: str, clocks: list[str]) -> None:
    assert _clocks(text) == clocks


MOST_KEPT = 8192
"""Settings of texts that one cache keeps: a page at the desk and an editor are open all day."""


def test_no_cache_of_what_is_drawn_grows_all_day() -> None:
    found = [getattr(lettering, name) for name in dir(lettering)]
    found += [getattr(table, name) for name in dir(table)]
    sizes = [one.cache_parameters()["maxsize"] for one in found if hasattr(one, "cache_parameters")]
    kept = [size for size in sizes if size is not None]
    assert kept
    assert max(kept) <= MOST_KEPT
