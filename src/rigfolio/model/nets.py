"""What is joined to what, when every device is closed."""

from collections.abc import Iterable


def joined(starts: Iterable[str], edges: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Every terminal that some edges join to a start, with the start that reached it first."""
    next_to: dict[str, list[str]] = {}
    for one, two in edges:
        next_to.setdefault(one, []).append(two)
        next_to.setdefault(two, []).append(one)
    reached: dict[str, str] = {}
    for start in starts:
        waiting = [] if start in reached else [start]
        while waiting:
            here = waiting.pop()
            if here in reached:
                continue
            reached[here] = start
            waiting += next_to.get(here, ())
    return reached
