"""What rules say of every case beside this one, to the last word, figure and place.

A case expects a part of what is said; here stands all of it, so that no change of a severity, of
another party, of a way out or of a figure goes by unread. `pytest tests/rules --bless` writes it
anew; read the difference before it is kept.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from helpers.cases import read_cases, told_of
from rigfolio.findings import Finding, Label, Span

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.rig"))
SAID = HERE / "said"


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_all_that_is_said(file, bless):
    said = "".join(f"{line}\n" for line in _of_file(file))
    golden = SAID / f"{file.stem}.txt"
    if bless:
        golden.write_text(said, encoding="utf-8")
    assert said == golden.read_text(encoding="utf-8")


def test_nothing_is_kept_of_a_file_that_is_gone():
    assert sorted(file.stem for file in SAID.iterdir()) == [file.stem for file in FILES]


def _of_file(file: Path) -> Iterator[str]:
    for case in read_cases(file):
        told = told_of(case)
        yield f"# {case.title}"
        for finding in told.findings:
            yield from _said(finding, told.texts)


def _said(finding: Finding, texts: Mapping[str, str]) -> Iterator[str]:
    yield f"{finding.severity.value}[{finding.rule}] {finding.headline}"
    yield f"  at {_place(finding.at, texts)}"
    yield from (f"  and {_place(label, texts)}" for label in finding.others)
    if finding.source is not None:
        yield f"  source {finding.source}"
    fix = finding.fix
    if fix is not None:
        yield f"  {fix.kind} {fix.text}"
        yield from (
            f"    {one.what} of {one.of}: {one.to} {one.at}".rstrip() for one in fix.changes
        )
        yield from (f"    {_cut(texts, one.span)} -> {one.text!r}" for one in fix.edits)
        if fix.otherwise:
            yield f"    or {fix.otherwise}"
    if finding.numbers:
        yield f"  {', '.join(f'{name} {value:.6g}' for name, value in finding.numbers)}"


def _place(label: Label, texts: Mapping[str, str]) -> str:
    return f"{_cut(texts, label.span)} {label.text}".rstrip()


def _cut(texts: Mapping[str, str], span: Span) -> str:
    """What stands in a place, and its line where it is not the whole of that."""
    text = texts[span.file]
    first = text.rfind("\n", 0, span.start) + 1
    line = text[first : text.find("\n", span.start)].split("#")[0].strip()
    held = text[span.start : span.end]
    return repr(held) if held in (line, "") or "\n" in held else f"{held!r} of {line!r}"
