"""Shares that a search gave to parts, held against how often these were at fault."""

import math
from collections import defaultdict
from collections.abc import Iterator

from rigfolio.diagnosis.verdicts import Diagnosis, by_part

BANDS = (0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97, 1.001)
"""What is said of a part is printed from 2 per cent on."""


class Calibration:
    """What was said of parts, with how often it was so.

    `first` counts only the part that is named first. Each answer counts by a weight: where every
    fault is put in once, by how often the book says that it happens; 1 where faults were drawn so.
    """

    def __init__(self) -> None:
        self.every: list[tuple[float, bool, float]] = []
        self.first: list[tuple[float, bool, float]] = []

    def add(self, diagnosis: Diagnosis, parts: set[str], weight: float) -> None:
        """Count what is said of all parts."""
        told = [(set(held), share) for held, share in by_part(diagnosis) if held]
        for held, share in told:
            if share >= BANDS[0]:
                self.every.append((min(share, 1.0), held == parts, weight))
        if told:
            self.first.append((min(told[0][1], 1.0), told[0][0] == parts, weight))

    def join(self, other: "Calibration") -> None:
        """Count another's answers as well."""
        self.every += other.every
        self.first += other.first

    def rows(self) -> Iterator[str]:
        """The table: what was said in each band, and how much of that was true."""
        yield "       said  answers  said %  true %   off |  named first  said %  true %   off\n"
        one, two = (_bands(held) for held in (self.every, self.first))
        for at, low in enumerate(BANDS[:-1]):
            if at in one or at in two:
                high = min(BANDS[at + 1], 1.0)
                cells = (_cells(held.get(at), width) for held, width in ((one, 7), (two, 11)))
                yield f"  {100 * low:3.0f} to {100 * high:3.0f} {' |'.join(cells)}\n"
        parts, firsts = (
            f"{100 * error(held):.1f} points ({100 * by_luck(held):.1f} by luck)"
            for held in (self.every, self.first)
        )
        yield f"  expected calibration error: {parts} over all parts,\n"
        yield f"    {firsts} over those named first\n"


def _bands(held: list[tuple[float, bool, float]]) -> dict[int, tuple[int, float, float, float]]:
    """By band: answers, their weight, what was said and what was true on average."""
    found: dict[int, list[tuple[float, bool, float]]] = defaultdict(list)
    for one in held:
        if one[0] >= BANDS[0]:
            found[max(at for at, low in enumerate(BANDS) if low <= one[0])].append(one)
    made = {}
    for at, each in found.items():
        whole = sum(weight for _, _, weight in each)
        said = sum(share * weight for share, _, weight in each) / whole
        true = sum(is_so * weight for _, is_so, weight in each) / whole
        made[at] = len(each), whole, said, true
    return made


def _cells(band: tuple[int, float, float, float] | None, width: int) -> str:
    if band is None:
        return " " * (width + 26)
    count, _, said, true = band
    return f" {count:>{width}}  {100 * said:6.1f}  {100 * true:6.1f}  {100 * (true - said):+5.1f}"


def error(held: list[tuple[float, bool, float]]) -> float:
    """How far shares are from the truth: the mean over all bands, by their weight [-].

    Source
    ------
    Expected calibration error over fixed bands (common practice).
    """
    bands = _bands(held).values()
    whole = sum(weight for _, weight, _, _ in bands)
    return sum(weight * abs(said - true) for _, weight, said, true in bands) / max(whole, 1e-9)


def by_luck(held: list[tuple[float, bool, float]]) -> float:
    """The error that would come out on average if all that was said held to the last digit [-].

    Few answers stray from any share: an error that is not well above this one says nothing. Answers
    count as apart from each other; those of one search are not, and stray further.

    Source
    ------
    Mean distance of a normal variable from its mean, sqrt(2 / pi) of its deviation (statistics).
    """
    spread: dict[int, float] = defaultdict(float)
    for share, _, weight in held:
        if share >= BANDS[0]:
            at = max(at for at, low in enumerate(BANDS) if low <= share)
            spread[at] += weight * weight * share * (1.0 - share)
    whole = sum(weight for _, weight, _, _ in _bands(held).values())
    return math.sqrt(2.0 / math.pi) * sum(map(math.sqrt, spread.values())) / max(whole, 1e-9)
