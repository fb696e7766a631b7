"""Branch coverage within the time of a check: each test is followed once.

`RIGFOLIO_MEASURE=1 pytest` follows what is imported, and the first case of each test function; its
further cases, and properties, which take a hundred examples each, run unfollowed. What is reached
is thus a lower bound of what the whole suite reaches, for a quarter of the price. `coverage
combine` and `coverage report` then hold it against the bound in pyproject.toml.
"""

import os
from collections.abc import Generator

import pytest

NAME = "RIGFOLIO_MEASURE"


class Measured:
    """Follows some tests of one process, and writes down what they reached at its end."""

    def __init__(self) -> None:
        from coverage import Coverage

        self._coverage = Coverage(data_suffix=True)
        self._seen: set[str] = set()
        # Modules are read once, most of them while tests are looked for.
        self._coverage.start()

    def pytest_collection_finish(self) -> None:
        """All that is read at the start is read."""
        self._coverage.stop()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Follow a test that is the first of its kind."""
        if not self._is_first(item):
            return (yield)
        self._coverage.start()
        try:
            return (yield)
        finally:
            self._coverage.stop()

    def pytest_sessionfinish(self) -> None:
        """Write down what was reached."""
        self._coverage.stop()
        self._coverage.save()

    def _is_first(self, item: pytest.Item) -> bool:
        kind = item.nodeid.split("[", 1)[0]
        if kind in self._seen or hasattr(getattr(item, "obj", None), "is_hypothesis_test"):
            return False
        self._seen.add(kind)
        return True


measured = Measured() if os.environ.get(NAME) else None
