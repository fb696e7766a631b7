"""What loses its way back when wires are taken off: it has to be dead before that.

A load whose return is lifted under current draws an arc, and lifts its minus side to plus; a
charger or an alternator that loses its battery while it runs may be damaged.
"""

from collections.abc import Collection, Iterator

from rigfolio.model import Load, Panel, Source
from rigfolio.network import Edge, edge_name, ends, landing_on
from rigfolio.study import Study, once


def parted_from_source(
    study: Study, lifted: Collection[str], off: Collection[str] = ()
) -> tuple[str, ...]:
    """The plus sides of loads and sources whose current comes back by what is lifted.

    Parameters
    ----------
    study : Study
        The rig.
    lifted : Collection[str]
        What is taken off, by `edge_name`.
    off : Collection[str]
        The sources that are off by then, by name: of them nothing flows that a lead could part.

    Returns
    -------
    tuple of str
        The plus terminal of each load that one of the batteries on its plus side can no longer
        serve, and of each source that one of them can no longer be reached by. Where a system
        has no battery, its other sources count as one.
    """
    return tuple(dict.fromkeys(_Lifted(study, frozenset(lifted), frozenset(off)).ends()))


@once
def coming_back_by(study: Study, panel: Panel) -> tuple[Load, ...]:
    """The loads that a panel does not feed and whose current comes back by its own minus bar.

    A bar beside a panel is none of its own: who opens the panel does not reach it.
    """
    if panel.own_bar is None:
        return ()
    lifted = frozenset(wire.name for wire in landing_on(study.rig, [panel.own_bar]))
    parted = set(_Lifted(study, lifted, frozenset()).ends())
    posts = [source.plus for source in study.rig.sources]

    def is_at_it(edge: Edge) -> bool:
        return panel.bus in ends(edge)

    without = study.net.walk((end for end in posts if end != panel.bus), is_at_it)
    return tuple(one for one in study.rig.loads if one.plus in parted and one.plus in without)


class _Lifted:
    """A rig with some wires off."""

    def __init__(self, study: Study, lifted: frozenset[str], off: frozenset[str]) -> None:
        self.study, self.rig, self.net = study, study.rig, study.net
        self.lifted, self.off = lifted, off
        self.near = {s.about.name: self.net.walk([s.plus]) for s in self.rig.sources}
        self.whole = {s.about.name: self.net.walk([s.minus]) for s in self.rig.sources}
        self.left = {s.about.name: self.net.walk([s.minus], self._bars) for s in self.rig.sources}

    def _bars(self, edge: Edge) -> bool:
        return edge_name(edge) in self.lifted

    def ends(self) -> Iterator[str]:
        """The plus terminals, of loads and then of sources.

        What a converter draws at its input it draws while it runs: its output stands for it.
        """
        if not self.lifted:
            return
        inlets = {source.inlet for source in self.rig.sources}
        for load in self.rig.loads:
            is_inlet = load.about.name in inlets
            if not is_inlet and self._is_parted(load.plus, load.minus, self._on(load.plus)):
                yield load.plus
        for source in self.rig.sources:
            if source.stores or source.about.name in self.off:
                continue
            others = [one for one in self._on(source.plus) if one is not source]
            if self._is_parted(source.plus, source.minus, others):
                yield source.plus

    def _on(self, plus: str) -> list[Source]:
        """The batteries that a plus terminal is joined to; other sources where there is none."""
        joined = [one for one in self.rig.sources if plus in self.near[one.about.name]]
        return [one for one in joined if one.stores] or joined

    def _is_parted(self, plus: str, minus: str, served_by: list[Source]) -> bool:
        names = [source.about.name for source in served_by]
        return bool(plus) and any(
            minus in self.whole[name] and minus not in self.left[name] for name in names
        )
