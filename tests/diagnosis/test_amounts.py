"""How much of a fault there may be, and what two faults show together: each figure by hand."""

from math import exp, log, sqrt
from types import SimpleNamespace

import pytest

from rigfolio.books.trade.diagnosis import figure
from rigfolio.diagnosis.amounts import Candidate, amount_at, between, span_of, steps_of, weights_of
from rigfolio.diagnosis.pairs import Pairs, _around, _same_part
from rigfolio.diagnosis.posterior import _FaultSearch
from rigfolio.diagnosis.spreads import Expected
from rigfolio.diagnosis.suspects import Suspect, SuspectKind
from rigfolio.diagnosis.verdicts import Trial
from rigfolio.operating import NOTHING_WRONG

TENS = (0.1, 1.0, 10.0)


def suspect(kind: SuspectKind = "joint", name: str = "W1", circuit: str = "") -> Suspect:
    return Suspect(kind, name, circuit, 1.0, TENS)


def showing(value: float, seen: float = 0.0, emf: float = 0.0, load: float = 0.0) -> Expected:
    return Expected((value,), ((emf,),), (load,), seen)


def trial(amount: float, expected: Expected) -> Trial:
    return Trial(amount, NOTHING_WRONG, (), expected)


def candidate(logs: list[float], kind: SuspectKind = "joint", name: str = "W1") -> Candidate:
    """A fault of three amounts with what stands between them, and how likely each is."""
    trials = tuple(trial(each, showing(0.0)) for each in (0.1, 1.0, 10.0))
    fine = tuple((float(at), showing(float(at)), each) for at, each in enumerate(logs))
    return Candidate(suspect(kind, name), trials, fine, 0.0, touches=True)


def test_halfway_between_two_resistances_is_their_geometric_mean() -> None:
    # Faults come in decades: halfway from 0.1 to 10 ohm is 1 ohm, a quarter of the way from 1 to
    # 100 ohm the square root of 10.
    assert amount_at(0.1, 10.0, 0.5) == pytest.approx(1.0)
    assert amount_at(1.0, 100.0, 0.25) == pytest.approx(sqrt(10.0))
    assert amount_at(0.1, 0.9, 0.5) == pytest.approx(0.3)
    # From nothing there is no such way, nor to it.
    assert amount_at(0.0, 1.0, 0.5) == 0.0
    assert amount_at(1.0, 0.0, 0.5) == 1.0


def test_between_two_amounts_a_meter_goes_straight() -> None:
    tried = (trial(1.0, showing(12.0, -1.0, 0.4, 0.0)), trial(16.0, showing(8.0, -3.0, 0.0, 0.8)))
    made = list(between(tried, 4))
    assert [amount for amount, _ in made] == pytest.approx([1.0, 2.0, 4.0, 8.0, 16.0])
    assert [each.values[0] for _, each in made] == pytest.approx([12.0, 11.0, 10.0, 9.0, 8.0])
    assert [each.by_emf[0][0] for _, each in made] == pytest.approx([0.4, 0.3, 0.2, 0.1, 0.0])
    assert [each.by_load[0] for _, each in made] == pytest.approx([0.0, 0.2, 0.4, 0.6, 0.8])
    # What is seen is that of the nearer one.
    assert [each.seen for _, each in made] == [-1.0, -1.0, -3.0, -3.0, -3.0]
    # A step of 1 V that is as likely anywhere has a deviation of 1 V by the root of twelve.
    assert all(each.by_amount == ((pytest.approx(-1.0 / sqrt(12.0)),),) for _, each in made)
    # In two steps of 2 V it is twice that.
    made = list(between(tried, 2))
    assert all(each.by_amount == ((pytest.approx(-2.0 / sqrt(12.0)),),) for _, each in made)


def test_amounts_that_stand_alone_have_nothing_between_them() -> None:
    # A chafed wire has opened its fuse or has not.
    assert steps_of(suspect("chafed")) == 1
    assert steps_of(suspect("joint")) > 1
    made = list(between((trial(0.0, showing(12.0)), trial(1.0, showing(0.0))), 1))
    assert [each.values for _, each in made] == [(12.0,), (0.0,)]
    assert all(each.by_amount == ((0.0,),) for _, each in made)
    ((amount, alone),) = between((trial(5.0, showing(3.0)),), 1)
    assert (amount, alone.values, alone.by_amount) == (5.0, (3.0,), ())


def test_nine_tenths_of_a_hundred_amounts_are_those_from_the_fifth_to_the_95th() -> None:
    amounts = [float(each) for each in range(100, 0, -1)]
    assert span_of(amounts, [1.0] * 100) == (5.0, 95.0)
    # 4 % on either side are outside, 6 % on either side are not.
    assert span_of([1.0, 2.0, 3.0], [0.04, 0.92, 0.04]) == (2.0, 2.0)
    assert span_of([1.0, 2.0, 3.0], [0.06, 0.88, 0.06]) == (1.0, 3.0)
    assert span_of([3.0], [2.0]) == (3.0, 3.0)


