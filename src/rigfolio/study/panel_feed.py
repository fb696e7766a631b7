"""The ways by which batteries reach a panel, through converters where some stand between."""

from collections.abc import Iterator

from rigfolio.model.graph import Panel, Source
from rigfolio.record import record
from rigfolio.study.net import Edge, ends, path
from rigfolio.study.study import Study


@record
class PanelFeed:
    """One way to a panel or to a converter before it: where it begins and its edges in order."""

    start: str
    way: tuple[Edge, ...]

    def terminals(self) -> Iterator[str]:
        """The terminals along the way, in order from its start."""
        here = self.start
        yield here
        for edge in self.way:
            one, two = ends(edge)
            here = two if here == one else one
            yield here


def panel_feeds(study: Study, panel: Panel) -> tuple[PanelFeed, ...]:
    """The ways to a panel from every battery that reaches it.

    What lies on a converter's input comes before what lies on its output, as it comes alive.
    """
    return tuple(_feeds(study, panel.bus, frozenset()))


def _feeds(study: Study, end: str, passed: frozenset[str]) -> Iterator[PanelFeed]:
    for source in study.rig.sources:
        name = source.about.name
        if source.kind not in ("battery", "dc-dc") or name in passed:
            continue
        back = study.net.walk([source.plus])
        if end not in back:
            continue
        if source.kind == "dc-dc":
            before = tuple(_feeds(study, f"{name}.in", passed | {name}))
            if _is_charger(study, source, before):
                continue
            yield from before
        yield PanelFeed(source.plus, tuple(reversed(tuple(path(back, end)))))


def _is_charger(study: Study, source: Source, before: tuple[PanelFeed, ...]) -> bool:
    """Whether a converter charges a battery or has none before it: it stays off while one reads."""
    near = study.net.walk([source.plus])
    charges = any(s.kind == "battery" and s.plus in near for s in study.rig.sources)
    return charges or not before
