"""How switches stand that rest open while some loads are on: what a load hangs behind is closed."""

from collections.abc import Collection

from rigfolio.isolation import Open
from rigfolio.network import coils_of, edge_name, in_the_way, resting_open
from rigfolio.study import Study


def worked(
    study: Study, opened: Open, on: Collection[str], running: Collection[str],
    said: Collection[str] = (),
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
    said : Collection[str]
        Names of the parts of which somebody says how they stand: these stand so.
    """
    rig = study.rig
    resting = resting_open(rig)
    if said and resting:
        resting -= {edge_name(one) for one in rig.devices if one.about.name in said}
    if not resting:
        return opened
    way = _OnTheWay(study, Open(opened.edges - resting, opened.sources), resting, running)
    coils = {edge: coil for edge, coil in coils_of(rig).items() if edge in resting}
    closed = {edge for edge, coil in coils.items() if coil.about.name in on}
    waiting, done = list(dict.fromkeys(on)), set(on)
    # A relay that closes has its coil on, which may have a switch of its own.
    for name in waiting:
        closed |= way.to(name)
        more = {coils[edge].about.name for edge in closed if edge in coils} - done
        waiting += sorted(more)
        done |= more
    return Open((opened.edges | resting) - closed, opened.sources)


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