def test_an_amount_stands_for_all_that_are_nearer_to_it() -> None:
    # Seventeen steps alike from the first amount to the third: of 0 to 16 those up to the fourth
    # are the first's (the fourth itself lies halfway), seven the second's, five the third's.
    weights = [weight for weight, _ in weights_of(candidate([-2000.0] * 17))]
    assert weights == pytest.approx([5.0 / 17.0, 7.0 / 17.0, 5.0 / 17.0])
    # One step 9 times as likely as each other one, at the third amount: 9 + 4 of 16 + 9.
    weights = [weight for weight, _ in weights_of(candidate([0.0] * 16 + [log(9.0)]))]
    assert weights == pytest.approx([5.0 / 25.0, 7.0 / 25.0, 13.0 / 25.0])
    # What is less likely by hundreds of powers of ten weighs nothing.
    weights = [weight for weight, _ in weights_of(candidate([-5000.0] * 8 + [-9.0] + [-5e3] * 8))]
    assert weights == pytest.approx([0.0, 1.0, 0.0])


def pairs(sound: Expected, total: float = 20.0, observed: tuple[float, ...] = ()) -> Pairs:
    return Pairs(SimpleNamespace(observed=observed, numeric=observed), (), sound, total)


def test_two_losses_on_one_way_add_up() -> None:
    # 12 V less 3 V of the one and 2 V of the other.
    two = pairs(showing(12.0, -5.0, 0.3, -0.1))
    one = Expected((9.0,), ((0.25,),), (-0.4,), -1.0, ((0.5,),))
    other = Expected((10.0,), ((0.3,),), (-0.2,), -2.0, ((0.7,),))
    both = two._sum(one, other)
    assert both.values == pytest.approx((7.0,))
    assert both.by_emf[0] == pytest.approx((0.25,))
    assert both.by_load == pytest.approx((-0.5,))
    # Either explains a symptom; each has its own steps.
    assert both.seen == -1.0
    assert both.by_amount == ((0.5,), (0.7,))


def test_two_faults_are_as_rare_as_both_and_somewhat_less() -> None:
    # Of 20 shares one fault has 2 and one 1: 2/20 * 1/20, and the book's factor for pairs.
    one = Suspect("contact", "F1", "", 2.0, (1.0,))
    prior = pairs(showing(0.0))._prior(one, suspect())
    assert exp(prior) == pytest.approx(figure("weight", "pair") * 0.1 * 0.05)


def test_one_part_has_one_fault() -> None:
    assert _same_part(suspect("joint", "W1"), suspect("open wire", "W1"))
    assert not _same_part(suspect("joint", "W1"), suspect("joint", "W2"))
    # A circuit is short once, whatever wire of it: two circuits may be short each for itself.
    assert _same_part(suspect("short", "P1.1", "P1.1"), suspect("short", "F9", "P1.1"))
    assert not _same_part(suspect("short", "P1.1", "P1.1"), suspect("joint", "W2", "P1.1"))
    assert not _same_part(suspect("joint", "W1", "P1.1"), suspect("joint", "W2", "P1.1"))
    assert not _same_part(suspect("joint", "W1", "P1.1"), suspect("short", "P1.1", "P1.1"))
    # What hangs in no circuit shares none.
    assert not _same_part(suspect("short", "W1", ""), suspect("short", "W2", ""))


def test_a_pair_is_looked_for_up_to_the_amounts_next_to_it() -> None:
    one = candidate([0.0] * 17)
    # Amounts 0, 8 and 16 were tried; about the 8th are those from just above 0 to just below 16.
    for place, near in ((8, range(1, 16)), (0, range(8))):
        found = [amount for amount, _, _ in _around(one, one.fine[place])]
        assert found == [float(at) for at in near]


def test_a_fault_is_as_far_from_a_reading_as_its_nearest_amount() -> None:
    # It may show 0 to 16 V in steps of 1 V: 7.3 V are 0.3 V off.
    for seen, off in ((7.3, 0.3), (18.0, 2.0)):
        told = pairs(showing(0.0), observed=(seen,))._off(candidate([0.0] * 17), 0)
        assert told == pytest.approx(off)


def search(numeric: tuple[object, ...] = (1,)) -> _FaultSearch:
    made = object.__new__(_FaultSearch)
    made.evidence = SimpleNamespace(numeric=numeric)
    return made


def test_only_what_comes_near_the_best_is_worked_out_finer() -> None:
    def one(log_evidence: float, *, touches: bool = True) -> Candidate:
        return Candidate(suspect(), (), (), log_evidence, touches)

    # The eighth power of ten and more below the best is not near: ln 10^8 is 18.4.
    tried = [one(-3.0), one(-3.0 - log(1e8)), one(-5.0), one(0.0, touches=False)]
    assert search()._is_close(tried) == [True, False, True, False]
    # What is seldom is that much further from the best.
    rare = Candidate(Suspect("joint", "W2", "", 1e-8, TENS), (), (), -3.0, touches=True)
    assert search()._is_close([*tried, rare]) == [True, False, True, False, False]
    # Without a number there is no amount to be sharpened; nor where nothing is touched.
    assert search(())._is_close(tried) == [False] * 4
    assert search()._is_close([one(0.0, touches=False)]) == [False]


def test_the_weight_of_a_fault_is_the_mean_of_its_amounts() -> None:
    # Of two amounts one has the chance 0.5 and one 0.1: the fault has 0.3, not their sum.
    fine = [(1.0, showing(0.0), log(0.5)), (2.0, showing(0.0), log(0.1))]
    made = search()._weighed(suspect(), (), fine)
    assert exp(made.log_evidence) == pytest.approx(0.3)
    assert made.touches
