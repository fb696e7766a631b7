"""The search itself, in a world so simple that all of it can be worked out by hand.

A bank of 12 V drives 1 A: each ohm of a fault takes 1 V off the reading that it lies before.
"""

from math import exp, log, pi, sqrt
from types import SimpleNamespace

import pytest

from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.amounts import Candidate
from rigfolio.diagnosis.pairs import Pairs
from rigfolio.diagnosis.posterior import _FaultSearch
from rigfolio.diagnosis.spreads import Expected
from rigfolio.diagnosis.suspects import Suspect, SuspectKind
from rigfolio.operating import Wrong

SPREAD = 0.1
BEST = 1.0 / (SPREAD * sqrt(2.0 * pi))
"""The density of a reading that fits exactly [1/V]."""
TENS = (0.1, 1.0, 10.0)


class World:
    """Readings that are volts behind the edges `W1`, `W2`, ..., each behind its own alone."""

    def __init__(self, *observed: float) -> None:
        self.observed = observed
        amperes = SimpleNamespace(reading=SimpleNamespace(measure="current"))
        self.numeric = (amperes,) * len(observed)
        self.fit = self
        self.most_log = len(observed) * log(BEST)
        # Whatever else may be wrong is far less likely here.
        self.any_log = -1e3

    def solve(self, wrong: Wrong) -> tuple[Wrong, ...]:
        return (wrong,)

    def stand_at(self, expected: Expected) -> tuple[float, ...]:
        return (0.0,)

    def still(self, suspect: Suspect, wrong: Wrong, shown: object) -> Expected:
        ohms = dict.fromkeys((f"W{at + 1}" for at in range(len(self.observed))), 0.0)
        for name, ohm in wrong.ohm:
            if name in ohms:
                ohms[name] += ohm
        values = tuple(12.0 - ohm for ohm in ohms.values())
        none = (0.0,) * len(values)
        # What is called W9 moves no reading, and is heard.
        return Expected(values, (none,), none, -1.0 if suspect.name == "W9" else -3.0)

    expected = still

    def led(self, suspect: Suspect, wrong: Wrong, expected: Expected) -> Expected:
        return expected

    def log_likelihood(self, expected: Expected) -> float:
        offs = zip(self.observed, expected.values, strict=True)
        return sum(log(BEST) - 0.5 * ((a - b) / SPREAD) ** 2 for a, b in offs)

    def misfit(self, expected: Expected) -> float:
        return abs(self.observed[0] - expected.values[0])

    def unexplained(self, _: Expected) -> tuple[object, ...]:
        return ()


def suspect(
    name: str, amounts: tuple[float, ...] = TENS, kind: SuspectKind = "joint", weight: float = 1.0
) -> Suspect:
    return Suspect(kind, name, "", weight, amounts)


def search(*observed: float) -> _FaultSearch:
    made = object.__new__(_FaultSearch)
    made.evidence = World(*observed)
    made.total = 20.0
    nothing = suspect("", (0.0,), "nothing")
    made.sound = made._trial(nothing, 0.0, ())
    made.still = made.sound.expected
    made.sound_log = made.evidence.fit.log_likelihood(made.still)
    return made


def tried(one: _FaultSearch, *suspects: Suspect) -> list[Candidate]:
    every = [one._tried(each) for each in suspects]
    return [each for each in every if each is not None]


def pairs(one: _FaultSearch, candidates: list[Candidate]) -> Pairs:
    return Pairs(one.evidence, candidates, one.sound.expected, one.total)


def test_what_moves_no_reading_is_left_as_likely_as_it_was() -> None:
    one = search(12.0, 12.0)
    moving, still = tried(one, suspect("W2"), suspect("W7"))
    assert moving.touches
    assert len(moving.trials) == 3
    assert not still.touches
    assert still.log_evidence == one.sound_log
    assert still.trials[0].amount == still.fine[0][0] == 10.0
    # What is only heard counts as well; a twentieth of a millivolt does not, nor does nothing.
    assert tried(one, suspect("W9"))[0].touches
    assert not tried(one, suspect("W1", (0.00005,)))[0].touches
    assert tried(one, suspect("W1", (0.0002,)))[0].touches
    assert not tried(one, suspect("W1", TENS, "nothing"))[0].touches


def test_a_load_draws_no_more_than_its_fuse_carries() -> None:
    one = search(12.0)
    one._opens = lambda shown: shown[0].draws[0][1] > 2.0
    heavy = suspect("Fan", (1.3, 1.7, 2.2), "overload")
    assert one._amounts(heavy) == (1.3, 1.7)
    assert one._amounts(suspect("W1")) == TENS
    one._opens = lambda _: True
    assert one._tried(heavy) is None


def test_about_the_best_amount_the_network_is_asked_again() -> None:
    # 2.5 V are missing: 2.5 ohm. Between 1 and 10 ohm the meter does not go straight by the
    # logarithm: in a straight line 1.5 V of 9 V are a sixth of a decade, 1.5 ohm.
    one = search(9.5)
    decades = (0.01, 0.1, 1.0, 10.0, 100.0)
    (before,) = tried(one, suspect("W1", decades))
    after = one._sharpened(before)
    best = [max(each.fine, key=lambda f: f[2])[0] for each in (before, after)]
    assert best == pytest.approx([10.0 ** (1.0 / 8.0), 10.0 ** (3.0 / 8.0)])
    # As many steps as before, from small to large.
    amounts = [amount for amount, _, _ in after.fine]
    assert amounts == pytest.approx([amount for amount, _, _ in before.fine])
    # Each quarter of a decade beside it was worked out; the rest is as it was.
    shown = {round(amount, 6): expected.values[0] for amount, expected, _ in after.fine}
    for part in (-0.75, -0.5, 0.25, 0.5, 1.25, 1.75):
        assert shown[round(10.0**part, 6)] == pytest.approx(12.0 - 10.0**part)
    assert after.fine[:8] == before.fine[:8]
    assert after.fine[-1] == before.fine[-1]


