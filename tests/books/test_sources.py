import importlib
import inspect
import pkgutil
import re
import tomllib
from pathlib import Path

import pytest

import rigfolio.books
import rigfolio.calc

_FILES = sorted(Path(rigfolio.books.__file__).parent.glob("*.toml"))
_STATES = {"seen", "memory", "computed", "common practice"}
_ROWS = [
    (f"{path.name} {key} {place}", row)
    for path in _FILES
    for key, held in tomllib.loads(path.read_text("utf-8")).items()
    for place, row in enumerate(held if isinstance(held, list) else [held])
]
_FORMULAS = [
    (f"{module.__name__}.{name}", formula)
    for found in pkgutil.iter_modules(rigfolio.calc.__path__, "rigfolio.calc.")
    for module in [importlib.import_module(found.name)]
    for name, formula in inspect.getmembers(module, inspect.isfunction)
    if formula.__module__ == module.__name__ and not name.startswith("_")
]


@pytest.mark.parametrize(("place", "held"), _ROWS, ids=[place for place, _ in _ROWS])
def test_every_table_names_its_source(place, held):
    assert isinstance(held, dict), place
    assert held["source"].strip(), place
    assert held["status"] in _STATES, place
    assert not re.search(r"https?:|www\.", held["source"]), place


@pytest.mark.parametrize(("name", "formula"), _FORMULAS, ids=[name for name, _ in _FORMULAS])
def test_every_formula_is_told_in_full(name, formula):
    told = inspect.getdoc(formula) or ""
    for head in ("Parameters", "Returns", "Source", "Examples"):
        assert re.search(rf"^{head}\n-+$", told, re.MULTILINE), f"{name} lacks {head}"
    source = told.split("Source\n------\n")[1].split("\n\n")[0]
    assert any(status in source for status in _STATES), name
    assert f">>> {formula.__name__}(" in told, name


def test_something_was_found():
    assert {path.stem for path in _FILES} >= {"boat", "colours", "conductors", "fuses", "rv"}
    assert len(_ROWS) > 50
    assert len(_FORMULAS) > 10
