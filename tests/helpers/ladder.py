"""A ladder of resistances from a bar's to an open joint's, solved by hand in sixty digits."""

import random
from decimal import Decimal, localcontext

from rigfolio.calc.sparse import DATUM, stamp

_VOLTS = 12.6
_RUNGS = 20


def stiff_ladder(size: int, seed: int) -> tuple[list[dict[int, float]], list[float], list[float]]:
    """The conductances of a ladder [S], the currents into it [A], its voltages [V].

    Its stiles lie between 10 microohm and 10 megohm, a few rungs between 0.1 and 10 megohm. From
    the far end: what a rung lets through to the datum, beside what lies behind it in series with
    the next stile. Then from the near end the voltage is divided, stile by stile.
    """
    chance = random.Random(seed)
    stiles = [10.0 ** chance.uniform(-5.0, 7.0) for _ in range(size)]
    rungs = [0.0] * size
    for node in (*chance.sample(range(size), _RUNGS), size - 1):
        rungs[node] = 10.0 ** chance.uniform(-7.0, -5.0)
    rows: list[dict[int, float]] = [{} for _ in range(size)]
    for node, (ohm, siemens) in enumerate(zip(stiles, rungs, strict=True)):
        stamp(rows, node, node - 1 if node else DATUM, 1.0 / ohm)
        stamp(rows, node, DATUM, siemens)
    right = [_VOLTS / stiles[0]] + [0.0] * (size - 1)
    # The first stile and the current into it are a source of its own voltage.
    return rows, right, _divided(stiles, rungs, right[0])


def _divided(stiles: list[float], rungs: list[float], into_a: float) -> list[float]:
    with localcontext() as context:
        context.prec = 60
        ohms = [1 / Decimal(1.0 / ohm) for ohm in stiles]
        seen = [Decimal(0)] * len(ohms)
        behind = Decimal(0)
        for node in reversed(range(len(ohms))):
            seen[node] = behind + Decimal(rungs[node])
            behind = 1 / (ohms[node] + 1 / seen[node])
        found, volts = [], Decimal(into_a) * ohms[0]
        for ohm, siemens in zip(ohms, seen, strict=True):
            volts /= 1 + ohm * siemens
            found.append(float(volts))
        return found
