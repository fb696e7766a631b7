"""Two fuses or breakers stand side by side, between the same two places.

Together they let the sum of their ratings through, and how they share it nobody sets. Where that
is more than a wire carries, it is told there. A pair that its maker put into a bought unit is
written as the one device that it is.

*Why:* one contact takes most of the current, opens first, and hands all of it to the other. Who
pulls one of the two for dead works on a live wire.
"""

from collections.abc import Iterator
from itertools import takewhile

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.kinds import plural
from rigfolio.model import Device
from rigfolio.network import unguarded_m
from rigfolio.protection import exposures_of, reach_of
from rigfolio.rule import Rule
from rigfolio.standard_sizes import rating_above
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import listed

RULE = Rule(
    "fuses-side-by-side",
    Severity.FAULT,
    Citation("NFPA 70 240.8, devices in parallel only as made and listed so", "memory"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every pair or more of devices with the same zone on either side."""
    told = {
        frozenset(device.about.name for device in one.devices)
        for one in exposures_of(study)
        if one.fault == "over"
    }
    for group in _groups(study):
        names = frozenset(device.about.name for device in group)
        if any(names <= one for one in told):
            continue
        yield _finding(group)


def _groups(study: Study) -> Iterator[list[Device]]:
    zone = reach_of(study).zone
    found: dict[frozenset[int], list[Device]] = {}
    for device in study.rig.devices:
        if device.protects and device.line in zone and device.load in zone:
            sides = frozenset((zone[device.line], zone[device.load]))
            if len(sides) > 1 and study.side.get(device.line) == "+":
                found.setdefault(sides, []).append(device)
    for held in found.values():
        group = _beside(study, held) if len(held) > 1 else []
        if len(group) > 1:
            yield group


def _beside(study: Study, held: list[Device]) -> list[Device]:
    """Those that have another one beside them."""
    near: set[int] = set()
    by_ends: dict[frozenset[int], list[int]] = {}
    joined: dict[str, int] = {}
    for place, one in enumerate(held):
        ends = frozenset(_joined(study, end, joined) for end in (one.line, one.load))
        by_ends.setdefault(ends, []).append(place)
    for places in by_ends.values():
        if len(places) > 1:
            near.update(places)
    around: dict[str, frozenset[str]] = {}
    for place, one in enumerate(held):
        if place not in near:
            others = (at for at, two in enumerate(held) if at != place and two != one)
            beside = next((at for at in others if _near(study, one, held[at], around)), None)
            near.update(() if beside is None else (place, beside))
    return [one for place, one in enumerate(held) if place in near]


def _joined(study: Study, terminal: str, known: dict[str, int]) -> int:
    """A number for all that is joined to a terminal without any length between."""
    if terminal not in known:
        number = len(known)
        known |= dict.fromkeys(
            study.net.walk([terminal], lambda edge: unguarded_m(edge) != 0), number
        )
    return known[terminal]


def _near(study: Study, one: Device, two: Device, around: dict[str, frozenset[str]]) -> bool:
    """Whether two devices begin and end together, no further than a fuse may be from its post.

    Two feeds with a way of their own between the two places are no pair.
    """

    def is_near(start: str, goal: str) -> bool:
        if start not in around:
            around[start] = _around(study, start)
        return goal in around[start]

    return (is_near(one.line, two.line) and is_near(one.load, two.load)) or (
        is_near(one.line, two.load) and is_near(one.load, two.line)
    )


def _around(study: Study, start: str) -> frozenset[str]:
    """The terminals that are no further from one than a fuse may be from its post."""
    reach_m = study.book.reach_m(sheathed=False, from_battery=False).value
    ways = study.net.distances(start, unguarded_m)
    return frozenset(there for there, way_m in takewhile(lambda way: way[1] <= reach_m, ways))


def _finding(group: list[Device]) -> Finding:
    first = group[0]
    ratings = [one.rating_a for one in group if isinstance(one.rating_a, float)]
    lets = ""
    one_word = f"one {first.kind}"
    if len(ratings) == len(group):
        lets = f", together they let {show_limit(sum(ratings), 'A')} through"
        fitting = rating_above(sum(ratings))
        if fitting is not None:
            one_word = f"one {first.kind} of {show_limit(fitting, 'A')} at most"
    names = listed([one.about.name for one in group])
    return RULE.finding(
        f"{plural(first.kind)} {names} stand side by side{lets}",
        first.rating_span or first.about.span,
        others=[(one.rating_span or one.about.span, "beside it") for one in group[1:]],
        fix=Fix(f"{one_word} in place of both, as far as the wires behind carry it"),
    )
