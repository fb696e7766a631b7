"""Branch coverage within the time of a check: each test is followed twice at most.

`RIGFOLIO_MEASURE=1 pytest` follows what is imported, and the first cases of each test function; its
further cases, and properties, which take a hundred examples each, run unfollowed. What is reached
is thus a lower bound of what the whole suite reaches, for a quarter of the price. `coverage
combine` and `coverage report` then hold it against the bound in pyproject.toml.
"""

import os
from collections import Counter
from collections.abc import Generator

import pytest

NAME = "RIGFOLIO_MEASURE"
_FOLLOWED = 2
"""How many cases of a test function: the second is often the one that is refused."""


class Measured:
    """Follows some tests of one process, and writes down what they reached at its end."""

    def __init__(self) -> None:
        from coverage import Coverage

        self._coverage = Coverage(data_suffix=True)
        self._seen: Counter[str] = Counter()
        # Modules are read once, most of them while tests are looked for.
        self._coverage.start()

    def pytest_collection_finish(self) -> None:
        """All that is read at the start is read."""
        self._coverage.stop()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Follow a test that is among the first of its kind."""
        if not self._is_followed(item):
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

    def _is_followed(self, item: pytest.Item) -> bool:
        if hasattr(getattr(item, "obj", None), "is_hypothesis_test"):
            return False
        kind = item.nodeid.split("[", 1)[0]
        self._seen[kind] += 1
        return self._seen[kind] <= _FOLLOWED


measured = Measured() if os.environ.get(NAME) else None
