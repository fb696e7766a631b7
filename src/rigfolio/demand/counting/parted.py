"""The loads that a switch keeps from being on at one time, counted where they run."""

from collections.abc import Collection, Iterable

from rigfolio.demand.counting.counts import Counts, count_on
from rigfolio.demand.counting.tally import Tally
from rigfolio.model import Load


def count_apart(counts: Counts) -> None:
    """Count the loads that a switch keeps from being on at one time, once all are known.

    Of those on one edge the heaviest that can be on together; where others last longer, these as
    well, by themselves.
    """
    keys = {id(tally): key for key, tally in counts.tallies.items()}
    for tally, loads in counts.apart.by_tally():
        counted, lasting = counts.apart.heaviest(loads, counts.own)
        key = keys.get(id(tally))
        if key is not None and lasting - counted:
            other = _beside(counts, tally)
            counts.others.setdefault(key, []).append(other)
            _count_some(counts, loads, lasting, other)
        for load in loads:
            if key is not None and load.about.name not in counted:
                # What is on beside it, which the drop of that load is told by.
                source, edge = key
                own = counts.instead[load.about.name, source, edge] = _beside(counts, tally)
                _count_some(counts, loads, counts.apart.beside(load, loads, counts.own), own)
        _count_some(counts, loads, counted, tally)


def _beside(counts: Counts, tally: Tally) -> Tally:
    """Another tally of what no switch parts on the edge of one, counted anew with it."""
    other = tally.copy()
    for _, on in counts.on:
        if any(one is tally for one in on):
            on.append(other)
    return other


def _count_some(
    counts: Counts, loads: Iterable[Load], counted: Collection[str], tally: Tally
) -> None:
    """Count some of the loads on an edge; the others are known to be on it, and no more."""
    for load in loads:
        if load.about.name in counted:
            count_on(counts, load, [tally])
        else:
            tally.know(load)
