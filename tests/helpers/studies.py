"""Studies of rigs that a test writes down in the language, and of the examples."""

from rigfolio.judgement.result import load
from rigfolio.study import Study


def study_from(text: str, book: str = "") -> Study:
    """The study of a text; an error in it fails the test."""
    _, rig, errors = load("case.rig", text)
    assert rig is not None, errors
    assert rig.problems == (), rig.problems
    return Study(rig, book or rig.book)
