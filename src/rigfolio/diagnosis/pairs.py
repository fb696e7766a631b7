"""Two faults at once: those that explain together what neither explains by itself."""

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import combinations

from rigfolio.books import figure
from rigfolio.calc import log_sum
from rigfolio.diagnosis.amounts import Candidate, Fine, steps_of
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.spreads import Expected, Probe
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.verdicts import Verdict
from rigfolio.model import Reading
from rigfolio.network import Edge, edge_name, path
from rigfolio.record import replace

_PAIRED = 12
_EXACT = 4
# So many are asked for beside the best fault: the two wires of a circuit, its slot, its load.
_BESIDE = 4
_NEGLIGIBLE = 1e-3
_PARTING = ("open wire", "open device", "dead source", "open battery")


class Pairs:
    """The pairs of the faults that were tried; `total` is the weight of all suspects."""

    def __init__(
        self, evidence: Evidence, tried: Sequence[Candidate], sound: Expected, total: float
    ) -> None:
        self.evidence, self.tried, self.sound, self.total = evidence, tried, sound, total

    def verdicts(self, singles_log: float) -> list[tuple[float, Verdict]]:
        """Pairs of the faults that do best by themselves or explain some one reading best.

        Pairs that could not come to a thousandth of all even if they fitted all readings exactly
        are left out.
        """
        rough = []
        best_log = self.evidence.fit.most_log
        chosen = list(combinations(self._chosen(), 2))
        least = singles_log + math.log(_NEGLIGIBLE / max(len(chosen), 1))
        for one, two in chosen:
            prior = self._prior(one.suspect, two.suspect)
            if _same_part(one.suspect, two.suspect) or prior + best_log < least:
                continue
            cells = [
                (self.evidence.fit.log_likelihood(self._sum(wide, other)), a, b)
                for a, wide in _widened(one)
                for b, other in _widened(two)
            ]
            log = log_sum([cell[0] for cell in cells]) - math.log(len(cells))
            rough.append((log + prior, max(cells, key=lambda cell: cell[0]), one, two))
        rough.sort(key=lambda each: -each[0])
        summed = [self._verdict(*each, is_exact=at < _EXACT) for at, each in enumerate(rough)]
        told = {frozenset(each[2:]) for each in rough[:_EXACT]}
        return summed + [
            self._exactly(*pair) for pair in self._cut_off if frozenset(pair) not in told
        ]

    def _exactly(self, one: Candidate, two: Candidate) -> tuple[float, Verdict]:
        """Two faults without amounts, by the network with both in it."""
        amounts = one.fine[-1][0], two.fine[-1][0]
        expected = self._both(one.suspect, amounts[0], two.suspect, amounts[1])
        log = self.evidence.fit.log_likelihood(expected) + self._prior(one.suspect, two.suspect)
        return log, self._told((one.suspect, two.suspect), amounts, expected)

    @property
    def _cut_off(self) -> Iterator[tuple[Candidate, Candidate]]:
        """Pairs that part a dead place from all that feeds it, each fault from some of that.

        Their effects do not add up: one alone leaves the place on the other source.
        """
        return iter(dict.fromkeys(pair for probe in self._dead for pair in self._parting(probe)))

    @property
    def _dead(self) -> Iterator[Probe]:
        """Where next to no volts were read, and no single fault that was tried leaves so few."""
        stray = figure("stray", "volt")
        for at, probe in enumerate(self.evidence.numeric):
            is_live = probe.reading.measure == "voltage" and abs(self.sound.values[at]) > stray
            if not is_live or abs(self.evidence.observed[at]) > stray:
                continue
            if all(self._off(one, at) > stray for one in self.tried):
                yield probe

    def _parting(self, probe: Probe) -> Iterator[tuple[Candidate, Candidate]]:
        """Pairs of which each parts a dead place from a source, both together from all of them."""
        parted = self._parted(probe)
        feeding = frozenset().union(*parted.values())
        parts = [(one, parted[one.suspect.name]) for one in self.tried
                 if one.suspect.kind in _PARTING and one.suspect.name in parted]  # fmt: skip
        for (one, by_one), (two, by_two) in combinations(parts, 2):
            if by_one | by_two == feeding and by_one != feeding != by_two:
                yield one, two

    def _parted(self, probe: Probe) -> Mapping[str, frozenset[str]]:
        """The sources that a pair of terminals is parted from, by the edge or source that does."""
        scene, study = self.evidence.scenes[probe.scene], self.evidence.study
        net, closed = study.net, scene.branch_of
        of: dict[str, frozenset[str]] = {}
        for source in (one for one in study.rig.sources if one.about.name in scene.sources):
            name = source.about.name
            leads = ((source.plus, probe.a), (source.minus, probe.b))
            ways = [net.walk([start], _without(closed)) for start, _ in leads]
            if any(end not in way for (_, end), way in zip(leads, ways, strict=True)):
                continue
            edges = (
                edge
                for (start, end), way in zip(leads, ways, strict=True)
                for edge in map(edge_name, path(way, end))
                if end not in net.walk([start], _without(closed, edge))
            )
            for part in (name, *edges):
                of[part] = of.get(part, frozenset()) | {name}
        return of

    def _verdict(
        self, log: float, rough: tuple[float, Fine, Fine], one: Candidate, two: Candidate,
        *, is_exact: bool,
    ) -> tuple[float, Verdict]:  # fmt: skip
        """A pair with its likelihood; for the best ones the network itself has its say."""
        best, a, b = rough
        expected, amounts = self._sum(a[1], b[1]), (a[0], b[0])
        if is_exact:
            c, d = self._refined(one, two, a, b)
            near = self._sum(c[1].within(steps_of(one.suspect)), d[1].within(steps_of(two.suspect)))
            amounts = (c[0], d[0])
            exact = self._both(one.suspect, c[0], two.suspect, d[0])
            expected = replace(exact, by_amount=near.by_amount)
            log += self.evidence.fit.log_likelihood(expected) - best
        return log, self._told((one.suspect, two.suspect), amounts, expected)

    def _told(
        self, faults: tuple[Suspect, Suspect], amounts: tuple[float, float], expected: Expected
    ) -> Verdict:
        fit = self.evidence.fit
        return Verdict(
            faults, 0.0, amounts, tuple((each, each) for each in amounts), fit.misfit(expected),
            touches=True, trials=(), unexplained=fit.unexplained(expected),
            levels=fit.stand_at(expected),
        )  # fmt: skip

    def _refined(self, one: Candidate, two: Candidate, a: Fine, b: Fine) -> tuple[Fine, Fine]:
        """The best of the amounts between those that were tried first."""
        cells = (
            (self.evidence.fit.log_likelihood(self._sum(c[1], d[1])), c, d)
            for c in _around(one, a)
            for d in _around(two, b)
        )
        _, best, other = max(cells, key=lambda cell: cell[0])
        return best, other

    def _prior(self, one: Suspect, two: Suspect) -> float:
        """Logarithm of how likely a pair is before any reading [-]."""
        both = (one.weight / self.total) * (two.weight / self.total)
        # How full a battery is does not hang on what else is wrong; of one reading it tells alone.
        is_level = "flat" in (one.kind, two.kind) and len(self.evidence.numeric) > 1
        return math.log(figure("weight", "pair_flat" if is_level else "pair") * both)

    def _chosen(self) -> list[Candidate]:
        touching = [one for one in self.tried if one.touches]
        touching.sort(key=lambda one: -(one.log_evidence + math.log(one.suspect.weight)))
        chosen = touching[: _PAIRED // 2]
        for at in range(len(self.evidence.numeric)):
            best = sorted(touching, key=lambda one: self._off(one, at))
            chosen += [one for one in best[:3] if one not in chosen]
        # What goes with the best is asked for first: it may do nothing at all by itself.
        first = (*touching[: _PAIRED // 2], *self._beside(touching))
        kept = {one.suspect: one for one in (*first, *chosen)}
        return list(kept.values())[: 2 * _PAIRED]

    def _beside(self, touching: Sequence[Candidate]) -> Iterator[Candidate]:
        """What shows, with one of the best faults beside it, the readings that this leaves over.

        Faults that leave the same readings over want the same beside them: the first is asked.
        """
        fit, asked = self.evidence.fit, set[tuple[Reading, ...]]()
        for one in touching[: _PAIRED // 2]:
            shown = max(one.fine, key=lambda fine: fine[2])[1]
            over = fit.unexplained(shown)
            if over and over not in asked:
                asked.add(over)
                others = (each for each in touching if not _same_part(each.suspect, one.suspect))
                yield from sorted(others, key=_worth(self, shown), reverse=True)[:_BESIDE]

    def _off(self, one: Candidate, at: int) -> float:
        seen = self.evidence.observed[at]
        return min(abs(expected.values[at] - seen) for _, expected, _ in one.fine)

    def _sum(self, one: Expected, two: Expected) -> Expected:
        """What two faults show together, as far as their effects add up."""
        base = self.sound

        def both(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> tuple[float, ...]:
            return tuple([x + y - z for x, y, z in zip(a, b, c, strict=True)])

        return Expected(
            both(one.values, two.values, base.values),
            tuple(both(*each) for each in zip(one.by_emf, two.by_emf, base.by_emf, strict=True)),
            both(one.by_load, two.by_load, base.by_load),
            max(one.seen, two.seen),
            (*one.by_amount, *two.by_amount),
            tuple(
                both(*each)
                for each in zip(one.by_inside, two.by_inside, base.by_inside, strict=True)
            ),
        )

    def _both(self, one: Suspect, amount: float, two: Suspect, other: float) -> Expected:
        wrong = one.wrong(amount).plus(two.wrong(other))
        shown = self.evidence.solve(wrong)
        # A symptom is explained by either; the one that explains it better is asked.
        made = ((self.evidence.expected(each, wrong, shown), each) for each in (one, two))
        expected, better = max(made, key=lambda pair: pair[0].seen)
        return self.evidence.led(better, wrong, expected)


def _worth(pairs: Pairs, shown: Expected) -> Callable[[Candidate], float]:
    """How well the best amount of a fault shows what another leaves over, by its logarithm."""
    seen, sound, fit = pairs.evidence.observed, pairs.sound.values, pairs.evidence.fit
    want = [a - b + c for a, b, c in zip(seen, shown.values, sound, strict=True)]
    spread = [fit.spreads.of(at, one) for at, one in enumerate(seen)]

    def worth(one: Candidate) -> float:
        squares = (
            sum(((a - b) / c) ** 2 for a, b, c in zip(want, each.values, spread, strict=True))
            for _, each, _ in one.fine
        )
        return math.log(one.suspect.weight) - 0.5 * min(squares)

    return worth


def _widened(one: Candidate) -> list[tuple[Fine, Expected]]:
    """The amounts of a fault that were worked out, each standing for all that are nearest to it."""
    steps = steps_of(one.suspect)
    return [(fine, fine[1].within(steps)) for fine in one.fine[::steps]]


def _around(one: Candidate, at: Fine) -> Sequence[Fine]:
    place, steps = one.fine.index(at), steps_of(one.suspect)
    return one.fine[max(place - steps + 1, 0) : place + steps]


def _without(closed: Collection[str], name: str = "") -> Callable[[Edge], bool]:
    """Which edges are not to be walked: those that are open, and one more."""
    return lambda edge: edge_name(edge) == name or edge_name(edge) not in closed


def _same_part(one: Suspect, two: Suspect) -> bool:
    return one.name == two.name or (bool(one.circuit) and one.kind == two.kind == "short")
