"""How many wires and devices may meet at one terminal before a text is refused as no rig."""

from rigfolio.findings import Finding
from rigfolio.lang import error
from rigfolio.model import Conductor, Rig
from rigfolio.network import Edge, ends

MOST_AT_ONE_TERMINAL = 1_000
"""Wires, returns and devices; a bar of a ship has a hundred."""


def too_many_at_one(rig: Rig) -> Finding | None:
    """An error at the first wire or device too many on one terminal; None where all can be judged.

    What can flow into a wire depends on all that lands beside it, so that the work grows with the
    square of their number.
    """
    count: dict[str, int] = {}
    edges: tuple[Edge, ...] = (*rig.conductors, *rig.devices)
    for edge in edges:
        for terminal in ends(edge):
            count[terminal] = count.get(terminal, 0) + 1
            if count[terminal] > MOST_AT_ONE_TERMINAL:
                span = edge.span if isinstance(edge, Conductor) else edge.about.span
                return error(
                    "terminal-crowded",
                    span,
                    f"more than {MOST_AT_ONE_TERMINAL} wires and devices at `{terminal}`",
                    here="the first one too many",
                    fix="see whether each of them is there, and land them on several bars",
                )
    return None
