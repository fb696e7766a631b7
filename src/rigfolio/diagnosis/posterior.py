"""From readings to the likeliest fault: the posterior over single faults and pairs of them.

Every fault is put into the network in turn, in all its amounts, and the network says what the meter
would have shown. Faults that change nothing of what was read are left as likely as they were. Pairs
are taken of the faults that explain some reading better than a sound rig does.
"""

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from rigfolio.books import figure, is_overnight
from rigfolio.calc import log_sum
from rigfolio.diagnosis.amounts import (
    BETWEEN,
    SHARPER,
    Candidate,
    Fine,
    amount_at,
    between,
    is_jump,
    span_of,
    steps_of,
    weights_of,
)
from rigfolio.diagnosis.evidence import Evidence, charging
from rigfolio.diagnosis.pairs import Pairs
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.spreads import Expected
from rigfolio.diagnosis.suspects import Suspect, drains, suspects
from rigfolio.diagnosis.verdicts import Diagnosis, Trial, Verdict, told_order
from rigfolio.model import Reading
from rigfolio.operating import Shown
from rigfolio.record import replace
from rigfolio.study import Study, as_fitted

_SHARPENED = 40
_CLOSE = 15.0
_TOUCHES_V = 1e-4
# From how many spreads on a reading is out of reach of what is open [-].
_OUT_OF_REACH = 5.0
# Every so many amounts of a fault are looked at first.
_FEW = 3
# What is said of a battery that something may have emptied.
_EMPTIED = ("dead", "dim", "slow")


