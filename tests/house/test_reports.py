"""One report an answer: none writes its own text or its own table, and a caution is worded once."""

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from helpers.home import HOME
from house.reading import nodes_of

SOURCE = HOME / "src" / "rigfolio"
ANSWERS = {
    file.stem: file
    for folder in ("answers", "figures")
    for file in sorted((SOURCE / folder).glob("[!_]*.py"))
}
TEXTS = {
    "filled_survey": "writes a rig file",
    "logbook": "writes the log",
    "naming": "writes into a rig file",
}
"""Files among the answers that make a text which is kept or read as it is, and no report."""
ANSWERING = sorted(set(ANSWERS) - set(TEXTS))
CAUTIONS = ("licensed practice", "certificate", "rings and watch", "judged, not the rig")
"""Words by which a caution is known."""


def broken(code: str) -> Iterator[str]:
    """Where a file makes lines, JSON or twins of its own."""
    nodes = nodes_of(code)
    pages = {id(page) for page in docstrings(nodes)}
    names = {node.name for node in nodes if isinstance(node, ast.FunctionDef)}
    for node in nodes:
        if isinstance(node, ast.Constant) and id(node) not in pages and "\n" in str(node.value):
            yield f"line {node.lineno} breaks a line"
        if isinstance(node, ast.Import | ast.ImportFrom):
            taken = {getattr(node, "module", ""), *(each.name for each in node.names)}
            yield from (f"imports {name}" for name in sorted(taken & {"json", "textwrap"}))
    for name in sorted(names):
        if name.endswith("_plain") or name.removesuffix("_lines") + "_plain" in names:
            yield f"{name} is a twin"


def docstrings(nodes: Iterable[ast.AST]) -> Iterator[ast.expr]:
    for node in nodes:
        if isinstance(node, ast.Expr):
            yield node.value


@pytest.mark.parametrize("name", ANSWERING)
def test_an_answer_leaves_lines_and_json_to_the_printers(name: str) -> None:
    assert list(broken(ANSWERS[name].read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ('def f(x):\n    return "\\n".join(x)', "line 2 breaks a line"),
        ('def f(x):\n    return f"{x}\\n"', "line 2 breaks a line"),
        ("import json", "imports json"),
        ("from textwrap import wrap", "imports textwrap"),
        ("def short_lines(): ...\ndef short_plain(): ...", "short_lines is a twin"),
    ],
)
def test_a_break_of_that_is_seen(code: str, said: str) -> None:
    assert said in list(broken(code))


def test_what_makes_a_text_is_still_there() -> None:
    assert set(TEXTS) <= set(ANSWERS)
    assert len(ANSWERING) > 8


def test_a_sheet_that_sets_a_report_writes_no_figure_of_its_own() -> None:
    setting = [
        file for file in sorted((SOURCE / "sheets").glob("*.py"))
        if "_report" in file.read_text(encoding="utf-8")
    ]  # fmt: skip
    assert len(setting) >= 3
    for file in setting:
        assert "rigfolio.units" not in file.read_text(encoding="utf-8"), file.name


def told(folder: Path) -> dict[str, set[str]]:
    """The cautions that stand in the texts of files, docstrings and comments left aside."""
    found: dict[str, set[str]] = {}
    for file in sorted(folder.rglob("*.py")):
        nodes = nodes_of(file.read_text(encoding="utf-8"))
        pages = {id(page) for page in docstrings(nodes)}
        for node in nodes:
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                words = {each for each in CAUTIONS if each in node.value.lower()}
                if words and id(node) not in pages:
                    found.setdefault(file.relative_to(folder).as_posix(), set()).update(words)
    return found


def test_a_caution_is_worded_in_one_place() -> None:
    assert told(SOURCE) == {"reports/cautions.py": set(CAUTIONS)}
