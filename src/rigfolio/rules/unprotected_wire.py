"""A wire that some source reaches with nothing between that would open.

Every source is walked from, from both ends of the wire: a battery, a towing vehicle, a charger
whose rated output is more than the wire may carry.

*Why:* a chafed wire with no fuse before it carries what the battery can give, hundreds of amperes,
until it burns. A spare wire that ends in tape is a live wire all the same.
"""

from collections.abc import Iterator, Sequence

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.network import ends, is_guard
from rigfolio.protection import Exposure, copper, exposures_of, fuse_near, sure_a, unfused_of
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show_load
from rigfolio.wording import carrying, distance, joined_words, listed, may_bear, name_of, place

RULE = Rule(
    "unprotected-wire",
    Severity.DANGER,
    Citation("every conductor is protected from every source that reaches it", "common practice"),
    of_plan=True,
)


def check(study: Study) -> Iterator[Finding]:
    """Conductors with nothing between them and a source; batteries without a fuse left out."""
    groups: dict[tuple[str, ...], dict[str, Exposure]] = {}
    for exposure in exposures_of(study):
        if exposure.fault == "bare":
            names = tuple(
                s.about.name for s in exposure.sources if s.about.name not in unfused_of(study)
            )
            if names:
                groups.setdefault(names, {}).setdefault(exposure.wire.name, exposure)
    for names, group in groups.items():
        for branch in _branches(study, tuple(group.values())):
            wires = sorted(branch, key=lambda one: one.limit.value)
            held = {one.wire.name for one in wires}
            late = [e for e in exposures_of(study) if e.fault == "far" and e.wire.name in held]
            yield _finding(study, names, wires, late)


def _branches(study: Study, group: Sequence[Exposure]) -> Iterator[list[Exposure]]:
    """Exposures that one fuse could serve: their wires join beyond where the supply connects.

    Wires that meet at the very post of a battery each begin there, and each needs a fuse.
    """
    starts = {one.start for one in group}
    branches: list[tuple[set[str], list[Exposure]]] = []
    for one in group:
        away = {one.wire.a, one.wire.b} - starts
        walked = study.net.walk(away, lambda edge: is_guard(edge) or bool(starts & {*ends(edge)}))
        reached, held = set(walked), [one]
        apart = []
        for other in branches:
            if reached.isdisjoint(other[0]):
                apart.append(other)
            else:
                reached |= other[0]
                held = [*other[1], *held]
        branches = [*apart, (reached, held)]
    for _, held in branches:
        yield held


def _finding(
    study: Study, names: tuple[str, ...], group: list[Exposure], late: list[Exposure]
) -> Finding:
    """One finding for wires of one fate; `late` are their other ends, where a device comes late."""
    thinnest = group[0]
    far = [s for one in late for s in one.sources if s.about.name not in names]
    names = (*names, *dict.fromkeys(source.about.name for source in far))
    limit = thinnest.limit
    wires = joined_words([name_of(one.wire) for one in group])
    several = len(group) > 1
    reach = distance(thinnest.reach.value, thinnest.wire)
    drives = "drives into it"
    if thinnest.sources and isinstance(thinnest.sources[0].limit_a, float):
        drives = f"drives up to {show_load(thinnest.current_a, 'A')} into it"
    return RULE.finding(
        f"nothing protects {wires} from {listed(names)}, "
        f"{'the thinnest' if several else 'it'} {may_bear(limit)}",
        thinnest.wire.size_span,
        here=carrying(limit),
        others=[
            *((s.about.span, drives) for s in thinnest.sources),
            *((s.about.span, "drives into its other end") for s in far),
            *((one.wire.size_span, "nor this one") for one in group[1:]),
        ],
        fix=_fix(study, group, late, reach),
        source=thinnest.reach.source,
        numbers=(("limit_a", limit.value), ("reach_m", thinnest.reach.value)),
    )


def _fix(study: Study, group: list[Exposure], late: list[Exposure], reach: str) -> Fix:
    """A fuse near where the supply connects; no fuse opens on what solar modules give."""
    thinnest, wires = group[0], [one.wire for one in group]
    first = min(group, key=lambda one: one.before_m)
    if all(source.traits.by_light for one in group for source in one.sources):
        most_a = max(one.current_a for one in group)
        return copper(study, wires, most_a, study.carries_all_of)
    return fuse_near(
        study,
        wires,
        sure_a(thinnest.limit),
        f"within {reach} of {place(study.rig, first.end)}",
        "".join(_other_end(study, one) for one in late),
        end="" if late else first.end,
    )


def _other_end(study: Study, late: Exposure) -> str:
    reach = distance(late.reach.value, late.wire)
    return f", and another within {reach} of {place(study.rig, late.end)}"
