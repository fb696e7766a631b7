"""The ways by which batteries reach a panel, through converters where some stand between.

A combiner joins banks only while one is charged, and a selector joins them in one position that no
reading is taken in: neither is a way from a bank to what hangs on another one.
"""

from collections.abc import Iterator
from itertools import product

from rigfolio.model.graph import Device, Panel
from rigfolio.record import record
from rigfolio.study.live import Drive, Open, combiners
from rigfolio.study.net import Edge, edge_name, ends, path
from rigfolio.study.operating import standing
from rigfolio.study.study import Study
from rigfolio.study.ways import within_bank


@record
class PanelFeed:
    """One way to a panel or to a converter before it: where it begins and its edges in order.

    `minus` is the minus of the source that it begins at.
    """

    start: str
    minus: str
    way: tuple[Edge, ...]

    def terminals(self) -> Iterator[str]:
        """The terminals along the way, in order from its start."""
        here = self.start
        yield here
        for edge in self.way:
            one, two = ends(edge)
            here = two if here == one else one
            yield here


@record
class Setting:
    """Every selector in one of its positions: in words, and what is open then."""

    words: str
    opened: Open

    def passes(self, feed: PanelFeed) -> bool:
        """Whether a way is closed in it."""
        return not any(self.opened.bars(edge) for edge in feed.way)


def panel_feeds(study: Study, panel: Panel) -> tuple[PanelFeed, ...]:
    """The ways to a panel from every source that it runs from by itself.

    These are batteries, and other sources where a system has none. What lies on a converter's input
    comes before what lies on its output, as it comes alive.
    """
    drive = Drive(study)
    starts = standing(study, Open(combiners(study.rig)))
    return tuple(_feeds(drive, panel.bus, starts, drive.passes_on))


def _feeds(
    drive: Drive, end: str, starts: frozenset[str], through: frozenset[str]
) -> Iterator[PanelFeed]:
    """The ways to a terminal, from some sources and by converters that pass on what they get."""
    for source in drive.rig.sources:
        name = source.about.name
        if name not in starts:
            continue
        back = within_bank(drive.net, source.plus)
        if end not in back:
            continue
        if name in through and name in drive.inputs:
            yield from _feeds(drive, drive.inputs[name], starts - {name}, through)
        yield PanelFeed(source.plus, source.minus, tuple(path(back, end))[::-1])


def settings(study: Study) -> tuple[Setting, ...]:
    """Every position of every selector, while nothing charges and so no combiner is closed.

    A rig without a selector has one setting, without words.
    """
    rig = study.rig
    apart = combiners(rig)
    sides: dict[str, list[Device]] = {}
    for each in rig.devices:
        if each.kind == "selector":
            sides.setdefault(each.about.name, []).append(each)
    made = []
    for chosen in product(*sides.values()):
        others = {edge_name(d) for held in sides.values() for d in held if d not in chosen}
        words = ", ".join(f"{d.about} on {d.line.rpartition('.')[2]}" for d in chosen)
        made.append(Setting(words, Open(apart | others)))
    return tuple(made)
