"""Amounts are written by `rigfolio.units`, and held against a limit by the limit itself.

Nobody else writes amounts of electricity and shares. A figure at a limit that is only known to be
less than some bound breaks it: who compares with the bare number does not see that.
"""

import ast
import re
from collections.abc import Iterator

from helpers.home import HOME
from house.reading import nodes_of

SOURCE = HOME / "src" / "rigfolio"
# Lengths, times and temperatures are left out: most of those are of paper, clocks and tables.
KINDS = ("current", "voltage", "power", "resistance", "charge", "energy", "share")
FREE = ("units.py", "calc/", "books/")
"""The door itself, errors of formulas, and figures as the books have them."""
ALLOWED = {
    "answers/diagnose.py": "chances and guesses, in whole steps, and what a meter shows",
    "answers/fault_words.py": "by how many times a fault is guessed to be off, in two digits",
    "shorts/heat.py": "how much of its time a wire has used up, in whole steps",
    "labels/photo.py": "how sure a guess of a colour is, in whole steps",
    "operating/readings/test_points.py": "what a meter shows, in whole millivolts",
}
HELD = re.compile(r"is_over\(.*\.value\)| (>|<=) (\w+\.)*(limit|allowed|carries)\.value")
LIMIT = re.compile(r"(.*\.)?(limit|allowed|carries)\.value( \* .*)?")
NUMBER = re.compile(r"[0-9.,+]*[efgEFG%n]'?$")


def units() -> re.Pattern[str]:
    from rigfolio.units import UNITS

    symbols = sorted((s for s, u in UNITS.items() if u.kind in KINDS), key=len, reverse=True)
    return re.compile(rf" ?(?:{'|'.join(map(re.escape, symbols))})(?![\w²/])")


UNIT = units()


def written_by_hand(code: str) -> Iterator[int]:
    """The lines in which a number is formatted with its unit behind it."""
    for node in nodes_of(code):
        if not isinstance(node, ast.JoinedStr):
            continue
        for part, after in zip(node.values, node.values[1:], strict=False):
            if (
                isinstance(part, ast.FormattedValue)
                and part.format_spec is not None
                and NUMBER.search(ast.unparse(part.format_spec))
                and isinstance(after, ast.Constant)
                and UNIT.match(str(after.value))
            ):
                yield node.lineno


def test_amounts_are_written_in_one_place() -> None:
    found = {
        name
        for file in sorted(SOURCE.rglob("*.py"))
        if not (name := file.relative_to(SOURCE).as_posix()).startswith(FREE)
        and list(written_by_hand(file.read_text(encoding="utf-8")))
    }
    assert found == set(ALLOWED)


def test_an_amount_by_hand_is_found() -> None:
    assert list(written_by_hand("f'{a:.1f} A'")) == [1]
    assert list(written_by_hand("f'{100 * a:.0f} % of it'")) == [1]
    assert list(written_by_hand("f'{a:g} V, {b:.3g} mΩ'")) == [1, 1]
    for fine in ("f'{name} A'", "f'{a:g} AWG'", "f'{a:>3} x'", "f'{a:g} Also'", "f'{show(a)} A'"):
        assert list(written_by_hand(fine)) == [], fine


def held_by_hand(code: str) -> Iterator[int]:
    """The lines in which a figure is held against the bare number of a limit."""
    if not HELD.search(code):
        return
    for node in nodes_of(code):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "is_over":
            if ast.unparse(node.args[1]).endswith(".value"):
                yield node.lineno
        elif isinstance(node, ast.Compare) and isinstance(node.ops[0], ast.Gt | ast.LtE):
            is_figure = not ast.unparse(node.left).endswith(".value")
            if is_figure and LIMIT.fullmatch(ast.unparse(node.comparators[0])):
                yield node.lineno


def test_figures_are_held_against_limits_by_the_limit() -> None:
    found = {
        name: lines
        for file in sorted(SOURCE.rglob("*.py"))
        if not (name := file.relative_to(SOURCE).as_posix()).startswith("books/")
        and (lines := list(held_by_hand(file.read_text(encoding="utf-8"))))
    }
    assert found == {}


def test_a_figure_held_by_hand_is_found() -> None:
    for bad in ("is_over(a, limit.value)", "a > one.allowed.value", "a <= carries.value * n"):
        assert list(held_by_hand(bad)) == [1], bad
    for fine in ("is_over(least.value, a)", "a.value > b.value", "limit.value > 0.0", "a > b"):
        assert list(held_by_hand(fine)) == [], fine