def diagnose(
    study: Study, readings: Sequence[Reading], scenes_of: Scenes | None = None
) -> Diagnosis:
    """What the readings say of the faults that a rig can have.

    Readings that name no state are taken with nothing charging; where nothing explains them so, and
    they were taken at something that charges, as in the state in which that runs.

    Parameters
    ----------
    study : Study
        The rig as it should be; what was found counts until another one is in its place.
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
    evidence = Evidence(as_fitted(study), readings, scenes_of)
    found = Diagnosis(evidence, _FaultSearch(evidence).verdicts())
    if found.fits:
        return found
    running = charging(evidence)
    if running is None:
        return found
    other = Diagnosis(running, _FaultSearch(running).verdicts())
    return other if other.explains and other.unlisted < found.unlisted else found


def emptied(evidence: Evidence) -> Iterator[tuple[str, frozenset[str]]]:
    """The batteries that are said to be weak, or to give something, with the loads behind each."""
    banks = {one.about.name for one in evidence.study.rig.sources if one.stores}
    of = {
        probe.reading.part: evidence.behind[probe.scene]
        for probe in (*evidence.symptoms, *evidence.numeric)
        if probe.reading.part in banks
        and (probe.reading.symptom in _EMPTIED or probe.reading.measure == "current")
    }
    return ((bank, behind.fed_by(bank, "")) for bank, behind in of.items())


def _drains(evidence: Evidence) -> Iterator[Suspect]:
    said = [one.reading for one in evidence.symptoms]
    for bank, behind in emptied(evidence):
        overnight = any(one.part == bank and is_overnight(one.text) for one in said)
        yield from drains(evidence.study, bank, behind, overnight=overnight)


class _FaultSearch:
    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        every = (*suspects(evidence.study), *_drains(evidence))
        self.total = sum(one.weight for one in every)
        nothing = every[0]
        self.sound = self._led(nothing, self._trial(nothing, 0.0, evidence.sound))
        self.still = evidence.still(nothing, self.sound.wrong, evidence.sound)
        self.sound_log = evidence.fit.log_likelihood(self.sound.expected)
        tried = [one for one in map(self._tried, every) if one is not None]
        self.tried = tuple(
            self._sharpened(one) if is_close else one
            for one, is_close in zip(tried, self._is_close(tried), strict=True)
        )

    def verdicts(self) -> tuple[Verdict, ...]:
        """Single faults and pairs, the likeliest first."""
        singles = [self._single(one) for one in self.tried]
        pairs = Pairs(self.evidence, self.tried, self.sound.expected, self.total).verdicts(
            log_sum([log for log, _ in singles])
        )
        logs = [log for log, _ in (*singles, *pairs)]
        whole = log_sum([*logs, *self._unlisted()])
        found = [
            replace(verdict, share=math.exp(log - whole)) for log, verdict in (*singles, *pairs)
        ]
        return tuple(sorted(found, key=told_order))

    def _unlisted(self) -> Iterator[float]:
        """Logarithm of the evidence for what none of the suspects is: it shows anything at all."""
        if self.evidence.numeric:
            share = figure("weight", "unlisted") / self.total
            yield math.log(share) + self.evidence.fit.any_log

    def _trial(self, suspect: Suspect, amount: float, shown: tuple[Shown, ...]) -> Trial:
        wrong = suspect.wrong(amount)
        return Trial(amount, wrong, shown, self.evidence.expected(suspect, wrong, shown))

    def _led(self, suspect: Suspect, trial: Trial) -> Trial:
        """A trial about where the readings say that the sources stand."""
        return replace(trial, expected=self.evidence.led(suspect, trial.wrong, trial.expected))

    def _tried(self, suspect: Suspect) -> Candidate | None:
        """A suspect in all amounts; in one amount where even that one changes nothing.

        None where it would have opened a fuse that it is said to leave closed.
        """
        amounts = self._amounts(suspect)
        if not amounts:
            return None
        if suspect.kind == "nothing" or not self._touches(suspect, amounts[-1]):
            unmoved = replace(self.sound, amount=amounts[-1], wrong=suspect.wrong(amounts[-1]))
            untouched = ((unmoved.amount, unmoved.expected, self.sound_log),)
            return Candidate(suspect, (unmoved,), untouched, self.sound_log, touches=False)
        few = self._hopeless(suspect, amounts)
        if few:
            return self._weighed(suspect, few, self._fine(between(few, steps_of(suspect))))
        trials = tuple(self._at(suspect, amount) for amount in amounts)
        is_led = self._leads(suspect, trials)
        if is_led:
            trials = tuple(self._led(suspect, one) for one in trials)
        return self._filled(suspect, trials, is_led=is_led)

    def _hopeless(self, suspect: Suspect, amounts: Sequence[float]) -> tuple[Trial, ...]:
        """Some amounts of a fault that explains nothing that is odd; none where it may explain it.

        How its readings move with what is open is not worked out: they are taken to do as in the
        sound rig.
        """
        odd, first = self._odd, self.sound.expected
        if not odd or self.evidence.symptoms:
            return ()
        few = [
            _still(self.evidence, suspect, one, first)
            for one in dict.fromkeys((*amounts[::_FEW], amounts[-1]))
        ]
        if any(is_jump(*pair) for pair in pairwise((self.sound, *few))):
            # Before a jump readings may go far and come back.
            few = [_still(self.evidence, suspect, amount, first) for amount in amounts]
        for at, reach in odd.items():
            shows = [one.expected.values[at] for one in few]
            if min(shows) - reach <= self.evidence.observed[at] <= max(shows) + reach:
                return ()
        return tuple(few)

    @cached_property
    def _odd(self) -> Mapping[int, float]:
        return _odd(self.evidence, self.sound.expected)

    def _leads(self, suspect: Suspect, trials: Sequence[Trial]) -> bool:
        """Whether the best of some amounts is worth telling about where the sources may stand.

        It is not where something that nobody thought of is far likelier all the same.
        """
        likely = self.evidence.fit.log_likelihood
        best = max(trials, key=lambda one: likely(one.expected))
        led = self._led(suspect, best).expected
        if led is best.expected:
            return False
        least = max((*self._unlisted(), -math.inf)) - _CLOSE
        return likely(led) + math.log(suspect.weight / self.total) > least

    def _fine(self, steps: Iterable[tuple[float, Expected]]) -> Iterator[Fine]:
        """Amounts with what they make all probes show, and how likely that is."""
        return ((amount, each, self.evidence.fit.log_likelihood(each)) for amount, each in steps)

    def _weighed(
        self, suspect: Suspect, trials: tuple[Trial, ...], steps: Iterable[Fine]
    ) -> Candidate:
        fine = tuple(steps)
        log_evidence = log_sum([log for _, _, log in fine]) - math.log(len(fine))
        return Candidate(suspect, trials, fine, log_evidence, touches=True)

    def _is_close(self, tried: Sequence[Candidate]) -> list[bool]:
        """Which of the faults come near to explaining the readings: the best of them."""
        if not self.evidence.numeric:
            return [False] * len(tried)
        logs = [one.log_evidence + math.log(one.suspect.weight) for one in tried]
        held = [log if one.touches else -math.inf for log, one in zip(logs, tried, strict=True)]
        least = max(max(held) - _CLOSE, sorted(held)[-_SHARPENED:][0])
        return [log >= least and log > -math.inf for log in held]

    def _sharpened(self, one: Candidate) -> Candidate:
        """A suspect with more amounts worked out about its best one."""
        if not one.suspect.is_graded or len(one.trials) < 2:
            return one
        best = max(range(len(one.fine)), key=lambda at: one.fine[at][2]) // BETWEEN
        near = {best - 1, best, best + 1}
        return self._filled(one.suspect, one.trials, one, near, is_led=one.is_led)

    def _filled(
        self, suspect: Suspect, trials: tuple[Trial, ...], was: Candidate | None = None,
        near: Collection[int] = (), *, is_led: bool = False,
    ) -> Candidate:  # fmt: skip
        """A suspect with what is shown between its amounts, as it was but `near` some of them.

        There, and where something drops out on the way, more amounts are worked out.
        """
        steps, fine = steps_of(suspect), list[Fine]()
        for at, pair in enumerate(pairwise(trials)):
            is_jumping = suspect.is_graded and is_jump(*pair)
            if was is not None and (is_jumping or at not in near):
                fine += was.fine[at * steps : (at + 1) * steps]
            elif is_jumping or at in near:
                fine += self._sharp(suspect, *pair, is_led=is_led)
            else:
                fine += list(self._fine(between(pair, steps)))[:-1]
        *_, end = between(trials[-2:], steps)
        fine += self._fine([end])
        return replace(self._weighed(suspect, trials, fine), is_led=is_led)

    def _sharp(self, suspect: Suspect, one: Trial, two: Trial, *, is_led: bool) -> Sequence[Fine]:
        """What is shown from an amount to the next, with some more of them worked out."""
        parts = [part / SHARPER for part in range(1, SHARPER)]
        made = [self._at(suspect, amount_at(one.amount, two.amount, part)) for part in parts]
        if is_led:
            made = [self._led(suspect, each) for each in made]
        return list(self._fine(between((one, *made, two), BETWEEN // SHARPER)))[:-1]

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
            if not now.is_same(was)
            for edge, most_a in self.evidence.carried
        )

    def _at(self, suspect: Suspect, amount: float) -> Trial:
        return self._trial(suspect, amount, self.evidence.solve(suspect.wrong(amount)))

    def _touches(self, suspect: Suspect, amount: float) -> bool:
        """Whether some amount changes anything of what was read."""
        wrong = suspect.wrong(amount)
        was = self.still
        now = self.evidence.still(suspect, wrong, self.evidence.solve(wrong))
        moved = any(abs(a - b) > _TOUCHES_V for a, b in zip(was.values, now.values, strict=True))
        return moved or abs(was.seen - now.seen) > _TOUCHES_V

    def _single(self, one: Candidate) -> tuple[float, Verdict]:
        log = math.log(one.suspect.weight / self.total) + one.log_evidence
        best = max(one.fine, key=lambda each: each[2])
        most = best[2]
        weights = [math.exp(each[2] - most) for each in one.fine]
        span = span_of([each[0] for each in one.fine], weights)
        verdict = Verdict(
            (one.suspect,), 0.0, (best[0],), (span,), self.evidence.fit.misfit(best[1]),
            one.touches, weights_of(one), self.evidence.fit.unexplained(best[1]),
            self.evidence.fit.stand_at(best[1]),
        )  # fmt: skip
        return log, verdict


def _odd(evidence: Evidence, sound: Expected) -> Mapping[int, float]:
    """The readings that are far from those of a sound rig, with how far one may be off.

    A fault may part sources that stand together: then each moves what is read by itself. None
    where amperes were read, which a fault may turn anywhere.
    """
    if any(one.reading.measure == "current" for one in evidence.numeric):
        return {}
    sources = evidence.study.rig.by_name.sources
    apart = [
        [scene.rest_share(name)[1] * sources[name].voltage_v for name in scene.sources]
        for scene in evidence.scenes
    ]
    found = {}
    for at, probe in enumerate(evidence.numeric):
        value, is_volts = sound.values[at], probe.reading.measure == "voltage"
        moved = [2.0 * each[at] for each in sound.common]
        moved += apart[probe.scene] if is_volts else []
        reach = _OUT_OF_REACH * math.hypot(evidence.fit.spreads.of(at, value), *moved)
        if abs(evidence.observed[at] - value) > reach:
            found[at] = reach
    return found


def _still(evidence: Evidence, suspect: Suspect, amount: float, sound: Expected) -> Trial:
    """A fault of some amount, with what is open moving readings as in the sound rig."""
    wrong = suspect.wrong(amount)
    shown = evidence.solve(wrong)
    still = evidence.still(suspect, wrong, shown)
    return Trial(amount, wrong, shown, replace(sound, values=still.values, gave_out=still.gave_out))
