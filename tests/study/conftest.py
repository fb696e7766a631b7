"""A study of a rig that a test writes down in the language."""

from collections.abc import Callable

import pytest

from rigfolio.judgement.result import load
from rigfolio.study import Study


@pytest.fixture(scope="session")
def study_of() -> Callable[[str], Study]:
    """Reads a text; an error in it fails the test."""

    def read(text: str, book: str = "") -> Study:
        _, rig, errors = load("case.rig", text)
        assert rig is not None, errors
        assert rig.problems == (), rig.problems
        return Study(rig, book or rig.book)

    return read