def test_what_has_no_amounts_between_is_not_asked_again() -> None:
    one = search(9.5)
    for each in (suspect("W1", (2.0,)), suspect("W1", (2.0, 3.0), "chafed")):
        (made,) = tried(one, each)
        assert one._sharpened(made) is made
    # Of two amounts there is something between.
    (made,) = tried(one, suspect("W1", (1.0, 10.0)))
    assert one._sharpened(made) is not made


def test_two_faults_explain_what_neither_does() -> None:
    # 1 V is missing in one reading and 10 V in the other. Of 3 times 3 amounts one pair fits.
    one = search(11.0, 2.0)
    ((found_log, made),) = pairs(one, tried(one, suspect("W1"), suspect("W2"))).verdicts(-1e3)
    # The one that explains more by itself is told first.
    assert [each.name for each in made.faults] == ["W2", "W1"]
    assert made.amounts == (10.0, 1.0)
    assert made.spans == ((10.0, 10.0), (1.0, 1.0))
    assert made.touches
    assert (made.misfit, made.share, made.trials) == (0.0, 0.0, ())
    prior = figure("weight", "pair") / 20.0**2
    assert exp(found_log) == pytest.approx(prior * BEST**2 / 9.0)


def test_the_best_of_pairs_is_looked_for_between_the_amounts() -> None:
    # Straight between 1 and 10 ohm: an eighth of 9 V more is a reading of 9.875 V, for which the
    # meter would want 2.125 ohm; the amount is 10^(1/8) ohm, and that is held against the network.
    one = search(9.875, 2.0)
    ((_, made),) = pairs(one, tried(one, suspect("W1"), suspect("W2"))).verdicts(-1e3)
    assert made.amounts == pytest.approx((10.0, 10.0 ** (1.0 / 8.0)))
    assert made.misfit == pytest.approx(abs(9.875 - (12.0 - 10.0 ** (1.0 / 8.0))))


@pytest.mark.parametrize("beside", [0.05, -0.05])
def test_pairs_that_cannot_come_to_a_thousandth_are_left_out(beside: float) -> None:
    # Three faults make three pairs: each is asked if it could come to a third of a thousandth.
    one = search(11.0, 11.0, 11.0)
    three = tried(one, *(suspect(f"W{at}") for at in (1, 2, 3)))
    most = log(figure("weight", "pair") / 20.0**2) + one.evidence.fit.most_log
    singles = most - log(1e-3 / 3.0)
    assert len(pairs(one, three).verdicts(singles + beside)) == (0 if beside > 0.0 else 3)
    # Two faults make one pair, which is asked from a thousandth on.
    singles = most - log(1e-3)
    assert len(pairs(one, three[:2]).verdicts(singles + beside)) == (0 if beside > 0.0 else 1)
    # Two faults of one part are no pair; one fault alone makes none.
    assert pairs(one, tried(one, suspect("W1"), suspect("W1"))).verdicts(-1e3) == []
    assert pairs(one, three[:1]).verdicts(-1e3) == []


def test_either_of_two_faults_explains_what_was_seen() -> None:
    one = search(11.0, 11.0)
    heard, other = suspect("W9"), suspect("W1")
    for a, b in ((heard, other), (other, heard)):
        assert pairs(one, [])._both(a, 1.0, b, 1.0).seen == -1.0


def candidate(name: str, log_evidence: float, *shown: float, weight: float = 1.0) -> Candidate:
    expected = Expected(shown, (), (), 0.0)
    one = suspect(name, weight=weight)
    return Candidate(one, (), ((1.0, expected, 0.0),), log_evidence, touches=True)


def test_paired_are_the_six_best_and_three_for_each_reading() -> None:
    # The nearest to 5 V are those of 5.1, 5.2 and 5.3 V, whatever they are worth.
    every = [candidate(f"A{at}", -float(at), 12.0) for at in range(8)]
    near = [candidate(f"B{at}", -50.0, 5.0 + at / 10.0) for at in (1, 2, 3, 4)]
    known = candidate("C", -7.5, 12.0, weight=exp(5.0))
    aside = Candidate(suspect("D"), (), every[0].fine, 9.0, touches=False)
    found = pairs(search(5.0), [aside, *every, *near, known])._chosen()
    # One is seldom right by itself and yet more common: -7.5 and 5 are -2.5.
    names = [one.suspect.name for one in found]
    assert names == ["A0", "A1", "A2", "C", "A3", "A4", "B1", "B2", "B3"]
    # What is among the best already counts once.
    found = pairs(search(12.0), every)._chosen()
    assert [one.suspect.name for one in found] == [f"A{at}" for at in range(6)]
    # Many readings make no more than two dozen.
    many = []
    for at in range(48):
        shown = [5.0 if at % 12 == reading else 9.0 for reading in range(12)]
        many.append(candidate(f"E{at}", -float(at), *shown))
    assert len(pairs(search(*[5.0] * 12), many)._chosen()) == 24


def test_shares_add_up_and_the_likeliest_stands_first() -> None:
    one = search(11.0, 12.0)
    one.tried = tuple(tried(one, suspect("W2"), suspect("W1"), suspect("", (0.0,), "nothing")))
    made = one.verdicts()
    assert sum(each.share for each in made) == pytest.approx(1.0)
    shares = [round(each.share, 9) for each in made]
    assert shares == sorted(shares, reverse=True)
    assert made[0].faults[0].name == "W1"
    assert made[0].share > 0.9
