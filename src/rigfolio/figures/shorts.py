"""Shorts at the far ends of circuits and feeds, with what it takes to repeat them by hand."""

import math
from collections.abc import Iterator, Mapping

from rigfolio.books import Limit
from rigfolio.model import Conductor, Source
from rigfolio.network import Step, path
from rigfolio.operating import source_ohm, wire_ohm
from rigfolio.record import record
from rigfolio.shorts import Fault, OwnCutOff, faults_of, own_cut_off
from rigfolio.sizing import Section
from rigfolio.study import Study

_TRACE = 1e-6
"""Share of a short below which a source counts as giving nothing."""


@record
class Feed:
    """The one battery that feeds a short: its volts, what it has inside and its way [V, Ω].

    `assumed` is where a usual figure stands in for what it has inside; `copper_ohm` is that of the
    way out and back at the temperature that the wires are rated for.
    """

    source: Source
    inside_ohm: float
    assumed: Limit | None
    way: tuple[Conductor, ...]
    copper_ohm: float

    @property
    def current_a(self) -> float:
        """Volts over all of the resistance [A]."""
        return self.source.voltage_v / (self.inside_ohm + self.copper_ohm)


@record
class Short:
    """The short of a section that draws least: at the far end, copper hot, batteries weak.

    `least_a` is None where it cannot be told, and `ask` says of which sources a figure is wanted;
    `clears_s` is None where no table of times serves, infinite where nothing opens; `opens` are
    the devices that open first. `is_bound` is whether it ends no later than that, and nothing says
    how much sooner: by a last gate, or by a device that is not the first to open. `most_a` is what
    cold copper and full batteries let through at the same place, at most; `is_sure` whether it is
    more than a bound. `parts` are what each source
    gives of the least [A]; `inside` what each of them has inside [Ω], and whether that is a usual
    figure; `feed` is given where one battery alone feeds it, by one way. `own` are the batteries
    that the most may have cut off by themselves.
    """

    terminal: str
    to: str
    least_a: float | None
    clears_s: float | None
    opens: tuple[str, ...]
    most_a: float | None
    is_sure: bool
    ask: tuple[str, ...]
    parts: tuple[tuple[str, float], ...]
    inside: tuple[tuple[str, float, bool], ...]
    feed: Feed | None
    is_bound: bool = False
    own: OwnCutOff | None = None


class Shorts:
    """The shorts of a rig."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.faults = faults_of(study)
        self._ways: dict[str, Mapping[str, Step | None]] = {}
        """The ways from the posts of sources to everywhere, by the post."""

    def of(self, section: Section) -> Short | None:
        """The short of a section; None for a return and where no source drives one."""
        if section.kind == "return":
            return None
        found = [fault for fault in map(self.faults.at, self._ends(section)) if fault is not None]
        return self._short(min(found, key=_weakness)) if found else None

    def _ends(self, section: Section) -> Iterator[str]:
        """The plus terminals of the loads, else both ends of the wires out."""
        loads = [one.plus for one in self.study.rig.loads if one.circuit == section.place]
        if section.kind == "circuit" and loads:
            yield from dict.fromkeys(loads)
            return
        wires = [wire for group in section.groups for wire in group.wires]
        yield from dict.fromkeys(end for wire in wires for end in (wire.b, wire.a))

    def _short(self, fault: Fault) -> Short:
        hot, cold = fault.hottest, fault.coldest
        clears_s = None if hot.ends.window is None else hot.ends.window.max_s
        return Short(
            terminal=fault.terminal,
            to=fault.to,
            least_a=hot.current_a,
            clears_s=clears_s,
            opens=tuple(device.about.name for device in hot.ends.firsts),
            most_a=cold.bound_a if cold.current_a is None else cold.current_a,
            is_sure=cold.current_a is not None,
            ask=tuple(source.about.name for source in fault.ask),
            parts=_parts(fault),
            inside=tuple(self._inside(fault)),
            feed=self._feed(fault),
            is_bound=hot.ends.beyond or hot.ends.by != hot.ends.firsts,
            own=own_cut_off(self.study, fault),
        )

    def _inside(self, fault: Fault) -> Iterator[tuple[str, float, bool]]:
        """What the sources of a short have inside, and whether that is a usual figure."""
        named = [name for name, _ in _parts(fault)]
        for source in self.study.rig.sources:
            if source.about.name in named:
                usual = next((limit for one, limit in fault.assumed if one is source), None)
                ohm = source_ohm(source) or (usual.value if usual is not None else None)
                if ohm is not None:
                    yield source.about.name, ohm, usual is not None

    def _ways_from(self, post: str) -> Mapping[str, Step | None]:
        if post not in self._ways:
            self._ways[post] = self.study.net.walk([post])
        return self._ways[post]

    def _feed(self, fault: Fault) -> Feed | None:
        """The one battery that feeds a short, where all of it comes by one way."""
        named = [name for name, _ in _parts(fault)]
        sources = [one for one in self.study.rig.sources if one.about.name in named]
        if len(sources) != 1 or fault.hottest.current_a is None:
            return None
        source = sources[0]
        usual = next((limit for one, limit in fault.assumed if one is source), None)
        inside_ohm = source_ohm(source) or (usual.value if usual is not None else None)
        if inside_ohm is None:
            return None
        edges = [
            *path(self._ways_from(source.plus), fault.terminal),
            *path(self._ways_from(source.minus), fault.to),
        ]
        way = tuple(edge for edge in edges if isinstance(edge, Conductor))
        ohms = [wire_ohm(self.study, wire, self.study.heat(wire)[1]) for wire in way]
        copper_ohm = sum(ohm for ohm in ohms if ohm is not None)
        feed = Feed(source, inside_ohm, usual, way, copper_ohm)
        # Several ways side by side let more through than one of them.
        is_one_way = math.isclose(feed.current_a, fault.hottest.current_a, rel_tol=1e-6)
        return feed if is_one_way and None not in ohms else None


def _parts(fault: Fault) -> tuple[tuple[str, float], ...]:
    """What each source gives of the least current, what is next to nothing left out [A]."""
    whole_a = sum(amps for _, amps in fault.hottest.sources)
    return tuple((name, amps) for name, amps in fault.hottest.sources if amps > whole_a * _TRACE)


def _weakness(fault: Fault) -> float:
    """Order of shorts: what cannot be told first, then the least current."""
    return -1.0 if fault.hottest.current_a is None else fault.hottest.current_a
