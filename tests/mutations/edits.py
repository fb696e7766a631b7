"""The sound examples as texts to be edited, and edits of one or a few lines.

A mutant knows the lines that were touched, so that a finding can be told to speak of that place.
"""

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from helpers.forgotten import cache, forget
from helpers.home import EXAMPLES
from rigfolio.findings import Finding, Span
from rigfolio.judgement.result import check, load
from rigfolio.model import Circuit, Conductor, Load
from rigfolio.rule import rule
from rigfolio.study import Study

SOUND = ("heron-van", "kittiwake-30", "lapwing-cabin", "marsh-wren-17")

_LINE = re.compile(r'((?:[^#"]|"[^"]*")*?)(\s*#.*)?$')
_INCLUDE = re.compile(r'^include "([^"]+)"$', re.MULTILINE)
AMPERE = r"\d+(?:\.\d+)? A\b"


@dataclass(frozen=True, slots=True)
class Mutant:
    """An example with one thing changed: where that is, and the lines that were touched."""

    where: str
    text: str
    lines: frozenset[int]


@dataclass(frozen=True, slots=True)
class Example:
    """A sound rig: its text in one piece, and what is worked out of it."""

    name: str
    file: str
    text: str
    study: Study
    rows: tuple[str, ...] = field(repr=False)

    def row(self, span: Span) -> int:
        """The number of the line in which a place begins, 0 the first."""
        return bisect_left(_breaks(self.text), span.start)

    def changed(
        self,
        where: str,
        rows: Mapping[int, str],
        added: Iterable[str] = (),
        also: Iterable[int] = (),
    ) -> Mutant:
        """The example with some lines changed and some added at its end.

        A changed line may become several; those that follow get other numbers then. `also` are
        lines that tell of the same place and stay as they are.
        """
        new: list[str] = []
        touched: set[int] = set()
        near = self._around({*rows, *also})
        for number, row in enumerate(self.rows):
            start = len(new)
            new += rows.get(number, row).split("\n")
            if number in near:
                touched.update(range(start, len(new)))
        tail = list(added)
        touched.update(range(len(new), len(new) + len(tail)))
        text = "\n".join([*new, *tail, ""])
        assert text.rstrip("\n") != self.text, f"{self.name}: {where}: nothing changed"
        return Mutant(where, text, frozenset(touched))

    def block(self, head: int) -> range:
        """The lines of a block: its head and what is indented under it."""
        end = head + 1
        while end < len(self.rows) and self.rows[end].startswith(" "):
            end += 1
        return range(head, end)

    def _around(self, rows: Iterable[int]) -> frozenset[int]:
        """Some lines, and those of the wires that hang on what they tell of."""
        told = set(rows)
        rig = self.study.rig
        ends: set[str] = set()
        for wire in rig.conductors:
            if self.row(wire.span) in told:
                ends |= {wire.a, wire.b}
        for device in rig.devices:
            if self.row(device.rating_span or device.about.span) in told:
                ends |= {device.line, device.load}
        for wire in rig.conductors:
            if ends & {wire.a, wire.b}:
                told |= {self.row(wire.span), self.row(wire.size_span)}
        return frozenset(told)

    def judged(self, mutant: Mutant) -> tuple[Finding, ...]:
        """What is found in a mutant that was not found in the example."""
        return self._new(check(self.file, text=mutant.text).findings)

    def judged_by(self, rules: Iterable[str], mutant: Mutant) -> tuple[Finding, ...]:
        """What these rules find in a mutant that was not found in the example.

        The other rules are not asked, which saves most of the work. A text that is not
        understood is told of by its errors, whatever rules are asked.
        """
        _, rig, errors = load(self.file, mutant.text)
        if rig is None:
            return errors
        study = Study(rig, rig.book)
        asked = [rule(name) for name in sorted(rules)]
        found = self._new(
            finding
            for one, find, _ in asked
            if study.book.name in one.books
            for finding in find(study)
        )
        forget(study)
        return found

    def _new(self, found: Iterable[Finding]) -> tuple[Finding, ...]:
        known = {(one.rule, one.headline) for one in self.findings()}
        return tuple(one for one in found if (one.rule, one.headline) not in known)

    def findings(self) -> tuple[Finding, ...]:
        """What is found in the example as it is."""
        return _found(self.file, self.text)

    def statements(self, word: str) -> Iterator[tuple[int, str, str]]:
        """The lines that open with a word: number, line, the name behind the word."""
        for number, row in enumerate(self.rows):
            match = re.match(rf"\s*(?:{word})\s+(\S+)", row)
            if match:
                yield number, row, match[1]

    def wires(self) -> Iterator[tuple[int, str]]:
        """The lines of wires between named places."""
        for number, row in enumerate(self.rows):
            if re.match(r"\s*wire\s+\S+\s+to\s+\S+", row):
                yield number, row

    def circuits(self) -> Iterator[tuple[int, str, Circuit]]:
        """The heads of circuits that have a device, with the circuits."""
        for circuit in self.study.rig.circuits:
            if circuit.device:
                number = self.row(circuit.span)
                yield number, self.rows[number], circuit

    def rated(self) -> Iterator[tuple[int, str, float, tuple[Conductor, ...]]]:
        """Every protecting device: its line, the words of its rating, the wires on it."""
        for device in self.study.rig.devices:
            if not device.protects or not isinstance(device.rating_a, float):
                continue
            number = self.row(device.rating_span or device.about.span)
            ends = (device.line, device.load)
            wires = tuple(w for w in self.study.rig.conductors if w.a in ends or w.b in ends)
            yield number, device.about.name, device.rating_a, wires


