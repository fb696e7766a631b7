"""What is live in which selection of a rig, and the bounds of what is read there."""

from collections.abc import Container
from functools import cached_property

from rigfolio.isolation import Open
from rigfolio.model import Device, Panel
from rigfolio.network import Edge
from rigfolio.operating.bounds import Bounds
from rigfolio.operating.panel_feed import PanelFeed, Selection, panel_feeds, selections
from rigfolio.operating.point import standing
from rigfolio.record import record
from rigfolio.study import Study


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
