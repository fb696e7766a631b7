"""What is printed for people is worded once: no sentence stands in two files that print.

Two that say the same begin to differ with the first that is bettered. What both need stands where
both may ask: cautions in `reports`, what a part is called in `wording`, the rest at its home.
"""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping

from helpers.home import HOME
from house.reading import nodes_of

SOURCE = HOME / "src" / "rigfolio"
PRINT = ("answers", "figures", "folio", "isolation", "labels", "page", "reports", "sheets", "swap")
FEWEST_WORDS, FEWEST_LETTERS = 5, 25
ALLOWED = {
    "Watts as amperes, each load on alone": "a heading of the answer, and on paper the same part",
}
_END = re.compile(r"(?<=[.:;])\s+")


def sentences(code: str) -> Iterator[str]:
    """The sentences that a piece of code holds, docstrings aside; `{}` for what is put in."""
    inside: set[int] = set()
    for node in nodes_of(code):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            inside.add(id(node.value))
        if isinstance(node, ast.JoinedStr):
            inside.update(id(part) for part in ast.walk(node) if part is not node)
    for node in nodes_of(code):
        if id(node) in inside:
            continue
        if isinstance(node, ast.JoinedStr):
            text = "".join(
                str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values
            )
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        else:
            continue
        for each in map(str.strip, _END.split(text)):
            if len(each) >= FEWEST_LETTERS and len(each.split()) >= FEWEST_WORDS:
                yield each


def said_twice(files: Mapping[str, str]) -> dict[str, list[str]]:
    """The sentences that stand in more than one file, with these."""
    places: dict[str, set[str]] = defaultdict(set)
    for name, code in files.items():
        for each in sentences(code):
            places[each].add(name)
    return {each: sorted(names) for each, names in places.items() if len(names) > 1}


def test_nothing_that_is_printed_is_worded_twice() -> None:
    files = {
        file.relative_to(SOURCE).as_posix(): file.read_text(encoding="utf-8")
        for folder in PRINT
        for file in sorted((SOURCE / folder).rglob("*.py"))
    }
    assert len(files) > 100
    assert {each: names for each, names in said_twice(files).items() if each not in ALLOWED} == {}
    assert said_twice(files).keys() == ALLOWED.keys()


def test_the_search_finds_what_it_is_for() -> None:
    one = 'WORDS = "Look first. Pull at every wire that was touched, one by one."'
    two = 'def words(name):\n    return f"{name}; Pull at every wire that was touched, one by one."'
    said = "Pull at every wire that was touched, one by one."
    assert said_twice({"one.py": one, "two.py": two}) == {said: ["one.py", "two.py"]}
    assert said_twice({"one.py": one, "two.py": f'"""{said}"""'}) == {}
    assert said_twice({"one.py": 'A = "too few words"', "two.py": 'B = "too few words"'}) == {}
    figure = 'def words(a):\n    return f"{a} of the bank that feeds it by itself"'
    assert list(sentences(figure)) == ["{} of the bank that feeds it by itself"]
