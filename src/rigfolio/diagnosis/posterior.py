"""From readings to the likeliest fault: the posterior over single faults and pairs of them.

Every fault is put into the network in turn, in all its amounts, and the network says what the meter
would have shown. Faults that change nothing of what was read are left as likely as they were. Pairs
are taken of the faults that explain some reading better than a sound rig does.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from typing import TypeAlias

from rigfolio.books import figure
from rigfolio.calc import log_sum
from rigfolio.diagnosis.evidence import Evidence, Expected, Scenes
from rigfolio.diagnosis.suspects import Suspect, suspects
from rigfolio.model import Reading
from rigfolio.operating import NOTHING_WRONG, Shown, Wrong
from rigfolio.record import record, replace
from rigfolio.study import Study

# Between two amounts that were worked out, what is shown is taken to go straight [-].
_BETWEEN = 6
_PAIRED = 12
_EXACT = 4
_NEGLIGIBLE = 1e-3
_TOUCHES_V = 1e-4
# Mean square of spreads from which on a verdict is told as a poor fit: 2.4 spreads each [-].
_POOR = 6.0


@record
class Trial:
    """A fault of some amount: what is wrong, what all scenes show, what the probes show."""

    amount: float
    wrong: Wrong
    shown: tuple[Shown, ...]
    expected: Expected


@record
class Verdict:
    """One or two faults together, and how likely it is that just these are there.

    `amounts` are the likeliest amount of each, `spans` from which to which amount nine tenths of
    its likelihood lie. `misfit` is how badly the readings fit, as a mean square of spreads [-], and
    `unexplained` are those that are far from what they would be.
    `touches` is whether the faults change anything of what was read.
    """

    faults: tuple[Suspect, ...]
    share: float
    amounts: tuple[float, ...]
    spans: tuple[tuple[float, float], ...]
    misfit: float
    touches: bool
    trials: tuple[tuple[float, Trial], ...]
    unexplained: tuple[Reading, ...] = ()

    @property
    def wrong(self) -> Wrong:
        """What is wrong at the likeliest amounts."""
        made = NOTHING_WRONG
        for fault, amount in zip(self.faults, self.amounts, strict=True):
            made = made.plus(fault.wrong(amount))
        return made


@record
class Diagnosis:
    """All verdicts, the likeliest first; their shares add up to 1."""

    evidence: Evidence
    verdicts: tuple[Verdict, ...]

    @property
    def fits(self) -> bool:
        """Whether the likeliest verdict explains the readings within their spread."""
        return not self.verdicts[0].unexplained and self.verdicts[0].misfit < _POOR

    @property
    def explains(self) -> bool:
        """Whether anything explains most of the readings; else they, or the text, are wrong."""
        return 2 * len(self.verdicts[0].unexplained) < max(len(self.evidence.numeric), 1)


def diagnose(
    study: Study, readings: Sequence[Reading], scenes_of: Scenes | None = None
) -> Diagnosis:
    """What the readings say of the faults that a rig can have.

    Parameters
    ----------
    study : Study
        The rig, as it should be.
    readings : Sequence[Reading]
        At least one; all from one condition of the rig.
    scenes_of : Scenes, optional
        What searches in the same rig have solved already.

    Raises
    ------
    ValueError
        There are no readings.

    Source
    ------
    Bayes' rule over single faults and pairs of them (common practice); weights and spreads are
    those of books/trade/diagnosis.toml.
    """
    if not readings:
        raise ValueError("no readings, expected one or more")
    evidence = Evidence(study, readings, scenes_of)
    search = _Search(evidence)
    return Diagnosis(evidence, search.verdicts())


def by_part(diagnosis: Diagnosis) -> tuple[tuple[tuple[str, ...], float], ...]:
    """The parts that verdicts blame, each with the sum of their shares; the likeliest first.

    A bad joint of a wire and a wire that is open are one place to look at.
    """
    found: dict[tuple[str, ...], float] = {}
    for one in diagnosis.verdicts:
        key = tuple(sorted(fault.part for fault in one.faults)) if one.touches else ()
        found[key] = found.get(key, 0.0) + one.share
    return tuple(sorted(found.items(), key=lambda pair: -pair[1]))


_Fine: TypeAlias = tuple[float, Expected, float]
"""An amount, what it makes all probes show, and the logarithm of its likelihood."""


@record
class _Candidate:
    """A suspect with all its trials, finely interpolated; the logarithm of its evidence [-]."""

    suspect: Suspect
    trials: tuple[Trial, ...]
    fine: tuple[_Fine, ...]
    log_evidence: float
    touches: bool


class _Search:
    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        every = suspects(evidence.study)
        self.total = sum(one.weight for one in every)
        nothing = every[0]
        self.sound = self._trial(nothing, 0.0, evidence.sound)
        self.sound_log = evidence.log_likelihood(self.sound.expected)
        self.tried = tuple(one for one in map(self._tried, every) if one is not None)

    def verdicts(self) -> tuple[Verdict, ...]:
        """Single faults and pairs, the likeliest first."""
        singles = [self._single(one) for one in self.tried]
        pairs = self._pairs(log_sum([log for log, _ in singles]))
        logs = [log for log, _ in (*singles, *pairs)]
        whole = log_sum(logs)
        found = [
            replace(verdict, share=math.exp(log - whole)) for log, verdict in (*singles, *pairs)
        ]
        return tuple(sorted(found, key=lambda one: (-one.share, len(one.faults))))

    def _trial(self, suspect: Suspect, amount: float, shown: tuple[Shown, ...]) -> Trial:
        wrong = suspect.wrong(amount)
        return Trial(amount, wrong, shown, self.evidence.expected(suspect, wrong, shown))

    def _tried(self, suspect: Suspect) -> _Candidate | None:
        """A suspect in all amounts; in one amount where even that one changes nothing.

        None where it would have opened a fuse that it is said to leave closed.
        """
        amounts = self._amounts(suspect)
        if not amounts:
            return None
        strongest = self._at(suspect, amounts[-1])
        touches = suspect.kind != "nothing" and self._touches(strongest)
        if not touches:
            untouched = ((strongest.amount, self.sound.expected, self.sound_log),)
            return _Candidate(suspect, (strongest,), untouched, self.sound_log, touches=False)
        others = [self._at(suspect, amount) for amount in amounts[:-1]]
        trials = (*others, strongest)
        fine = tuple(
            (amount, expected, self.evidence.log_likelihood(expected))
            for amount, expected in _between(trials, _steps(suspect))
        )
        log_evidence = log_sum([log for _, _, log in fine]) - math.log(len(fine))
        return _Candidate(suspect, trials, fine, log_evidence, touches=True)

    def _amounts(self, suspect: Suspect) -> tuple[float, ...]:
        """The amounts of a fault that may be; a load draws no more than its closed fuse carries."""
        if suspect.kind != "overload":
            return suspect.amounts
        tried = ((each, self.evidence.solve(suspect.wrong(each))) for each in suspect.amounts)
        return tuple(amount for amount, shown in tried if not self._opens(shown))

    def _opens(self, shown: Sequence[Shown]) -> bool:
        """Whether some fuse or breaker would open that does not in the sound rig."""
        return any(
            now.current_a(edge) > most_a >= was.current_a(edge)
            for now, was in zip(shown, self.evidence.sound, strict=True)
            for edge, most_a in self.evidence.carried
        )

    def _at(self, suspect: Suspect, amount: float) -> Trial:
        return self._trial(suspect, amount, self.evidence.solve(suspect.wrong(amount)))

    def _touches(self, trial: Trial) -> bool:
        was, now = self.sound.expected, trial.expected
        moved = any(abs(a - b) > _TOUCHES_V for a, b in zip(was.values, now.values, strict=True))
        return moved or abs(was.seen - now.seen) > _TOUCHES_V

    def _single(self, one: _Candidate) -> tuple[float, Verdict]:
        log = math.log(one.suspect.weight / self.total) + one.log_evidence
        best = max(one.fine, key=lambda each: each[2])
        most = best[2]
        weights = [math.exp(each[2] - most) for each in one.fine]
        span = _span([each[0] for each in one.fine], weights)
        verdict = Verdict(
            (one.suspect,), 0.0, (best[0],), (span,), self.evidence.misfit(best[1]),
            one.touches, _weighed(one), self.evidence.unexplained(best[1]),
        )  # fmt: skip
        return log, verdict

    def _pairs(self, singles_log: float) -> list[tuple[float, Verdict]]:
        """Pairs of the faults that do best by themselves or explain some one reading best.

        Pairs that could not come to a thousandth of all even if they fitted all readings exactly
        are left out.
        """
        rough = []
        best_log = self.evidence.most_log
        chosen = list(combinations(self._chosen(), 2))
        least = singles_log + math.log(_NEGLIGIBLE / max(len(chosen), 1))
        for one, two in chosen:
            prior = self._prior(one.suspect, two.suspect)
            if _same_part(one.suspect, two.suspect) or prior + best_log < least:
                continue
            cells = [
                (self._pair_log(a[1], b[1], _steps(one.suspect), _steps(two.suspect)), a, b)
                for a in one.fine[:: _steps(one.suspect)]
                for b in two.fine[:: _steps(two.suspect)]
            ]
            log = log_sum([cell[0] for cell in cells]) - math.log(len(cells))
            rough.append((log + prior, max(cells, key=lambda cell: cell[0]), one, two))
        rough.sort(key=lambda each: -each[0])
        made = []
        for place, (rough_log, (best, a, b), one, two) in enumerate(rough):
            expected, log, amounts = self._sum(a[1], b[1]), rough_log, (a[0], b[0])
            if place < _EXACT:
                c, d = self._refined(one, two, a, b)
                near = self._sum(c[1].within(_steps(one.suspect)), d[1].within(_steps(two.suspect)))
                # Effects were added up; for the best pairs the network itself has its say.
                amounts = (c[0], d[0])
                exact = self._both(one.suspect, c[0], two.suspect, d[0])
                expected = replace(exact, by_amount=near.by_amount)
                log += self.evidence.log_likelihood(expected) - best
            verdict = Verdict(
                (one.suspect, two.suspect), 0.0, amounts, tuple((each, each) for each in amounts),
                self.evidence.misfit(expected), touches=True, trials=(),
                unexplained=self.evidence.unexplained(expected),
            )  # fmt: skip
            made.append((log, verdict))
        return made

    def _pair_log(self, one: Expected, two: Expected, by_one: float, by_two: float) -> float:
        return self.evidence.log_likelihood(self._sum(one.within(by_one), two.within(by_two)))

    def _refined(self, one: _Candidate, two: _Candidate, a: _Fine, b: _Fine) -> tuple[_Fine, _Fine]:
        """The best of the amounts between those that were tried first."""
        cells = (
            (self._pair_log(c[1], d[1], 1.0, 1.0), c, d)
            for c in _around(one, a)
            for d in _around(two, b)
        )
        _, best, other = max(cells, key=lambda cell: cell[0])
        return best, other

    def _prior(self, one: Suspect, two: Suspect) -> float:
        """Logarithm of how likely a pair is before any reading [-]."""
        both = (one.weight / self.total) * (two.weight / self.total)
        return math.log(figure("weight", "pair") * both)

    def _chosen(self) -> list[_Candidate]:
        touching = [one for one in self.tried if one.touches]
        touching.sort(key=lambda one: -(one.log_evidence + math.log(one.suspect.weight)))
        chosen = touching[: _PAIRED // 2]
        for at in range(len(self.evidence.numeric)):
            best = sorted(touching, key=lambda one: self._off(one, at))
            chosen += [one for one in best[:3] if one not in chosen]
        return chosen[: 2 * _PAIRED]

    def _off(self, one: _Candidate, at: int) -> float:
        seen = self.evidence.observed[at]
        return min(abs(expected.values[at] - seen) for _, expected, _ in one.fine)

    def _sum(self, one: Expected, two: Expected) -> Expected:
        """What two faults show together, as far as their effects add up."""
        base = self.sound.expected

        def both(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> tuple[float, ...]:
            return tuple(x + y - z for x, y, z in zip(a, b, c, strict=True))

        return Expected(
            both(one.values, two.values, base.values),
            both(one.by_emf, two.by_emf, base.by_emf),
            both(one.by_load, two.by_load, base.by_load),
            max(one.seen, two.seen),
            (*one.by_amount, *two.by_amount),
        )

    def _both(self, one: Suspect, amount: float, two: Suspect, other: float) -> Expected:
        wrong = one.wrong(amount).plus(two.wrong(other))
        shown = self.evidence.solve(wrong)
        # A symptom is explained by either; the one that explains it better is asked.
        made = [self.evidence.expected(each, wrong, shown) for each in (one, two)]
        return max(made, key=lambda expected: expected.seen)


def _steps(suspect: Suspect) -> int:
    """In how many steps it goes from an amount that is worked out to the next."""
    return _BETWEEN if suspect.is_graded else 1


def _around(one: _Candidate, at: _Fine) -> Sequence[_Fine]:
    place, steps = one.fine.index(at), _steps(one.suspect)
    return one.fine[max(place - steps + 1, 0) : place + steps]


def _same_part(one: Suspect, two: Suspect) -> bool:
    return one.name == two.name or (bool(one.circuit) and one.kind == two.kind == "short")


def _between(trials: Sequence[Trial], steps: int) -> Iterator[tuple[float, Expected]]:
    """What is shown at the amounts that were tried, and at steps from each to the next."""
    by_amount: tuple[tuple[float, ...], ...] = ()
    for one, two in pairwise(trials):
        # An amount stands for all that are nearer to it than to its neighbours.
        width = 1.0 / (steps * math.sqrt(12.0)) if steps > 1 else 0.0
        a, b = one.expected.values, two.expected.values
        by_amount = (tuple((y - x) * width for x, y in zip(a, b, strict=True)),)
        for step in range(steps):
            mixed = _mixed(one.expected, two.expected, step / steps)
            yield _amount(one.amount, two.amount, step / steps), replace(mixed, by_amount=by_amount)
    yield trials[-1].amount, replace(trials[-1].expected, by_amount=by_amount)


def _amount(one: float, two: float, part: float) -> float:
    return one ** (1.0 - part) * two**part if one > 0.0 and two > 0.0 else one


def _mixed(one: Expected, two: Expected, part: float) -> Expected:
    def mix(a: Sequence[float], b: Sequence[float]) -> tuple[float, ...]:
        return tuple(x + (y - x) * part for x, y in zip(a, b, strict=True))

    return Expected(
        mix(one.values, two.values),
        mix(one.by_emf, two.by_emf),
        mix(one.by_load, two.by_load),
        one.seen if part < 0.5 else two.seen,
    )


def _span(amounts: Sequence[float], weights: Sequence[float]) -> tuple[float, float]:
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


def _weighed(one: _Candidate) -> tuple[tuple[float, Trial], ...]:
    """The trials of a suspect with the share of its likelihood that lies about each."""
    most = max(log for _, _, log in one.fine)
    shares = [0.0] * len(one.trials)
    steps = _steps(one.suspect)
    for place, (_, _, log) in enumerate(one.fine):
        near = min(round(place / steps), len(one.trials) - 1)
        shares[near] += math.exp(log - most)
    whole = sum(shares)
    return tuple((share / whole, trial) for share, trial in zip(shares, one.trials, strict=True))
