"""The rows of `tests/page/typed.toml`: readings as they are typed, and how they are judged."""

import tomllib
from dataclasses import dataclass
from math import inf

from helpers.home import TESTS


@dataclass(frozen=True, slots=True)
class Typed:
    """What is typed in a blank of a unit, what is expected there, what is kept, the verdict."""

    text: str
    unit: str
    low: float
    high: float
    kept: str
    verdict: str

    @property
    def bound(self) -> float | None:
        """The most that is expected, None without an end."""
        return None if self.high == inf else self.high


def typed_rows() -> tuple[Typed, ...]:
    """Every row."""
    text = (TESTS / "page" / "typed.toml").read_text(encoding="utf-8")
    return tuple(Typed(*row) for row in tomllib.loads(text)["rows"])
