"""Whether ways out that are offered serve: each is written in and judged again, from outside.

``python tests/mutations/fixes.py`` tries those of every hazard and of every faulty example. What is
compared is what a reader of the printed messages could compare: rules by line. It shares no code
with the trial that the program makes before it offers a way out.
"""

import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from helpers.forgotten import cache, lately
from helpers.home import EXAMPLES
from mutations.edits import SOUND, sound
from mutations.hazard import HAZARDS
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Edit, Finding, Severity
from rigfolio.judgement.result import Result, check
from rigfolio.judgement.trial import together, tried
from rigfolio.sizing.fuses import duty_of

for stem in (
    "of_plates", "of_protection", "of_ratings", "of_shorts", "of_sources", "of_sun", "of_wiring",
):  # fmt: skip
    import_module(f"mutations.{stem}")

RANK = {one: place for place, one in enumerate(Severity)}
WRITTEN = re.compile(
    r" ?\d+(?:\.\d+)? ?A|, fuse \d+(?:\.\d+)? A at \S+"
    r"| ?(?:\d+(?:/0)? ?AWG|\d+(?:\.\d+)? ?mm[2²])"
)
RAISES = frozenset({
    "bright-sun", "fuse-overloaded", "fuse-near-limit", "starting-opens-fuse", "fuse-over-wire",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Offered:
    """A way out that was offered, and what is wrong with it; empty where nothing is."""

    rule: str
    text: str
    wrong: str


@dataclass(frozen=True, slots=True)
class Proof:
    """The ways out of one text: how many there were to try, and those that were offered."""

    candidates: int
    offered: tuple[Offered, ...]


@cache
def proof(file: str, text: str | None = None) -> Proof:
    """Try the ways out of a text, and judge those that are offered from outside."""
    raw = check(file, text=text)
    count = sum(one.fix is not None and one.fix.is_edit for one in raw.findings)
    result = tried(raw)
    found = []
    for one in result.findings:
        if one.fix is not None and one.fix.is_tried:
            wrong = "; ".join(_wrong(result, one, one.fix.edits))
            found.append(Offered(one.rule, one.fix.text, wrong))
    both = together(result, ("safe", "ask"))
    if both.findings:
        edits = tuple(edit for held in both.edits.values() for edit in held)
        wrong = "; ".join(_unmended(result, both.findings, edits))
        found.append(Offered("together", ", ".join(edit.text for edit in edits), wrong))
    return Proof(count, tuple(found))


def _wrong(result: Result, finding: Finding, edits: tuple[Edit, ...]) -> Iterator[str]:
    yield from _unmended(result, (finding,), edits)
    if finding.rule != "wrong-wire-found":
        # What serves until a wire is pulled is not what belongs there then.
        yield from _unsized(result, edits)
    fitted = tuple(edit for edit in edits if _amps(edit.text) and edit.span.end > edit.span.start)
    copper = tuple(edit for edit in edits if edit not in fitted)
    if 0 < len(copper) < len(edits) and not list(_unmended(result, (finding,), copper)):
        yield "writes a rating where that which is fitted may stay"
    lines = _lines_of(result, finding)
    for edit in edits:
        old = result.texts[edit.span.file][edit.span.start : edit.span.end]
        if not WRITTEN.fullmatch(edit.text) and finding.rule != "name-not-defined":
            yield f"writes `{edit.text}`"
        if (edit.span.file, _line(result, edit)) not in lines:
            yield f"touches line {_line(result, edit)}, which has no part in it"
        if _amps(edit.text) > _amps(old) > 0.0 and finding.rule not in RAISES:
            yield f"raises `{old}` to `{edit.text}`"


def _unsized(result: Result, edits: tuple[Edit, ...]) -> Iterator[str]:
    """The ratings that edits write and that are not left as they are where sizes are asked for."""
    again = _with(result, edits)
    if result.study is None or again.study is None:
        return
    was = {one.about.name: one.rating_a for one in result.study.rig.devices}
    for device in again.study.rig.devices:
        rated_a = device.rating_a
        if device.protects and isinstance(rated_a, float) and was.get(device.about.name) != rated_a:
            duty = duty_of(again.study, device)
            if not duty.allows(rated_a) and duty.is_possible:
                yield f"`{device.about.name}` would be sized anew: it needs {duty.needed_a:.4g} A"


def _unmended(
    result: Result, findings: tuple[Finding, ...], edits: tuple[Edit, ...]
) -> Iterator[str]:
    """What is still there of some findings with the edits made, and what has come."""
    again = _with(result, edits)
    before = Counter(_key(result, one) for one in result.findings)
    after = Counter(_key(again, one) for one in again.findings)
    for one in findings:
        if _as_grave(again, result, one) >= _as_grave(result, result, one):
            yield f"still there: {one.headline}"
    lightest = max(RANK[one.severity] for one in findings)
    for one in again.findings:
        new = after[_key(again, one)] > before[_key(again, one)]
        if new and (RANK[one.severity] <= lightest or one.severity is not Severity.ADVICE):
            yield f"has come: {one.severity.value}[{one.rule}] {one.headline}"
    was = Counter(one.severity for one in result.findings)
    for severity, count in Counter(one.severity for one in again.findings).items():
        if severity in (Severity.ERROR, Severity.DANGER) and count > was[severity]:
            yield f"more of {severity.value}"


def _as_grave(found: Result, result: Result, finding: Finding) -> int:
    """How many findings of the rule in that line are as grave: what is lighter is left to do."""
    key, rank = _key(result, finding), RANK[finding.severity]
    return sum(_key(found, one) == key and RANK[one.severity] <= rank for one in found.findings)


def _key(result: Result, finding: Finding) -> tuple[str, str, int]:
    span = finding.at.span
    return finding.rule, span.file, result.texts[span.file].count("\n", 0, span.start)


def _with(result: Result, edits: tuple[Edit, ...]) -> Result:
    """What is found with some edits written in."""
    texts = ((file, _spliced(text, file, edits)) for file, text in result.texts.items())
    return _judged(result.file, result.book, tuple(texts))


@lately(8)
def _judged(file: str, book: str, texts: tuple[tuple[str, str], ...]) -> Result:
    instead = dict(texts)
    return check(file, book, text=instead[file], instead=instead)


def _spliced(text: str, file: str, edits: tuple[Edit, ...]) -> str:
    for edit in sorted(edits, key=lambda one: -one.span.start):
        assert "\n" not in edit.text
        if edit.span.file == file:
            text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


def _line(result: Result, edit: Edit) -> int:
    return result.texts[edit.span.file].count("\n", 0, edit.span.start) + 1


def _amps(text: str) -> float:
    found = re.search(r"(\d+(?:\.\d+)?) ?A\b", text)
    return float(found[1]) if found else 0.0


def _lines_of(result: Result, finding: Finding) -> set[tuple[str, int]]:
    """The lines that a finding speaks of: its places, and what its loads hang on."""
    study, fix = result.study, finding.fix
    spans = [label.span for label in (finding.at, *finding.others)]
    if study is not None and fix is not None:
        circuits = {wire.circuit for wire in study.rig.conductors for span in spans
                    if wire.circuit and wire.span == span}  # fmt: skip
        circuits |= {load.circuit for load in study.rig.loads for span in spans
                     if load.circuit and load.about.span == span}  # fmt: skip
        loads = {load.about.name for load in study.rig.loads for span in spans
                 if load.about.span == span}  # fmt: skip
        circuits |= {one.place for one in study.rig.circuits for span in spans
                     if one.span.start <= span.start < one.span.end}  # fmt: skip
        users = circuits | loads
        for wire in study.rig.conductors:
            is_named = wire.size_span in spans or wire.span in spans
            if is_named or wire.circuit in circuits or flows_of(study).users(wire.name) & users:
                spans += [wire.span, wire.size_span]
        for device in study.rig.devices:
            # What lies on a wire that is spoken of stands in the line of the wire.
            ends = {end for wire in study.rig.conductors for end in (wire.a, wire.b)
                    if wire.span in spans}  # fmt: skip
            if ends & {device.line, device.load}:
                spans.append(device.rating_span or device.about.span)
        for device in study.rig.devices:
            if (device.rating_span or device.about.span) == finding.at.span:
                spans += [one.span for one in study.rig.conductors
                          if {one.a, one.b} & {device.line, device.load}]  # fmt: skip
    return {(span.file, result.texts[span.file].count("\n", 0, span.start) + 1) for span in spans}


def faulty() -> list[Path]:
    """Texts with something wrong in them, of the examples and of the tests."""
    return sorted((EXAMPLES / "faulty").glob("*.rig"))


def mutants(every: int = 1) -> Iterator[tuple[str, str, str]]:
    """Name, file and text of hazards put into the sound examples."""
    number = 0
    for kind in HAZARDS.values():
        for name in SOUND:
            example = sound(name)
            for mutant in kind.places(example):
                number += 1
                if number % every == 0:
                    yield f"{kind.name}, {name}, {mutant.where.strip()}", example.file, mutant.text


def main(every: int = 1) -> None:
    """Print what was tried, what was offered, and each way out that does not serve."""
    texts = candidates = 0
    offered: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    cases = [(file.stem, str(file), file.read_text(encoding="utf-8")) for file in faulty()]
    for name, file, text in (*cases, *mutants(every)):
        texts += 1
        found = proof(file, text)
        candidates += found.candidates
        for one in found.offered:
            offered[one.rule] += 1
            if one.wrong:
                wrong[one.rule] += 1
                sys.stdout.write(f"{name}: {one.rule}: {one.text}: {one.wrong}\n")
                sys.stdout.flush()
    for rule, count in sorted(offered.items()):
        sys.stdout.write(f"{rule:30} {count:5} offered, {wrong[rule]} do not serve\n")
    alone = sum(offered.values()) - offered["together"]
    sys.stdout.write(
        f"{texts} texts: {candidates} ways out tried, {alone} offered, "
        f"{sum(wrong.values())} do not serve\n"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
