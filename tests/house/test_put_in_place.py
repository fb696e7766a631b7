"""What a test puts in the place of a function ends with that test, wherever it is asked for."""

import sys
from collections.abc import Iterator
from types import ModuleType

import pytest

from rigfolio.faces import face


@pytest.fixture
def home() -> Iterator[ModuleType]:
    """The file of a package whose face nobody has asked for `answer` yet."""
    package, file = ModuleType("faced"), ModuleType("faced.file")
    package.__package__ = file.__package__ = "faced"
    vars(package)["__getattr__"], _ = face("faced", file="answer")
    vars(file)["answer"], vars(package)["file"] = "true", file
    sys.modules |= {"faced": package, "faced.file": file}
    yield file
    del sys.modules["faced"], sys.modules["faced.file"]


@pytest.mark.parametrize("is_named", [True, False], ids=["by name", "by module"])
def test_a_face_hands_on_nothing_that_was_for_one_test(
    home: ModuleType, is_named: bool, request: pytest.FixtureRequest
) -> None:
    import faced  # type: ignore[import-not-found]

    monkeypatch: pytest.MonkeyPatch = request.getfixturevalue("monkeypatch")
    if is_named:
        monkeypatch.setattr("faced.file.answer", "for one test")
    else:
        monkeypatch.setattr(home, "answer", "for one test")
    assert vars(home)["answer"] == "for one test"
    # Asked for the first time while the other was in its place.
    assert isinstance(faced.answer, str)
    monkeypatch.undo()
    assert vars(home)["answer"] == faced.answer == "true"
