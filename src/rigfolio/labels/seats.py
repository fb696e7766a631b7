"""Where a device sits: on a terminal, or between what the wires of its two sides lead to."""

from collections import Counter
from collections.abc import Iterable

from rigfolio.model import Conductor, Device, Rig
from rigfolio.study import Study
from rigfolio.wording import end_words, short_end


def place_of(study: Study, device: Device) -> str:
    """What it sits on, or else between what it stands."""
    is_seated, *sides = near_of(study, device)
    words = [[end_words(study.rig, end) for end in side] for side in sides if side]
    if is_seated:
        return f"on {words[0][0]}"
    if len(words) < 2:
        return f"at {', '.join(words[0])}" if words else "place not stated"
    one, two = (", ".join(side) for side in words)
    if all(len(side) == 1 for side in words):
        return f"between {one} and {two}"
    return f"between {one} on one side and {two} on the other"


def seat_of(study: Study, device: Device) -> str:
    """The same in the names of terminals alone."""
    is_seated, *sides = near_of(study, device)
    words = [", ".join(short_end(study.rig, end) for end in side) for side in sides if side]
    if is_seated or len(words) < 2:
        return f"{'on' if is_seated else 'at'} {words[0]}" if words else "?"
    return " to ".join(words)


def near_of(study: Study, device: Device) -> tuple[bool, tuple[str, ...], tuple[str, ...]]:
    """Whether it sits on a terminal, and what the wires of its two sides lead to.

    One that does has that terminal on its first side. The banks of a selector are one side, what it
    feeds is the other; so it is with positions.
    """
    ends = [end for end in (device.line, device.load) if not _is_own(study.rig, device, end)]
    if ends:
        own = [end for end in (device.line, device.load) if end != ends[0]]
        return True, (ends[0],), _fars(study, own)
    alike = study.rig.poles[device.about.name]
    if device.traits.has_positions:
        held = Counter(end for one in alike for end in (one.line, one.load))
        banks = _fars(study, [end for end in held if held[end] == 1])
        fed = _fars(study, [end for end in held if held[end] > 1])
        first, second = (banks, fed) if fed else (banks[:1], banks[1:])
        return (False, second, first) if device.traits.excludes else (False, first, second)
    # One pin of a plug tells which plug is meant.
    ways = [(_fars(study, [one.line]), _fars(study, [one.load])) for one in alike]
    return False, *max(ways, key=lambda way: len(way[0]) + len(way[1]))


def _is_own(rig: Rig, device: Device, end: str) -> bool:
    """Whether an end of a device is nothing else than that."""
    name = device.about.name
    return end.startswith(f"{name}.") or short_end(rig, end).startswith(f"{name}.")


def _fars(study: Study, ends: Iterable[str]) -> tuple[str, ...]:
    """What the wires of some ends lead to, each once."""
    steps = (step for end in ends for step in study.net.steps(end))
    return tuple(dict.fromkeys(far for edge, far in steps if isinstance(edge, Conductor)))
