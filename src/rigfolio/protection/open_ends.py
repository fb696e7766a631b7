"""Ends that lie loose in the text, so that one slip of the pen is not told of many times."""

from bisect import bisect_left, bisect_right

from rigfolio.findings import Span
from rigfolio.model import Circuit, Conductor, Load
from rigfolio.network import loose_ends
from rigfolio.study import Study

_SLIPS = frozenset(
    {
        "not-defined",
        "no-terminal",
        "no-slot",
        "end-not-plain",
        "fuse-not-on-wire",
        "splice-without-wire",
    }
)


def slips(study: Study) -> tuple[Span, ...]:
    """The places of the text whose names do not work out."""
    return tuple(problem.at for problem in study.rig.problems if problem.kind in _SLIPS)


def asked_ends(study: Study) -> tuple[Conductor, ...]:
    """Wires with an end that the text leaves open with `?`, and not by a slip."""
    wrong = _starts_of_slips(study)
    found = {
        wire.name: wire
        for wire in loose_ends(study.rig).values()
        if not _begins_within(wrong, wire.span)
    }
    return tuple(found.values())


def _starts_of_slips(study: Study) -> list[tuple[str, int]]:
    return sorted((at.file, at.start) for at in slips(study))


def _begins_within(starts: list[tuple[str, int]], outer: Span) -> bool:
    """Whether one of some sorted places begins in another, or right behind it."""
    first = bisect_left(starts, (outer.file, outer.start))
    return first < len(starts) and starts[first] <= (outer.file, outer.end)


def explained(study: Study, sign: str) -> set[str]:
    """The loads whose plus (`+`) or minus (`-`) may lead nowhere because of a loose end.

    A loose end that a source drives could be what feeds any of them; another one only those that it
    is joined to. What is not explained is a fault of its own.
    """
    ends = [*loose_ends(study.rig), *_wrong_devices(study)]
    loads = study.rig.loads
    if any(study.side.get(end) == sign for end in ends):
        return {load.about.name for load in loads}
    near = study.net.walk(ends)
    found = {load.about.name for load in loads if (_end(load, sign)) in near}
    for circuit in _wrong_circuits(study):
        found.update(circuit.loads)
    return found


def _end(load: Load, sign: str) -> str:
    return load.plus if sign == "+" else load.minus


def _wrong_devices(study: Study) -> list[str]:
    """The line ends of devices that were to sit on something that is not there."""
    wrong = _starts_of_slips(study)
    return [device.line for device in study.rig.devices if _begins_within(wrong, device.about.span)]


def _wrong_circuits(study: Study) -> list[Circuit]:
    """Circuits with a slip between their own line and the next circuit's."""
    wrong = slips(study)
    found = [circuit for circuit in study.rig.circuits if not circuit.start]
    starts = sorted((c.span.file, c.span.start) for c in study.rig.circuits)
    wanted = set()
    for at in wrong:
        last = bisect_right(starts, (at.file, at.start)) - 1
        if last >= 0 and starts[last][0] == at.file:
            wanted.add(starts[last])
    return found + [c for c in study.rig.circuits if (c.span.file, c.span.start) in wanted]


def groups(study: Study, loads: list[Load], sign: str) -> list[list[Load]]:
    """Loads whose plus or minus ends are joined to each other, group by group."""
    found: list[list[Load]] = []
    place: dict[str, list[Load]] = {}
    for load in loads:
        end = _end(load, sign)
        if end not in place:
            group: list[Load] = []
            found.append(group)
            place.update(dict.fromkeys(study.net.walk([end]), group))
        place[end].append(load)
    return found
