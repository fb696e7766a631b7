"""How editors colour a rig follows from the grammar and the words, and does what it says."""

import json
import re
from functools import cache
from pathlib import Path

import pytest

from helpers.home import RIGS
from make_highlighting import FILES, TEXTMATE, VIM, patterns, statements
from rigfolio.lang.lines import Token
from rigfolio.lang.parser import parse

SCOPES = {
    "label": {"string.quoted.double"},
    "date": {"constant.other.date"},
    "quantity": {"constant.numeric"},
    "number": {"constant.numeric"},
    "place": {"variable.other"},
    "unknown": {"constant.language"},
}
"""How each kind of item is to be coloured; words in several ways, by what they mean."""


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_the_files_are_as_the_code_says(file: Path) -> None:
    assert file.read_text(encoding="utf-8") == FILES[file](), "run tests/make_highlighting.py"


@cache
def tried() -> list[tuple[str, re.Pattern[str]]]:
    """What an editor tries at each place of a line."""
    return [(scope, re.compile(pattern)) for scope, pattern in patterns()]


@cache
def coloured(line: str) -> list[tuple[int, int, str]]:
    """The stretches of a line with their scopes, as an editor reads a TextMate grammar."""
    found, at = [], 0
    while at < len(line):
        hits = [(hit.start(), order, scope, hit) for order, (scope, pattern) in enumerate(tried())
                if (hit := pattern.search(line, at)) and hit.end() > hit.start()]  # fmt: skip
        if not hits:
            break
        _, _, scope, hit = min(hits, key=lambda one: one[:2])
        found.append((hit.start(), hit.end(), scope))
        at = hit.end()
    return found


def scope_of(item: Token, text: str) -> set[str]:
    start = text.rfind("\n", 0, item.span.start) + 1
    end = text.find("\n", item.span.start)
    line = text[start : end if end >= 0 else len(text)]
    at = item.span.start - start
    return {scope for first, last, scope in coloured(line) if first <= at < last}


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_item_of_a_rig_has_the_colour_of_its_kind(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    lines, _ = parse(text, "")
    assert len(lines) > 50
    for line in lines:
        for item in line.items:
            if item.kind in SCOPES:
                assert scope_of(item, text) == SCOPES[item.kind], item
        if line.head in statements():
            assert scope_of(line.items[0], text) == {"keyword.control"}, line.head


@pytest.mark.parametrize(
    ("line", "scopes"),
    [
        ("Fuse F1 50 A # 20 A", ["keyword.control", "variable.other", "constant.numeric",
                                 "comment.line.number-sign"]),
        ("    dc-dc E1", ["keyword.control", "variable.other"]),
        ("red/dark blue", ["support.constant.color", "support.constant.color"]),
        ("GNYE fused interrupts", ["support.constant.color", "variable.other",
                                   "support.type.property-name"]),
        ('note B1+ "wire # 9"', ["keyword.control", "variable.other", "string.quoted.double"]),
    ],
)  # fmt: skip
def test_a_line_is_coloured(line: str, scopes: list[str]) -> None:
    assert [scope for _, _, scope in coloured(line)] == scopes


def test_both_files_have_every_word() -> None:
    held = json.loads(TEXTMATE.read_text(encoding="utf-8"))
    assert held["scopeName"] == "source.rig"
    shown = VIM.read_text(encoding="utf-8")
    for word in statements():
        assert word in shown
        assert re.escape(word) in TEXTMATE.read_text(encoding="utf-8").replace("\\\\", "\\")
