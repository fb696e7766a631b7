"""Which wires lack a fuse of their own, and what else one fuse there would serve.

What hangs behind a wire that nothing protects may have its own fuse in time, but for what that wire
lets in. A fuse for the wire is then what it lacks as well, and is told once. That is tried, not
guessed: the fuse is put in, in the mind, and all is judged again.
"""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.kinds import USUAL_GUARD
from rigfolio.model import About, Device
from rigfolio.network import ends, is_guard
from rigfolio.protection.exposure import Exposure, exposures_of, unfused_of
from rigfolio.protection.limits import sure_a
from rigfolio.protection.ways_out import near_a
from rigfolio.record import record, replace
from rigfolio.study import Study, once


@record
class MissingFuse:
    """A fuse that some wires lack, the thinnest first: nothing stands between them and `sources`.

    `late` are the other ends of them, where a device comes too late; `served` is what else is
    protected once the fuse is there, and not before.
    """

    sources: tuple[str, ...]
    wires: tuple[Exposure, ...]
    late: tuple[Exposure, ...]
    served: tuple[Exposure, ...]

    @property
    def first(self) -> Exposure:
        """That of them which is nearest to where the supply connects: the fuse belongs there."""
        return min(self.wires, key=lambda one: one.before_m)


@once
def missing_fuses(study: Study) -> tuple[MissingFuse, ...]:
    """All fuses that wires lack; what a battery without any fuse drives into is left out."""
    groups: dict[tuple[str, ...], dict[str, Exposure]] = {}
    for exposure in exposures_of(study):
        if exposure.fault == "bare":
            names = tuple(
                s.about.name for s in exposure.sources if s.about.name not in unfused_of(study)
            )
            if names:
                groups.setdefault(names, {}).setdefault(exposure.wire.name, exposure)
    return tuple(
        _missing(study, names, branch)
        for names, group in groups.items()
        for branch in _branches(study, tuple(group.values()))
    )


@once
def behind_a_missing_fuse(study: Study) -> Mapping[tuple[str, str], MissingFuse]:
    """What a missing fuse would serve too, by wire and end, each with that fuse."""
    return {
        (one.wire.name, one.end): missing
        for missing in missing_fuses(study)
        for one in missing.served
    }


def _missing(study: Study, names: tuple[str, ...], branch: Sequence[Exposure]) -> MissingFuse:
    wires = tuple(sorted(branch, key=lambda one: one.limit.value))
    held = {one.wire.name for one in wires}
    late = tuple(e for e in exposures_of(study) if e.fault == "far" and e.wire.name in held)
    missing = MissingFuse(names, wires, late, ())
    return replace(missing, served=tuple(_served(study, missing)))


def _served(study: Study, missing: MissingFuse) -> Iterator[Exposure]:
    """What comes too far from a supply only since the wire is there without a fuse."""
    first = missing.first
    behind = [
        one
        for one in exposures_of(study)
        if one.fault == "far" and one not in missing.late and first.wire in one.way
    ]
    wires = [one.wire for one in missing.wires]
    rating_a = near_a(study, wires, sure_a(missing.wires[0].limit)) if behind else None
    if rating_a is None or all(s.traits.by_light for one in missing.wires for s in one.sources):
        return
    left = {(one.wire.name, one.end) for one in exposures_of(_fused(study, first, rating_a))}
    yield from (one for one in behind if (one.wire.name, one.end) not in left)


def _fused(study: Study, first: Exposure, rating_a: float) -> Study:
    """The rig with a fuse at the end of a wire where its supply connects."""
    rig, wire = study.rig, first.wire
    end = f"{wire.name}~fuse"
    held = Device(About(end, "", wire.span), USUAL_GUARD, first.end, end, rating_a)
    rest = replace(wire, a=end) if wire.a == first.end else replace(wire, b=end)
    wires = tuple(rest if one is wire else one for one in rig.conductors)
    return Study(replace(rig, conductors=wires, devices=(*rig.devices, held)), study.book.name)


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
