"""Capitals never matter: a rig text shouted, or typed with a stuck key, is the same rig."""

import re
from random import Random

from hypothesis import given, settings, strategies as st

from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.judgement.result import check

NAMES = sorted(path.name for path in EXAMPLES.glob("*.rig"))
LABELS = re.compile(r'"[^"\n]*"|#[^\n]*')


def _retyped(text, toggles):
    """The text with some of its letters in the other case, those of labels and comments kept."""
    made, at = [], 0
    for kept in LABELS.finditer(text):
        made += [_toggled(text[at : kept.start()], toggles), kept.group()]
        at = kept.end()
    return "".join((*made, _toggled(text[at:], toggles)))


def _toggled(text, toggles):
    # Only letters that have one counterpart each way; a micro sign or an ohm sign stays.
    return "".join(
        char.swapcase() if char.isascii() and toggles.random() < 0.3 else char for char in text
    )


@settings(max_examples=6)
@given(name=st.sampled_from(NAMES), seed=st.integers(0, 10_000))
def test_the_same_findings_whatever_the_capitals(name, seed):
    text = (EXAMPLES / name).read_text(encoding="utf-8")
    plain = checked(EXAMPLES / name)
    typed = check(str(EXAMPLES / name), text=_retyped(text, Random(seed)))
    assert [(one.rule, one.severity, one.at.span) for one in typed.findings] == [
        (one.rule, one.severity, one.at.span) for one in plain.findings
    ]
    assert typed.study is not None
    assert plain.study is not None
    assert len(typed.study.rig.conductors) == len(plain.study.rig.conductors)
    # A part is called as it is defined, and that has been retyped too.
    assert {name.casefold() for name in typed.study.rig.where} == {
        name.casefold() for name in plain.study.rig.where
    }
