"""How many small changes of the code the tests notice, asked of many at a time.

A plugin for pytest, much faster than `code_changes.py`, which starts every round anew. With
`src` and `tests` on the path::

    pytest -n 0 -p mutations.in_one_process --changes-of rules/stud_crowded.py isolation \\
        --number 40 --seed 1 -- tests/rules tests/isolation

All tests that are asked for run once, and which lines each of them runs is kept. Then a process is
split off for each change: it has the changed bodies of functions, and runs the tests that come by
the changed line until one fails. Where none does, those beside them in their files are asked too:
they may have been served by what a neighbour had worked out before them. What stands outside of
functions is left out; `code_changes.py` tries that as well. What every process would look for, the
functions of a file and what functions have kept, is looked up once before the first is split off.
"""

import ast
import gc
import os
import random
import resource
import sys
import types
import warnings
from collections.abc import Iterator
from functools import _lru_cache_wrapper
from math import inf
from pathlib import Path
from typing import TypeAlias

import pytest
from _pytest.runner import runtestprotocol

from mutations.code_changes import CODE, HOME, Change, changes

PATIENCE_S = 30
"""Processor time of one change."""
BESIDE_S = 5.0
"""Of that, what the tests beside those that come by a change may take to begin with."""
SILENCE = 3
"""Exit status of a change that no test noticed."""


class Lines:
    """Which tests run a line."""

    def __init__(self) -> None:
        # The suite reads this file too, where nobody has it.
        import coverage

        self.took_s: dict[pytest.Item, float] = {}
        self._cover = coverage.Coverage(
            data_file=None, source=[str(HOME / CODE)], config_file=False
        )

    def run(self, items: list[pytest.Item]) -> list[pytest.Item]:
        """Run every test once; those that pass."""
        passing = []
        self._cover.start()
        for at, item in enumerate(items):
            if at and item.path != items[at - 1].path:
                # A file that is served by what another one worked out would come by none of it.
                _forget(_keepers(gc.get_objects()))
            self._cover.switch_context(str(at))
            reports = runtestprotocol(item, log=False, nextitem=_after(items, at))
            self.took_s[item] = sum(report.duration for report in reports)
            if all(report.passed for report in reports):
                passing.append(item)
            elif any(report.failed for report in reports):
                _say(f"fails without any change: {item.nodeid}")
        self._cover.stop()
        self._data = self._cover.get_data()
        return passing

    def of(self, file: Path) -> dict[int, set[int]]:
        """The places of the tests that run each line of a file."""
        found = self._data.contexts_by_lineno(str(HOME / file))
        return {line: {int(each) for each in every if each} for line, every in found.items()}


class Living:
    """The functions of the code and what they keep, as they stand when all tests have run."""

    def __init__(self) -> None:
        self.by_file: dict[str, list[types.FunctionType]] = {}
        every = gc.get_objects()
        for each in every:
            if isinstance(each, types.FunctionType):
                self.by_file.setdefault(each.__code__.co_filename, []).append(each)
        self._kept = _keepers(every)

    def forget(self) -> None:
        """Drop what functions have kept of earlier tests, with the old bodies."""
        _forget(self._kept)


def _keepers(every: list[object]) -> "list[_lru_cache_wrapper[object]]":
    """The functions of ours that keep what they gave."""
    return [each for each in every if isinstance(each, _lru_cache_wrapper) and _is_ours(each)]


def _forget(keepers: "list[_lru_cache_wrapper[object]]") -> None:
    from rigfolio.lang import parser
    from rigfolio.reading import text

    for each in keepers:
        each.cache_clear()
    parser._IN_PLACE.clear()
    text._KEPT.clear()


def pytest_addoption(parser: pytest.Parser) -> None:
    """What is changed, how many places of it, and which choice of them."""
    parser.addoption("--changes-of", nargs="+", help="files and folders below src/rigfolio")
    parser.addoption("--number", type=int, default=40)
    parser.addoption("--seed", type=int, default=1)


def pytest_runtestloop(session: pytest.Session) -> bool:
    """In place of one run: a run for lines, then one for each change."""
    warnings.filterwarnings("ignore", category=DeprecationWarning)
    lines = Lines()
    passing = set(lines.run(session.items))
    _say(f"{len(session.items)} tests, {sum(lines.took_s.values()):.0f} s")
    living = Living()
    # A collection would write to every page that a process shares with this one, and copy it.
    gc.collect()
    gc.freeze()
    gc.disable()
    counts: dict[str, list[int]] = {}
    for change in _chosen(session.config):
        tests = [each for each in _tests(session.items, lines, change) if each in passing]
        beside = [each for each in _beside(session.items, tests) if each in passing]
        word = _tried(change, (tests, beside), living)
        _say(f"{word} {len(tests)} {change}")
        counts.setdefault(change.file.relative_to(CODE).parts[0], []).append(word == "noticed")
    for folder, each in sorted(counts.items()):
        _say(f"{sum(each)} of {len(each)} in {folder}")
    return True


