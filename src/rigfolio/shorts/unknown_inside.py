"""What a fault does not exceed, whatever those batteries have inside that do not say it.

Any current of a network of resistances is a quotient of two sums that are linear in the conductance
of one of them, and so runs one way only from none to boundless: it is largest with that battery
absent or without any resistance, and with several in some corner of all these. The sum of a fault
is largest with all of them as strong as can be; what another battery gives, and what flows in its
wires and fuses, often with them absent, since they hold up the place of the fault by themselves.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import combinations
from math import isclose

from rigfolio.model import Source
from rigfolio.shorts.sources import STIFF_OHM, Currents, FaultCurrent

# Share of the volts, lost in what stands in for an unknown, above which nothing known holds back.
_UNHELD = 0.5
# Above so many the corners are too many to be worked out each.
_MOST_CORNERS = 6


def absences(asked: Sequence[Source]) -> Iterator[frozenset[str]]:
    """Which of the batteries that do not say what they have inside are absent, in each corner.

    Of very many only those corners are taken in which one or all are absent, or one alone is there.
    """
    names = [source.about.name for source in asked]
    every = len(names)
    for count in range(1, every + 1):
        if every <= _MOST_CORNERS or count in (1, every - 1, every):
            yield from map(frozenset, combinations(names, count))


def bound_of(
    asked: Collection[str], cold: Currents, flows: Sequence[FaultCurrent]
) -> tuple[FaultCurrent, bool]:
    """The most that flows in each part of a fault, and whether anything known holds it back.

    Parameters
    ----------
    asked : Collection[str]
        Those of which it is not known what they have inside, by name.
    cold : Currents
        All sources as hard as they can drive. Nothing makes those give more that are limited.
    flows : sequence of FaultCurrent
        The fault in each corner, that with all of them first.
    """
    asked_v = {name: cold.emf_v[name] for name in asked}
    scales = [_scale(asked_v, flow) for flow in flows]
    is_bounded = None not in scales
    held = [(flow, scale or 1.0) for flow, scale in zip(flows, scales, strict=True)]
    edges = [_times(flow.edges, scale, cold.limited_a) for flow, scale in held]
    sources = [_times(flow.sources, scale, cold.limited_a) for flow, scale in held]
    most = FaultCurrent(
        max(flow.current_a * scale for flow, scale in held),
        {name: max((one[name] for one in edges), key=abs) for name in edges[0]},
        {name: _given(tuple(one[name] for one in sources if name in one)) for name in sources[0]},
    )
    return most, is_bounded


def _given(amps: Sequence[float]) -> float:
    """The most that a source gives; where it gives nothing, the most that it takes."""
    most_a = max(amps)
    return most_a if most_a > 0.0 else min(amps)


def _times(
    amps: Mapping[str, float], scale: float, limited_a: Sequence[float]
) -> Mapping[str, float]:
    """So much more, but for what sources give that are limited, alone or all together."""
    if scale == 1.0:
        return amps
    if not limited_a:
        return {name: own_a * scale for name, own_a in amps.items()}
    fixed = (*limited_a, sum(limited_a))
    return {
        name: own_a if any(isclose(abs(own_a), one) for one in fixed) else own_a * scale
        for name, own_a in amps.items()
    }


def _scale(asked_v: Mapping[str, float], flow: FaultCurrent) -> float | None:
    """How much more flows than worked out, at the most.

    What stands in for an unknown takes its share of the volts, which is given back. None where it
    takes most of them: there is next to no copper then, and nothing known bounds the fault.
    """
    lost = (flow.sources.get(name, 0.0) * STIFF_OHM / volts for name, volts in asked_v.items())
    share = max((0.0, *lost))
    return None if share > _UNHELD else 1.0 / (1.0 - share)
