"""Every `<name>.rig` here is broken in some way; `<name>.txt` is the whole message about it."""

import re
from pathlib import Path

import pytest

from rigfolio.judgement.many import check_tried as check
from rigfolio.judgement.messages.excerpt import Lines
from rigfolio.judgement.messages.report import as_text
from rigfolio.manual.topics import ERRORS
from rigfolio.rule import rule_names

HERE = Path(__file__).parent
NAMES = sorted(file.stem for file in HERE.glob("*.rig"))


@pytest.mark.parametrize("name", NAMES)
def test_message(name, bless, monkeypatch):
    monkeypatch.chdir(HERE)
    said = as_text([check(f"{name}.rig")])
    golden = HERE / f"{name}.txt"
    if bless:
        golden.write_text(said, encoding="utf-8")
    assert said == golden.read_text(encoding="utf-8")


def test_no_golden_without_a_text():
    assert sorted(file.stem for file in HERE.glob("*.txt")) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_manner(name):
    """What the house style asks of every message."""
    text = (HERE / f"{name}.txt").read_text(encoding="utf-8")
    heads = re.findall(r"^(error|danger|fault|unknown|advice)\[([a-z0-9-]+)\]: (.+)$", text, re.M)
    for _, rule, headline in heads:
        assert rule in ERRORS or rule in rule_names()
        assert not headline.endswith((".", "?", "!"))
        # Before what is found of a rig stands where, as it is called at the panel.
        words = headline.partition(": ")[2] or headline if rule in rule_names() else headline
        assert words[0] == words[0].lower()
    assert not re.search(r"\b(invalid|illegal|oops|did you mean|safe|passed|OK)\b", text)
    assert text.replace("\n", "").isprintable()


@pytest.mark.parametrize("name", NAMES)
def test_marks_stand_under_what_they_mark(name, monkeypatch):
    """Carets are as wide as the place, and the place is where the message says."""
    monkeypatch.chdir(HERE)
    result = check(f"{name}.rig")
    for finding in result.findings:
        text = result.texts[finding.at.span.file]
        assert 0 <= finding.at.span.start <= finding.at.span.end <= len(text)
        line, column = Lines(text).place(finding.at.span.start)
        before = text[: finding.at.span.start]
        assert line == before.count("\n") + 1
        assert column == len(before) - (before.rfind("\n") + 1) + 1


def test_findings_come_in_the_order_of_the_text(monkeypatch):
    monkeypatch.chdir(HERE)
    result = check("several.rig")
    starts = [finding.at.span.start for finding in result.findings]
    assert starts == sorted(starts)
    assert len({finding.rule for finding in result.findings}) >= 5
