"""Reads case files: rigs in the language, with what is expected on the line that earns it.

A file holds one case or more. `#= title` opens a case; what stands above the first title is shared
by all of them. `#! rule-name "part of the message"` at the end of a line expects a finding there,
as often as needed; `#> text` expects a part of the graph there (see tests/statements). Every
finding must be expected and every expectation met::

    #= a 20 A fuse on 16 AWG
    fuse F1 20 A          #! fuse-over-wire "16 AWG may carry 8 A"

A test that asks for `case` is run with every case of the `*.rig` files beside it::

    def test_rule(case):
        told = told_of(case)
        assert case.mismatches(told.findings, told.texts) == []
"""

import re
import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeVar

import pytest

from helpers.forgotten import cache
from rigfolio.findings import Finding
from rigfolio.judgement.result import check

Answer = TypeVar("Answer")

_MARK = re.compile(r"\s*#([!>])(?=\s)(.*?)(?=#[!>]\s|$)")
_RULE = re.compile(r'([a-z0-9-]+)(?:\s+"([^"]*)")?')


@dataclass(frozen=True, slots=True)
class Expected:
    """A finding that must come: its line (1 is the first), its rule, a part of what it says."""

    line: int
    rule: str
    part: str


@dataclass(frozen=True, slots=True)
class Case:
    """One rig and what is expected of it; its lines are numbered as in the case file."""

    file: Path
    title: str
    text: str
    expected: tuple[Expected, ...]
    shown: tuple[tuple[int, str], ...]

    def asked(self, ask: Callable[..., Answer]) -> Answer:
        """What `check` or `load` says of the rig; on a disk only with what it may include."""
        if not self.file.with_suffix("").is_dir():
            return ask(self.file.name, text=self.text)
        with TemporaryDirectory() as folder:
            return ask(self.write(Path(folder)))

    def write(self, folder: Path) -> str:
        """Write the rig into a folder, with what it may include; returns the path of the rig."""
        beside = self.file.with_suffix("")
        if beside.is_dir():
            shutil.copytree(beside, folder / beside.name)
        target = folder / self.file.name
        target.write_text(self.text, encoding="utf-8", newline="")
        return str(target)

    def mismatches(self, findings: Iterable[Finding], texts: Mapping[str, str]) -> list[str]:
        """Findings that nobody expected, and expectations that were not met."""
        waiting = list(self.expected)
        wrong = []
        for finding in findings:
            span = finding.at.span
            line = texts[span.file].count("\n", 0, span.start) + 1
            met = next((one for one in waiting if _meets(finding, line, one)), None)
            if met is None:
                wrong.append(f"line {line}: not expected: {finding.rule} {_said(finding)!r}")
            else:
                waiting.remove(met)
        wrong += [f'line {one.line}: not found: {one.rule} "{one.part}"' for one in waiting]
        return wrong


def _said(finding: Finding) -> str:
    """All words of a finding, one part a line."""
    labels = [label.text for label in (finding.at, *finding.others)]
    return "\n".join([finding.headline, *labels, finding.fix.text if finding.fix else ""])


def _meets(finding: Finding, line: int, one: Expected) -> bool:
    # Quotes are left aside, so that an expectation can be written within quotes.
    said = _said(finding).replace('"', "'")
    return (line, finding.rule) == (one.line, one.rule) and one.part in said


@dataclass(frozen=True, slots=True)
class Told:
    """All that is found in a case, and the texts that it was read from."""

    findings: tuple[Finding, ...]
    texts: Mapping[str, str]


@cache
def told_of(case: Case) -> Told:
    """What `check` says of a case as a file of its own, read and judged once a process."""
    result = case.asked(check)
    return Told(result.findings, result.texts)


@cache
def read_cases(file: Path) -> tuple[Case, ...]:
    """The cases of a file, in order, read once a process.

    Raises
    ------
    ValueError
        An expectation that cannot be read.
    """
    lines = file.read_text(encoding="utf-8").split("\n")
    starts = [at for at, line in enumerate(lines) if line.startswith("#=")]
    shared = starts[0] if starts else len(lines)
    made = []
    for start, stop in zip(starts or [0], [*starts[1:], len(lines)], strict=True):
        title = lines[start][2:].strip() if starts else file.stem
        # Lines of other cases are left empty, so that every line keeps its number.
        own = [line if at < shared or start <= at < stop else "" for at, line in enumerate(lines)]
        made.append(_case(file, title, own))
    return tuple(made)


def _case(file: Path, title: str, lines: list[str]) -> Case:
    bare: list[str] = []
    expected: list[Expected] = []
    shown: list[tuple[int, str]] = []
    for number, line in enumerate(lines, 1):
        for mark, body in _MARK.findall(line):
            if mark == ">":
                shown.append((number, body.strip()))
                continue
            if _RULE.sub("", body).strip() or not body.strip():
                raise ValueError(f"{file}:{number}: {body.strip()}")
            expected += [Expected(number, rule, part) for rule, part in _RULE.findall(body)]
        bare.append(_MARK.sub("", line))
    return Case(file, title, "\n".join(bare), tuple(expected), tuple(shown))


def give_cases(metafunc: pytest.Metafunc) -> None:
    """Run a test that asks for `case` with every case of the `*.rig` files beside it."""
    if "case" not in metafunc.fixturenames:
        return
    files = sorted(Path(metafunc.module.__file__).parent.glob("*.rig"))
    cases = [case for file in files for case in read_cases(file)]
    assert cases, f"no case beside {metafunc.module.__file__}"
    metafunc.parametrize("case", cases, ids=[f"{one.file.stem}: {one.title}" for one in cases])
