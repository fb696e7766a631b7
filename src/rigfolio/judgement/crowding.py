"""How many parts may meet before a text is refused as no rig.

What can flow into a wire depends on all that lies beside it, and what a battery drives into a fault
on all other batteries, so that the work grows with the square of their number.
"""

from collections import Counter

from rigfolio.findings import Finding, Span
from rigfolio.lang import error
from rigfolio.model import Conductor, Rig
from rigfolio.network import Edge, ends, net_among
from rigfolio.refusal import RefusalError

MOST_AT_ONE_TERMINAL = 2_000
"""Wires, returns and devices; a bar of a ship has a hundred."""

MOST_SIDE_BY_SIDE = 250
"""Ways from one terminal to another without a third wire between; four are many."""

MOST_SOURCES = 250
"""Batteries, chargers, alternators and arrays; a bank of a hundred cells is a large one."""

MOST_WEIGHED = 100
"""Sources of a rig whose sizes or faults are asked for: each size and each fault is tried, and each
trial is a network of them all."""
_AS_ONE = "write cells that share their leads as one battery"


def see_weighed(rig: Rig, command: str) -> None:
    """Refuse to try all sizes or faults of a rig of more sources than that takes some seconds for.

    Raises
    ------
    RefusalError
        There are more.
    """
    if len(rig.sources) > MOST_WEIGHED:
        headline = f"more than {MOST_WEIGHED} sources, `{command}` would take very long"
        raise RefusalError("sources-crowded", headline, _AS_ONE)


def too_crowded(rig: Rig) -> Finding | None:
    """An error at the first part too many on one terminal, between two, or in all.

    None where all can be judged.
    """
    if len(rig.sources) > MOST_SOURCES:
        return error(
            "sources-crowded",
            rig.sources[MOST_SOURCES].about.span,
            f"more than {MOST_SOURCES} sources in one rig",
            here="the first one too many",
            fix=_AS_ONE,
        )
    edges: tuple[Edge, ...] = (*rig.conductors, *rig.devices)
    count = Counter(terminal for edge in edges for terminal in set(ends(edge)))
    full = [terminal for terminal, many in count.items() if many > MOST_SIDE_BY_SIDE]
    return _at_one(edges, full) or _side_by_side(edges, full)


def _at_one(edges: tuple[Edge, ...], full: list[str]) -> Finding | None:
    left = dict.fromkeys(full, MOST_AT_ONE_TERMINAL)
    for edge in edges:
        for terminal in set(ends(edge)) & left.keys():
            left[terminal] -= 1
            if left[terminal] < 0:
                return error(
                    "terminal-crowded",
                    _span(edge),
                    f"more than {MOST_AT_ONE_TERMINAL} wires and devices at `{terminal}`",
                    here="the first one too many",
                    fix="see whether each of them is there, and land them on several bars",
                )
    return None


def _side_by_side(edges: tuple[Edge, ...], full: list[str]) -> Finding | None:
    if not full:
        return None
    net = net_among(edges)
    for start in full:
        many: Counter[str] = Counter()
        for edge, there in net.steps(start):
            # A fuse on a wire has a terminal of its own, on which nothing else lands.
            onward = [one for one in net.steps(there) if one[0] is not edge]
            end = onward[0][1] if len(onward) == 1 else there
            many[end] += 1
            if many[end] > MOST_SIDE_BY_SIDE:
                return error(
                    "side-by-side-crowded",
                    _span(edge),
                    f"more than {MOST_SIDE_BY_SIDE} wires side by side from `{start}` to `{end}`",
                    here="the first one too many",
                    fix="see whether each of them is there, and write the thicker cable that is",
                )
    return None


def _span(edge: Edge) -> Span:
    return edge.span if isinstance(edge, Conductor) else edge.about.span
