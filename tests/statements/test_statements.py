"""Every word of the language: what it puts into the graph, and what is said of its mistakes."""

import pytest

from rigfolio.judgement.result import load
from rigfolio.lang.lines import error
from rigfolio.reading.text import words


def test_statement(case, told):
    texts, rig, found = case.asked(load)
    text = next(iter(texts.values()))
    problems = [] if rig is None else [
        error(one.kind, one.at, one.name, here=one.near) for one in rig.problems
    ]  # fmt: skip
    assert case.mismatches([*found, *problems], texts) == []
    lines = told(rig, text) if rig else {}
    for line, expected in case.shown:
        wanted = expected.split(", ")
        assert any(set(wanted) <= set(each.split(", ")) for each in lines.get(line, [])), (
            f"line {line}: {expected!r} not among {lines.get(line)}"
        )
    assert case.shown or case.expected, "a case expects something"


def test_every_word_has_cases(request):
    folder = request.path.parent
    assert {file.stem for file in folder.glob("*.rig")} >= set(words())


@pytest.mark.parametrize("word", words())
def test_every_case_file_uses_its_word(word, request):
    text = (request.path.parent / f"{word}.rig").read_text("utf-8")
    heads = [line.split()[0] for line in text.splitlines() if line.strip()]
    assert word in heads
