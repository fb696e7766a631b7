"""Where to put the probes next: the one reading that tells the suspected faults apart best."""

import math
from collections.abc import Iterator, Mapping

from rigfolio.books.diagnosis import figure
from rigfolio.record import record
from rigfolio.study.bench import NOTHING_WRONG, Shown, edges_of
from rigfolio.study.diagnosis import Diagnosis, Verdict

_WORTH = 0.003
_MOST = 24
_SURE = 0.97
_LEAST_BITS = 0.01


@record
class Choice:
    """Volts from `a` to `b`, how much they tell, and what they show for each suspect.

    `bits` is how much less is unknown afterwards, on average [bit]. `shows` pairs a verdict with
    what the meter then shows [V], the likeliest first.
    """

    a: str
    b: str
    bits: float
    shows: tuple[tuple[Verdict, float], ...]


def next_reading(diagnosis: Diagnosis, skip: frozenset[tuple[str, str]] = frozenset()) -> (
    Choice | None
):  # fmt: skip
    """The reading of volts that separates the verdicts best; None where nothing is left to tell.

    Parameters
    ----------
    diagnosis : Diagnosis
        What is suspected.
    skip : frozenset[tuple[str, str]]
        Pairs of terminals that are not to be proposed, besides those that were read.
    """
    found = choices(diagnosis, skip)
    return found[0] if found and found[0].bits >= _LEAST_BITS else None


def choices(
    diagnosis: Diagnosis, skip: frozenset[tuple[str, str]] = frozenset()
) -> tuple[Choice, ...]:
    """All readings that could be taken in the first scene, the most telling first."""
    held = _held(diagnosis)
    if len(held) < 2:
        return ()
    done = {(probe.a, probe.b) for probe in diagnosis.evidence.numeric} | skip
    made = [
        _choice(a, b, held)
        for a, b in _pairs(diagnosis, held)
        if (a, b) not in done and (b, a) not in done
    ]
    return tuple(sorted(made, key=lambda one: (-round(one.bits, 4), one.a, one.b)))


@record
class _Held:
    """A verdict, its share among those that are held, and what it shows, weighed by amount."""

    verdict: Verdict
    share: float
    shown: tuple[tuple[float, Shown], ...]


def _held(diagnosis: Diagnosis) -> tuple[_Held, ...]:
    likely = [one for one in diagnosis.verdicts if one.share >= _WORTH and one.touches][:_MOST]
    evidence = diagnosis.evidence
    parts: list[tuple[Verdict, tuple[tuple[float, Shown], ...]]] = []
    for one in likely:
        if one.trials:
            shown = [(weight, trial.shown[0]) for weight, trial in one.trials if weight > 0.01]
        else:
            shown = [(1.0, evidence.scenes[0].solve(one.wrong))]
        parts.append((one, tuple(shown)))
    rest = 1.0 - sum(one.share for one in likely)
    sound = next((v for v in diagnosis.verdicts if v.faults[0].kind == "nothing"), None)
    if sound is not None and rest > _WORTH:
        parts.append((sound, ((1.0, evidence.scenes[0].solve(NOTHING_WRONG)),)))
    whole = sum(one.share for one, _ in parts) or 1.0
    return tuple(_Held(one, one.share / whole, shown) for one, shown in parts)


def _pairs(diagnosis: Diagnosis, held: tuple[_Held, ...]) -> Iterator[tuple[str, str]]:
    """Readings against minus along the way of what is suspected, and across each part of it."""
    evidence = diagnosis.evidence
    edges = edges_of(evidence.scenes[0])
    circuits = {fault.circuit for one in held for fault in one.verdict.faults if fault.circuit}
    named = {fault.name for one in held for fault in one.verdict.faults}
    named |= {wire.name for wire in evidence.study.rig.conductors if wire.circuit in circuits}
    seen: dict[tuple[str, str], None] = {}
    for name in sorted(named & edges.keys()):
        a, b = edges[name]
        for end in (a, b):
            if evidence.study.side.get(end) == "+":
                minus = evidence.minus_of(end)
                if minus is not None:
                    seen[end, minus] = None
        seen[a, b] = None
    for source in evidence.study.rig.sources:
        if source.kind == "battery":
            seen[source.plus, source.minus] = None
    yield from seen


def _choice(a: str, b: str, held: tuple[_Held, ...]) -> Choice:
    """How much a reading tells: what is unknown before it less what is unknown after it."""
    cells = [
        (place, one.share * weight, shown.between_v(a, b))
        for place, one in enumerate(held)
        for weight, shown in one.shown
    ]
    bits = 0.0
    for _, share, volts in cells:
        spread = _spread(volts)
        likely: dict[int, float] = {}
        for other, other_share, other_v in cells:
            off = (volts - other_v) / math.hypot(spread, _spread(other_v))
            likely[other] = likely.get(other, 0.0) + other_share * math.exp(-0.5 * off * off)
        whole = sum(likely.values())
        after = -sum(p / whole * math.log2(p / whole) for p in likely.values() if p > 0.0)
        bits += share * after
    whole_share = sum(share for _, share, _ in cells)
    before = -sum(one.share * math.log2(one.share) for one in held if one.share > 0.0)
    return Choice(a, b, max(before - bits / whole_share, 0.0), _shows(a, b, held))


def _spread(volts: float) -> float:
    """What the meter and the state of the battery leave open of a reading [V]."""
    fine = 10.0 if abs(volts) < 1.0 else 1.0
    own = figure("meter", "share") * abs(volts) + figure("meter", "volt") / fine
    return math.hypot(own, figure("spread", "emf_share") * abs(volts))


def _shows(a: str, b: str, held: tuple[_Held, ...]) -> tuple[tuple[Verdict, float], ...]:
    made = []
    for one in held:
        whole = sum(weight for weight, _ in one.shown)
        mean = sum(weight * shown.between_v(a, b) for weight, shown in one.shown) / whole
        made.append((one.verdict, mean))
    return tuple(sorted(made, key=lambda each: -each[0].share))


def is_settled(diagnosis: Diagnosis) -> bool:
    """Whether one verdict is so likely that there is nothing more to be told apart."""
    return diagnosis.verdicts[0].share >= _SURE and diagnosis.fits


def grouped(diagnosis: Diagnosis) -> Mapping[str, float]:
    """Shares of the verdicts that change nothing of what was read, and of all others."""
    touching = sum(one.share for one in diagnosis.verdicts if one.touches)
    return {"touching": touching, "elsewhere": 1.0 - touching}
