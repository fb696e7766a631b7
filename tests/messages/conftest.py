import os

import pytest


@pytest.fixture
def bless(request: pytest.FixtureRequest) -> bool:
    asked = bool(request.config.getoption("--bless"))
    if asked and os.environ.get("CI"):
        pytest.fail("goldens are renewed and read by a person, not in CI")
    return asked
