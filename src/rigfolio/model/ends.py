"""Which end of a series device a wire lands on, where the text leaves it open."""

from collections import deque
from collections.abc import Mapping, Sequence

from rigfolio.findings import Span
from rigfolio.model.graph import Problem
from rigfolio.model.names import Bare
from rigfolio.record import record

Landing = str | Bare | None


@record
class Run:
    """A wire between two landings, and the place that wrote it."""

    a: Landing
    b: Landing
    span: Span


def _key(landing: Landing) -> str:
    return landing.key if isinstance(landing, Bare) else landing or ""


def _stem(terminal: str, devices: Mapping[str, tuple[str, str]]) -> str:
    """The device that a terminal belongs to, so that distance runs through devices."""
    stem = terminal.rsplit(".", 1)[0]
    return stem if stem in devices else terminal


def _distances(
    runs: Sequence[Run], devices: Mapping[str, tuple[str, str]], starts: Sequence[str]
) -> dict[str, int]:
    """Wires between each device or terminal and the nearest source."""
    next_to: dict[str, list[str]] = {}
    for run in runs:
        one, two = (_stem(_key(end), devices) for end in (run.a, run.b))
        next_to.setdefault(one, []).append(two)
        next_to.setdefault(two, []).append(one)
    far = dict.fromkeys(starts, 0)
    waiting = deque(starts)
    while waiting:
        here = waiting.popleft()
        for there in next_to.get(here, ()):
            if there not in far:
                far[there] = far[here] + 1
                waiting.append(there)
    return far


def settle(
    runs: Sequence[Run], devices: Mapping[str, tuple[str, str]], starts: Sequence[str]
) -> tuple[dict[tuple[int, int], str], list[Problem]]:
    """The terminal of every bare landing, by run and end (0 is `a`, 1 is `b`).

    A wire written towards the device lands on its line end, one written away from it on its load
    end. Where all are written the same way, the one nearer to a source lands on the line end. An
    end that a wire names in full is left to it.
    """
    bare: dict[str, list[tuple[int, int, bool]]] = {}
    taken: set[str] = set()
    for number, run in enumerate(runs):
        for end, landing in enumerate((run.a, run.b)):
            if isinstance(landing, Bare):
                bare.setdefault(landing.key, []).append((number, end, landing.onward))
            elif landing is not None:
                taken.add(landing)
    settled: dict[tuple[int, int], str] = {}
    problems: list[Problem] = []
    far = _distances(runs, devices, starts)
    for key, landings in bare.items():
        line, load = devices[key]
        ends = _choose(landings, taken & {line, load}, (line, load))
        if ends is None and len(landings) == 2:
            ends = _by_distance(landings, runs, devices, far)
        if ends is None:
            number = landings[0][0]
            problems.append(
                Problem("end-not-plain", runs[number].span, key, near=f"{line}, {load}")
            )
            continue
        for (number, end, _), is_line in zip(landings, ends, strict=True):
            settled[(number, end)] = line if is_line else load
    return settled, problems


def _choose(
    landings: Sequence[tuple[int, int, bool]], taken: set[str], ends: tuple[str, str]
) -> list[bool] | None:
    if len(taken) == 1:
        return [ends[0] not in taken] * len(landings)
    onward = [way for _, _, way in landings]
    if taken or (len(landings) > 1 and len(set(onward)) == 1):
        return None
    return [not way for way in onward]


def _by_distance(
    landings: Sequence[tuple[int, int, bool]],
    runs: Sequence[Run],
    devices: Mapping[str, tuple[str, str]],
    far: Mapping[str, int],
) -> list[bool] | None:
    steps = []
    for number, end, _ in landings:
        other = runs[number].a if end else runs[number].b
        steps.append(far.get(_stem(_key(other), devices)))
    one, two = steps
    if one is None or two is None or one == two:
        return None
    return [one < two, two < one]
