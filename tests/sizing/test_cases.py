"""Every case file beside this one: what is proposed for a line stands behind it, worked by hand.

Behind a line stands a part of what is proposed for it, `#> change, 14 AWG, by wire-overloaded`; all
that is said of a case stands in `said/`, to the last figure. `pytest tests/sizing --bless` writes
that anew; read the difference before it is kept.
"""

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.cases import Case, read_cases
from helpers.studies import study_from
from rigfolio.findings import Span
from rigfolio.sizing import Proposal, sizes
from rigfolio.study import Study
from rigfolio.units import Size, show

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.rig"))
SAID = HERE / "said"


def test_what_is_proposed_for_a_line(case: Case) -> None:
    assert case.shown, "a case expects something"
    said = of_lines(case.text)
    for line, expected in case.shown:
        wanted = set(expected.split(", "))
        assert any(wanted <= set(each.split(", ")) for each in said[line]), (
            f"line {line}: {expected!r} not among {said[line]}"
        )


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_all_that_is_proposed(file: Path, bless: bool) -> None:
    said = "".join(f"{line}\n" for case in read_cases(file) for line in in_full(case))
    golden = SAID / f"{file.stem}.txt"
    if bless:
        golden.write_text(said, encoding="utf-8")
    assert said == golden.read_text(encoding="utf-8")


def in_full(case: Case) -> Iterator[str]:
    yield f"# {case.title}"
    lines = case.text.split("\n")
    for number, said in sorted(of_lines(case.text).items()):
        yield f"{lines[number - 1].split('#')[0].strip()}"
        yield from (f"    {each}" for each in said)


def of_lines(text: str) -> dict[int, list[str]]:
    """What is proposed, by the number of the line that it is for."""
    study = study_from(text)
    found: dict[int, list[str]] = defaultdict(list)
    for one in sizes(study):
        head = text.count("\n", 0, _head(study, one).start) + 1
        found[head].append(f"{one.kind} `{one.label}`, {show(one.demand_a, 'A')}")
        for span, words in _told(one):
            found[text.count("\n", 0, span.start) + 1].append(words)
        if one.missing or one.problem:
            why = one.problem or f"needs {' and '.join(one.missing)}"
            found[head].append(f"left alone: {why}")
    return found


def _told(one: Proposal) -> Iterator[tuple[Span, str]]:
    for fuse in one.fuses:
        least = f"least {show(fuse.least_a, 'A')}" if fuse.least_a is not None else "no least"
        parts = [f"{fuse.kind} {fuse.verdict}", show(fuse.fit_a, "A"), least]
        parts += [f"by {fuse.decisive or 'nothing'}", f"for {show(fuse.needed_a, 'A')}"]
        if fuse.strained_a:
            parts.append(f"strained by {show(fuse.strained_a, 'A')}")
        if fuse.start is not None:
            parts.append(f"start of {show(fuse.start.current_a, 'A')}")
        if fuse.verdict == "change" and fuse.has_a is not None:
            parts.append(f"was {show(fuse.has_a, 'A')}")
        yield fuse.line, ", ".join(parts)
    for wire in one.wires:
        by, bears = wire.decisive or "nothing", show(wire.needed_a, "A")
        least = f"least {wire.least.text}"
        is_told = wire.verdict == "change" and isinstance(wire.has, Size)
        was = f", was {wire.has.text}" if is_told else ""
        yield wire.line, f"{wire.verdict}, {wire.fit.text}, {least}, by {by}, bears {bears}{was}"


def _head(study: Study, one: Proposal) -> Span:
    """The line that a section is called by."""
    circuit, device = study.circuit(one.place), study.device(one.place)
    if circuit is not None:
        return circuit.span
    return study.rig.conductor(one.place).span if device is None else device.about.span
