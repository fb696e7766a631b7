"""Every case file beside this one: all findings expected, all expectations met."""

from pathlib import Path

from rigfolio.judgement.result import check
from rigfolio.rule import rule_names


def test_case(case, tmp_path):
    result = check(case.write(tmp_path))
    assert case.mismatches(result.findings, result.texts) == []


def test_every_rule_has_a_case_that_fires():
    folder = Path(__file__).parent
    for name in rule_names():
        text = (folder / f"{name}.rig").read_text(encoding="utf-8")
        assert f"#! {name} " in text, name
