"""Every case file beside this one: all findings expected, all expectations met."""

import re
from pathlib import Path

import pytest

from helpers.cases import told_of
from make_readme import rules_part
from rigfolio.findings import RANK, Severity, Span
from rigfolio.manual import explain
from rigfolio.rule import rule, rule_names


def test_case(case):
    """What is expected, and no severity that the rule does not say."""
    told = told_of(case)
    assert case.mismatches(told.findings, told.texts) == []
    for finding in told.findings:
        if finding.rule in rule_names():
            one = rule(finding.rule)[0]
            assert finding.severity in (one.severity, *one.also), finding.rule


def test_every_rule_has_a_case_that_fires():
    folder = Path(__file__).parent
    for name in rule_names():
        text = (folder / f"{name}.rig").read_text(encoding="utf-8")
        assert f"#! {name} " in text, name


def test_a_severity_that_a_rule_does_not_say_is_refused():
    one = rule("load-reversed")[0]
    with pytest.raises(ValueError, match="does not say"):
        one.finding("", Span("a", 0, 1), severity=Severity.DANGER)


@pytest.mark.parametrize("name", rule_names())
def test_the_table_and_the_page_of_a_rule_say_one_severity(name):
    one = rule(name)[0]
    row = next(r for r in rules_part("").splitlines() if r.startswith(f"| `{name}` |"))
    said = row.split("|")[2].strip()
    assert f"severity  {said}\n" in explain(name)
    every = sorted((one.severity, *one.also), key=RANK.__getitem__)
    assert re.split(", | or ", said) == [each.value for each in every]
