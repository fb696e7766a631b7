"""From where to where a reading may lie: state of the battery, spread of the loads, the meter.

What is live in which selection of a rig decides in which of them a reading is bounded.
"""

from collections.abc import Container, Iterable, Iterator, Sequence
from functools import cached_property
from math import hypot

from rigfolio.books import figure, meter_volt
from rigfolio.isolation import Open
from rigfolio.model import Device, Panel
from rigfolio.network import Edge
from rigfolio.operating.meter import Scene
from rigfolio.operating.panel_feed import PanelFeed, Selection, panel_feeds, selections
from rigfolio.operating.point import standing
from rigfolio.record import record
from rigfolio.study import Study


class Bounds:
    """From where to where readings may lie with some loads on, in any of several settings."""

    def __init__(self, study: Study, on: frozenset[str], settings: Iterable[Open]) -> None:
        self._shown = [
            scene.solve(emf=emf, load=load)
            for scene in (Scene(study, opened, on) for opened in settings)
            for emf, load in _corners(scene)
        ]

    def volts(self, a: str, b: str) -> tuple[float, float]:
        """The least and the most that may be read from one terminal to another [V]."""
        held = [shown.between_v(a, b) for shown in self._shown]
        most = max(map(abs, held))
        wide = meter_volt(most, fine=most < 1.0)
        return min(held) - wide, max(held) + wide

    def amps(self, edge: str) -> tuple[float, float]:
        """The least and the most current in an edge [A]."""
        return _wide([shown.current_a(edge) for shown in self._shown])

    def drawn(self, load: str) -> tuple[float, float]:
        """The least and the most that a load may draw [A]."""
        return _wide([shown.drawn_a(load) for shown in self._shown])


def _wide(held: Sequence[float]) -> tuple[float, float]:
    """Currents with what the meter leaves open [A]."""
    wide = hypot(figure("meter", "share") * max(held), figure("meter", "ampere"))
    return max(min(held) - wide, 0.0), max(held) + wide


def _corners(scene: Scene) -> Iterator[tuple[float, float]]:
    """What sources and loads may be, as shares of what is stated: as stated, then the extremes."""
    spread = max((scene.rest_share(s)[1] for s in scene.sources), default=0.0)
    share = figure("spread", "load_share")
    yield 1.0, 1.0
    for emf in (-spread, spread):
        for load in (-share, share):
            yield 1.0 + emf, 1.0 + load


@record
class SelectedFeed:
    """The ways to a panel in one selection.

    `words` say it and `set_to` writes it down; both are empty where none of the ways turns on it.
    """

    panel: Panel
    words: str
    set_to: tuple[tuple[str, str], ...]
    opened: Open
    feeds: tuple[PanelFeed, ...]


class LiveBounds:
    """What is live in which selection of a rig, and the bounds of what is read there."""

    def __init__(self, study: Study) -> None:
        self.study, self.rig = study, study.rig
        self._held: dict[tuple[frozenset[str], tuple[Open, ...]], Bounds] = {}

    @cached_property
    def _lit(self) -> tuple[tuple[Selection, Container[str]], ...]:
        """Every selection with the terminals that are live in it."""
        found = []
        for one in selections(self.study):
            names = standing(self.study, one.opened)
            posts = [s.plus for s in self.rig.sources if s.about.name in names]
            found.append((one, self.study.net.walk(posts, one.opened.bars)))
        return tuple(found)

    def bounds(self, on: frozenset[str], end: str) -> Bounds:
        """Bounds with some loads on, in all selections in which a terminal is live."""
        opened = tuple(one.opened for one, live in self._lit if end in live)
        return self.bounds_in(on, opened or tuple(one.opened for one, _ in self._lit))

    def bounds_in(self, on: frozenset[str], opened: tuple[Open, ...]) -> Bounds:
        """Bounds with some loads on, in some states of the rig."""
        if (on, opened) not in self._held:
            self._held[on, opened] = Bounds(self.study, on, opened)
        return self._held[on, opened]

    @cached_property
    def feeds(self) -> tuple[SelectedFeed, ...]:
        """The ways to each panel by the selection that they take, in words."""
        found = []
        for panel in self.rig.panels:
            every, done = panel_feeds(self.study, panel), set()
            for one, _ in self._lit:
                feeds = tuple(feed for feed in every if one.passes(feed))
                if feeds and feeds not in done:
                    done.add(feeds)
                    is_chosen = any(_is_selector(edge) for feed in feeds for edge in feed.way)
                    words, set_to = (one.words, one.set_to) if is_chosen else ("", ())
                    found.append(SelectedFeed(panel, words, set_to, one.opened, feeds))
        return tuple(found)


def _is_selector(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.traits.selects
