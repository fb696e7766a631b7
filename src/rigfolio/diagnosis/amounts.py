"""How much of a fault there may be: what is shown in steps between the amounts that were solved."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeAlias

from rigfolio.diagnosis.spreads import Expected
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.verdicts import Trial
from rigfolio.record import record, replace

# Between two amounts that were worked out, what is shown is taken to go straight [-]; where a fault
# does well, that many are worked out between them first: a load that regulates bends it.
BETWEEN = 8
SHARPER = 4

Fine: TypeAlias = tuple[float, Expected, float]
"""An amount, what it makes all probes show, and the logarithm of its likelihood."""


@record
class Candidate:
    """A suspect with all its trials, finely interpolated; the logarithm of its evidence [-]."""

    suspect: Suspect
    trials: tuple[Trial, ...]
    fine: tuple[Fine, ...]
    log_evidence: float
    touches: bool
    is_led: bool = False
    """Whether it is looked at where the readings say that the sources stand."""


def steps_of(suspect: Suspect) -> int:
    """In how many steps it goes from an amount that is worked out to the next."""
    return BETWEEN if suspect.is_graded else 1


def between(trials: Sequence[Trial], steps: int) -> Iterator[tuple[float, Expected]]:
    """What is shown at the amounts that were tried, and at steps from each to the next.

    Where something drops out or gives way between two amounts, all jumps with it: what lies half
    way is shown at no amount, and each of the two stands for what is nearer to it.
    """
    by_amount: tuple[tuple[float, ...], ...] = ()
    for one, two in pairwise(trials):
        if is_jump(one, two):
            for step in range(steps):
                near = one if 2 * step <= steps else two
                yield near.amount, replace(near.expected, by_amount=by_amount)
            continue
        # An amount stands for all that are nearer to it than to its neighbours.
        width = 1.0 / (steps * math.sqrt(12.0)) if steps > 1 else 0.0
        a, b = one.expected.values, two.expected.values
        by_amount = (tuple((y - x) * width for x, y in zip(a, b, strict=True)),)
        for step in range(steps):
            mixed = _mixed(one.expected, two.expected, step / steps)
            yield (
                amount_at(one.amount, two.amount, step / steps),
                replace(mixed, by_amount=by_amount),
            )
    yield trials[-1].amount, replace(trials[-1].expected, by_amount=by_amount)


def is_jump(one: Trial, two: Trial) -> bool:
    """Whether something drops out or gives way from an amount to the next."""
    return one.expected.gave_out != two.expected.gave_out


def amount_at(one: float, two: float, part: float) -> float:
    """The amount at a part of the way from one to another, by their logarithm [ohm or -]."""
    return one ** (1.0 - part) * two**part if one > 0.0 and two > 0.0 else one


def _mixed(one: Expected, two: Expected, part: float) -> Expected:
    def mix(a: Sequence[float], b: Sequence[float]) -> tuple[float, ...]:
        return tuple(x + (y - x) * part for x, y in zip(a, b, strict=True))

    return Expected(
        mix(one.values, two.values),
        tuple(mix(a, b) for a, b in zip(one.by_emf, two.by_emf, strict=True)),
        mix(one.by_load, two.by_load),
        one.seen if part < 0.5 else two.seen,
        by_inside=tuple(mix(a, b) for a, b in zip(one.by_inside, two.by_inside, strict=True)),
        gave_out=one.gave_out,
    )


def span_of(amounts: Sequence[float], weights: Sequence[float]) -> tuple[float, float]:
    """From which to which amount nine tenths of the weight lie."""
    pairs = sorted(zip(amounts, weights, strict=True))
    whole, so_far = sum(weights), 0.0
    low = high = pairs[-1][0]
    is_begun = False
    for amount, weight in pairs:
        so_far += weight
        if not is_begun and so_far >= 0.05 * whole:
            low, is_begun = amount, True
        if so_far >= 0.95 * whole:
            high = amount
            break
    return low, high


def weights_of(one: Candidate) -> tuple[tuple[float, Trial], ...]:
    """The trials of a suspect with the share of its likelihood that lies about each."""
    most = max(log for _, _, log in one.fine)
    shares = [0.0] * len(one.trials)
    steps = steps_of(one.suspect)
    for place, (_, _, log) in enumerate(one.fine):
        near = min(round(place / steps), len(one.trials) - 1)
        shares[near] += math.exp(log - most)
    whole = sum(shares)
    return tuple((share / whole, trial) for share, trial in zip(shares, one.trials, strict=True))