def _chosen(config: pytest.Config) -> list[Change]:
    """Some places of the bodies of functions, all of them alike likely."""
    asked: list[str] = config.getoption("--changes-of")
    files = [
        file.relative_to(HOME)
        for each in asked
        for file in sorted((HOME / CODE).glob(each if each.endswith(".py") else f"{each}/**/*.py"))
        if file.name != "__init__.py"
    ]
    every = [
        change
        for file in files
        for place in [_inside((HOME / file).read_text(encoding="utf-8"))]
        for change in changes(file)
        if change.line in place
    ]
    random.Random(config.getoption("--seed")).shuffle(every)
    return every[: config.getoption("--number")]


def _inside(text: str) -> set[int]:
    """Lines in the bodies of functions."""
    return {
        line
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef)
        for part in node.body
        for line in range(part.lineno, (part.end_lineno or part.lineno) + 1)
    }


def _tests(items: list[pytest.Item], lines: Lines, change: Change) -> list[pytest.Item]:
    """The tests that come by a change, the likeliest first."""
    first, last = _around(change)
    found: set[int] = set()
    for line, places in lines.of(change.file).items():
        if first <= line <= last:
            found |= places
    stem = change.file.stem
    names = (stem.replace("_", "-"), stem, change.file.parts[-2])
    return sorted(
        (items[each] for each in found),
        key=lambda item: (
            next((at for at, name in enumerate(names) if name in item.nodeid), 9),
            lines.took_s[item],
        ),
    )


def _beside(items: list[pytest.Item], tests: list[pytest.Item]) -> list[pytest.Item]:
    """The other tests of the same files, in the order of those."""
    files = list(dict.fromkeys(each.path for each in tests))
    rest = [each for each in items if each.path in files and each not in set(tests)]
    return sorted(rest, key=lambda item: files.index(item.path))


def _around(change: Change) -> tuple[int, int]:
    """The lines of the statement in which a change stands, without what is below a header."""
    best = (change.line, change.line)
    for node in ast.walk(ast.parse((HOME / change.file).read_text(encoding="utf-8"))):
        if isinstance(node, ast.stmt) and node.lineno <= change.line <= (node.end_lineno or 0):
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if body else node.end_lineno
            if isinstance(node, ast.FunctionDef) or last < change.line:
                continue
            best = (node.lineno, last)
    return best


Asked: TypeAlias = tuple[list[pytest.Item], list[pytest.Item]]
"""The tests that come by a change, and those beside them."""


def _tried(change: Change, tests: Asked, living: Living) -> str:
    if not tests[0]:
        return "not-run"
    sys.stdout.flush()
    child = os.fork()
    if child == 0:
        try:
            os._exit(_run(change, tests, living))
        finally:
            # Whatever goes wrong here, no second process may go on with the other changes.
            os._exit(5)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return {SILENCE: "SILENT", 5: "NOT-MADE", -24: "TOO-LONG"}.get(status, "noticed")


def _run(change: Change, tests: Asked, living: Living) -> int:
    resource.setrlimit(resource.RLIMIT_CPU, (PATIENCE_S, PATIENCE_S))
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)
    if not _make(change, living):
        return 5
    living.forget()
    every, until_s = [*tests[0], *tests[1]], inf
    for at, item in enumerate(every):
        if at == len(tests[0]):
            until_s = os.times().user + BESIDE_S
        if os.times().user >= until_s:
            break
        reports = runtestprotocol(item, log=False, nextitem=_after(every, at))
        if any(report.failed for report in reports):
            return 0
    return SILENCE


def _make(change: Change, living: Living) -> bool:
    """Give all functions of a file their changed bodies."""
    file = HOME / change.file
    text = file.read_bytes()
    changed = text[: change.start] + change.new.encode() + text[change.end :]
    pairs = dict(_pairs(compile(text, str(file), "exec"), compile(changed, str(file), "exec")))
    made = False
    for each in living.by_file.get(str(file), ()):
        new = pairs.get((each.__code__.co_qualname, each.__code__.co_firstlineno))
        if new is not None:
            each.__code__ = new
            made = True
    return made


def _pairs(
    old: types.CodeType, new: types.CodeType
) -> Iterator[tuple[tuple[str, int], types.CodeType]]:
    inner = [each for each in new.co_consts if isinstance(each, types.CodeType)]
    for one in old.co_consts:
        if isinstance(one, types.CodeType):
            other = inner.pop(0)
            yield (one.co_qualname, one.co_firstlineno), other
            yield from _pairs(one, other)


def _is_ours(keeper: "_lru_cache_wrapper[object]") -> bool:
    return (keeper.__module__ or "").startswith(_OURS)


_OURS = ("rigfolio", "helpers", "test", "printed", "conftest")


def _after(items: list[pytest.Item], at: int) -> pytest.Item | None:
    return items[at + 1] if at + 1 < len(items) else None


def _say(line: str) -> None:
    os.write(_OUT, f"{line}\n".encode())


_OUT = os.dup(1)
