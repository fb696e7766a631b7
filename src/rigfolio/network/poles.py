"""Poles of sources that are joined to nothing, and a rig in which they are joined."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.model import Junction, Load, Rig, Source
from rigfolio.network.graph import Net, loose_ends, net_of
from rigfolio.record import record, replace


@record
class OpenPole:
    """A pole from which no current comes or goes.

    `is_bare` is true where nothing at all is joined to it; of others what is joined ends at the
    free end of a fuse, a switch or the like.
    """

    source: Source
    sign: str
    end: str
    is_bare: bool


def open_poles(rig: Rig, net: Net) -> tuple[OpenPole, ...]:
    """Every open pole of every source, the plus first.

    An end that the text leaves open may still be joined to it, a bar or a panel may be what the
    rest was to land on, and what comes back by a frame that is not part of the rig does come back.
    """
    if not any(net.steps(end) for one in rig.sources for end in (one.plus, one.minus)):
        return ()
    loose = loose_ends(rig)
    return tuple(pole for source in rig.sources for pole in _of(rig, net, source, loose))


def joined(rig: Rig, poles: Iterable[OpenPole]) -> Rig:
    """A rig in which open minus poles are where the current of their plus comes back to.

    Those stay open of which the wiring does not tell where that is, and every plus.
    """
    for pole in poles:
        if pole.sign == "-":
            rig = _regained(rig, pole.source)
    return rig


def _of(rig: Rig, net: Net, source: Source, loose: Collection[str]) -> Iterator[OpenPole]:
    others = tuple(_other_ends(rig, source))
    places = {end for one in rig.panels for end in (one.feed, one.bus)}
    places |= {one.terminal for one in rig.junctions}
    poles = [("+", source.plus)]
    if not source.traits.own_frame:
        poles.append(("-", source.minus))
    reached = {end: net.walk([end]).keys() for _, end in poles}
    works = any(not ends.isdisjoint(others) for ends in reached.values())
    for sign, end in poles:
        if not net.steps(end) and end not in others:
            yield OpenPole(source, sign, end, is_bare=True)
        elif works and all(reached[end].isdisjoint(some) for some in (others, places, loose)):
            yield OpenPole(source, sign, end, is_bare=False)


def _other_ends(rig: Rig, source: Source) -> Iterator[str]:
    """The ends of loads and of other sources; the inlet of a source is a part of it."""
    for one in rig.sources:
        if one.about.name != source.about.name:
            yield from (one.plus, one.minus, *(one.lit or ()))
    for load in _loads(rig, source):
        yield from (load.plus, load.minus)


def _loads(rig: Rig, source: Source) -> Iterator[Load]:
    return (load for load in rig.loads if load.about.name != source.inlet)


def _regained(rig: Rig, source: Source) -> Rig:
    """A rig in which one source has its minus where what it feeds comes back to."""
    net = net_of(rig)
    out = net.walk([source.plus])
    plus = {one.plus: one for one in rig.sources if one.minus != source.minus}
    backs = [one.minus for end, one in plus.items() if end in out]
    backs += [load.minus for load in _loads(rig, source) if load.plus in out]
    nets = {frozenset(net.walk([end])) for end in backs}
    if len(nets) != 1 or not nets.isdisjoint({frozenset(out)}):
        return rig
    (back,) = nets
    end = _place(rig, net, [end for end in out if end in plus], plus, back) or backs[0]
    return replace(
        rig,
        sources=tuple(
            replace(one, minus=end) if one.about.name == source.about.name else one
            for one in rig.sources
        ),
        loads=tuple(
            replace(one, minus=end)
            if one.about.name == source.inlet and not source.isolated
            else one
            for one in rig.loads
        ),
    )  # fmt: skip


def _place(
    rig: Rig, net: Net, near: Iterable[str], plus: Mapping[str, Source], back: Collection[str]
) -> str:
    """Where the source nearest on the plus side comes back to: a bar or the frame.

    Where there is none, the largest bar; empty if there is none either.
    """
    places = {bar.terminal for bar in rig.junctions if not bar.traits.is_joint}
    for end in near:
        found = next((one for one in net.walk([plus[end].minus]) if one in places), "")
        if found:
            return found
    bars = [bar for bar in rig.junctions if bar.traits.is_bar and bar.terminal in back]
    main = max(bars, key=lambda bar: (_rating_a(bar), len(net.steps(bar.terminal))), default=None)
    return "" if main is None else main.terminal


def _rating_a(bar: Junction) -> float:
    return bar.rating_a if isinstance(bar.rating_a, float) else 0.0
