"""How switches stand that rest open while some loads are on: what a load hangs behind is closed."""

from collections.abc import Collection, Mapping

from rigfolio.isolation import Open
from rigfolio.model import Device, Load, Rig
from rigfolio.network import (
    Stand,
    changeovers,
    coils_of,
    edge_name,
    in_the_way,
    not_made,
    resting_open,
    rests_open,
    stand_for,
    stand_in,
)
from rigfolio.study import Study, once


def worked(
    study: Study, opened: Open, on: Collection[str], running: Collection[str],
    said: Collection[str] | None = None,
) -> Open:  # fmt: skip
    """A state of the rig with what rests open as it stands while some loads are on.

    Whoever turns a load on closes its switch, and a relay closes with its coil; what starts nothing
    that is on stays open. A load that is fed without its switch, as brakes are by a tow vehicle,
    leaves that as it rests.

    Parameters
    ----------
    study : Study
        The rig.
    opened : Open
        What is open and what is off.
    on : Collection[str]
        Names of the loads that are on.
    running : Collection[str]
        Names of the sources that run.
    said : Collection[str], optional
        Names of the parts of which somebody says how they stand: these stand so. Where that is
        left out, a switch of several ways stands as the state has it if one is made in it.
    """
    opened = one_way(study.rig, opened, on, said)
    asked = set(on)
    while True:
        found, done = _worked(study, opened, asked, running, said or ())
        turned = one_way(study.rig, opened, done, said)
        if done == asked or turned == opened:
            return found
        opened, asked = turned, done


def one_way(
    rig: Rig, opened: Open, on: Collection[str], said: Collection[str] | None = None
) -> Open:
    """A state in which each switch that makes one of several ways makes no more than one.

    As loads need it that are on, by name. Of which somebody says how it stands, as `opened` has it;
    where `said` is left out that are those of which some ways are open there and others are not.
    """
    ways = changeovers(rig)
    if not ways:
        return opened
    if said is None:
        said = [name for name, own in ways.items()
                if len({edge_name(one) in opened.edges for one in own}) > 1]  # fmt: skip
    held = {one for one in stand_in(rig, opened.edges) if one[0] in said}
    off = {(name, "") for name in said if name in ways} - {(name, "") for name, _ in held}
    stand = stand_for(rig, on, frozenset(held | off))
    every = not_made(rig, frozenset())
    return Open((opened.edges - every) | not_made(rig, stand), opened.sources)


def closed_by_hand(study: Study, load: Load, stand: Stand = frozenset()) -> tuple[Device, ...]:
    """The switches that rest open and have to be closed for a load to be on, contacts aside.

    Somebody presses or lifts them meanwhile. `stand` is how switches of several ways stand.
    """
    rig = study.rig
    if not _by_hand(rig):
        return ()
    state = worked(
        study, Open(not_made(rig, stand)), (load.about.name,), rig.by_name.sources.keys(),
        [name for name, _ in stand],
    )  # fmt: skip
    return tuple(one for edge, one in _by_hand(rig).items() if edge not in state.edges)


@once
def _by_hand(rig: Rig) -> Mapping[str, Device]:
    """The plain switches that close for what they start alone, as edges."""
    resting, coils = resting_open(rig), coils_of(rig)
    return {
        edge: one for edge, one in rests_open(rig).items()
        if edge in resting and edge not in coils and not one.position
    }  # fmt: skip


def _worked(
    study: Study, opened: Open, on: Collection[str], running: Collection[str],
    said: Collection[str],
) -> tuple[Open, set[str]]:  # fmt: skip
    """The state with plain switches and contacts as they stand, and all that is on in it."""
    rig = study.rig
    resting = resting_open(rig) - not_made(rig, frozenset())
    if said and resting:
        resting -= {edge_name(one) for one in rig.devices if one.about.name in said}
    if not resting:
        return opened, set(on)
    apart = Open(opened.edges - resting, opened.sources)
    way = _on_the_way(study, apart, resting, frozenset(running))
    coils = {edge: coil for edge, coil in coils_of(rig).items() if edge in resting}
    closed = {edge for edge, coil in coils.items() if coil.about.name in on}
    waiting, done = list(dict.fromkeys(on)), set(on)
    # A relay that closes has its coil on, which may have a switch of its own.
    for name in waiting:
        closed |= way.to(name)
        more = {coils[edge].about.name for edge in closed if edge in coils} - done
        waiting += sorted(more)
        done |= more
    return Open((opened.edges | resting) - closed, opened.sources), done


@once
def _on_the_way(
    study: Study, opened: Open, resting: frozenset[str], running: frozenset[str]
) -> "_OnTheWay":
    return _OnTheWay(study, opened, resting, running)


class _OnTheWay:
    """The switches on the way from what runs to a load, and back."""

    def __init__(
        self, study: Study, opened: Open, resting: frozenset[str], running: Collection[str]
    ) -> None:  # fmt: skip
        self.net, self.loads, self.opened = study.net, study.rig.by_name.loads, opened
        self.waits = Open(resting).bars
        sources = [one for one in study.rig.sources if one.about.name in running]
        self.posts = [one.plus for one in sources], [one.minus for one in sources]
        shut = Open(opened.edges | resting)
        self.near = tuple(self.net.walk(posts, shut.bars).keys() for posts in self.posts)

    def to(self, load: str) -> frozenset[str]:
        """The switches that have to close for a load to get current, as edges."""
        one = self.loads[load]
        sides = zip((one.plus, one.minus), self.posts, self.near, strict=True)
        found = frozenset[str]()
        for end, posts, near in sides:
            if end not in near:
                found |= in_the_way(
                    self.net, end, posts, waits=self.waits, is_open=self.opened.bars
                )
        return found