def with_facts(row: str, facts: str) -> str:
    """A line with more facts before its remark."""
    match = _LINE.match(row)
    assert match
    return f"{match[1].rstrip()}, {facts}{match[2] or ''}"


def sized(example: Example, wire: Conductor, size: str) -> dict[int, str]:
    """The line of a wire with another size."""
    start, end = wire.size_span.start, wire.size_span.end
    number = example.row(wire.span)
    if not wire.span.start <= start < wire.span.end:
        return {number: with_facts(example.rows[number], size)}
    begin = example.text.rfind("\n", 0, start) + 1
    row = example.rows[example.row(wire.size_span)]
    return {example.row(wire.size_span): row[: start - begin] + size + row[end - begin :]}


def said(pattern: re.Pattern[str], new: str, row: str) -> str:
    """A line with the first match outside labels and remarks replaced."""
    for match in pattern.finditer(row):
        before = row[: match.start()]
        if before.count('"') % 2 == 0 and "#" not in re.sub(r'"[^"]*"', "", before):
            return before + new + row[match.end() :]
    return row


def needed(example: Example, wire: Conductor) -> tuple[Load, ...]:
    """The loads that no battery, vehicle or converter serves without a wire."""
    net, rig = example.study.net, example.study.rig
    standing = [s for s in rig.sources if s.kind in ("battery", "vehicle", "dc-dc")]
    plus = net.walk((s.plus for s in standing), lambda edge: edge is wire)
    minus = net.walk((s.minus for s in standing), lambda edge: edge is wire)
    return tuple(load for load in rig.loads if load.plus not in plus or load.minus not in minus)


def device_rated(row: str, rating: str) -> str:
    """A line with another rating for the fuse or breaker that it tells of."""
    new = re.sub(r"\b((?:fuse|breaker)\s+(?:F\d+\s+(?:\"[^\"]*\"\s+)?)?)" + AMPERE,
                 rf"\g<1>{rating}", row, count=1)  # fmt: skip
    assert new != row, row
    return new


def is_plus(example: Example, wire: Conductor) -> bool:
    """Whether a wire lies on the plus side."""
    return example.study.side.get(wire.a) == "+"


def stated(example: Example) -> Iterator[Conductor]:
    """The conductors that have a line of their own, each line once."""
    seen: set[int] = set()
    for wire in example.study.rig.conductors:
        number = example.row(wire.span)
        if not wire.assumed and not wire.lead and number not in seen:
            seen.add(number)
            yield wire


@cache
def _breaks(text: str) -> tuple[int, ...]:
    """Where the lines of a text end."""
    return tuple(at for at, sign in enumerate(text) if sign == "\n")


@cache
def _found(file: str, text: str) -> tuple[Finding, ...]:
    return check(file, text=text).findings


@cache
def sound(name: str) -> Example:
    """A sound example, with what it includes put in its place."""
    file = EXAMPLES / f"{name}.rig"
    text = _INCLUDE.sub(
        lambda match: (EXAMPLES / match[1]).read_text(encoding="utf-8").rstrip("\n"),
        file.read_text(encoding="utf-8"),
    ).rstrip("\n")
    study = check(str(file), text=text).study
    assert study is not None
    return Example(name, str(file), text, study, tuple(text.split("\n")))
