"""Every hazard put into a sound example is found, by a rule that names it, where it was put."""

import pytest

from mutations.edits import SOUND, sound
from mutations.hazard import HAZARDS
from mutations.score import NO_HAZARD, tried
from rigfolio.findings import Severity

LEAST_KINDS = 25


def test_there_are_kinds_enough():
    assert len(HAZARDS) >= LEAST_KINDS


@pytest.mark.parametrize("name", SOUND)
def test_the_examples_themselves_are_sound(name):
    loud = [one for one in sound(name).findings() if one.severity is not Severity.ADVICE]
    assert loud == []


@pytest.mark.parametrize("kind", HAZARDS.values(), ids=lambda kind: kind.name)
def test_every_hazard_is_found(kind):
    every = list(tried(kind))
    assert every, "there is no place for it"
    missed = [
        (one.example, one.mutant.where.strip(), one.instead)
        for one in every
        if not one.is_caught and not one.harmless
    ]
    assert missed == [], f"{len(every) - len(missed)} of {len(every)} found"
    # An exception that is found after all is no exception any more.
    assert [one.mutant.where for one in every if one.is_caught and one.harmless] == []
    wanted = {where for name, _, where in NO_HAZARD if name == kind.name}
    met = {where for where in wanted for one in every if one.mutant.where.startswith(where)}
    assert met == wanted


def test_every_rule_that_a_text_can_break_has_a_hazard():
    from rigfolio.rule import rule_names

    named = {name for kind in HAZARDS.values() for name in kind.rules}
    assert set(rule_names()) - named == set()
