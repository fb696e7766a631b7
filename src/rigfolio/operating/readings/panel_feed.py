"""The ways by which batteries reach a panel, through converters where some stand between.

A combiner joins banks only while one is charged, and a selector joins them in one position that no
reading is taken in: neither is a way from a bank to what hangs on another one.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import product

from rigfolio.isolation import BANKS, Open, SourceReach, bank_joins, parked, source_reach, unplugged
from rigfolio.model import Panel, Rig
from rigfolio.network import Edge, Step, edge_name, ends, is_made, path, within_bank
from rigfolio.operating.point import standing
from rigfolio.record import record
from rigfolio.study import Study, once


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
class Selection:
    """Every selector on one of its banks: in words, and what is open then.

    `set_to` are the selectors with their positions, as a log writes them.
    """

    words: str
    opened: Open
    set_to: tuple[tuple[str, str], ...] = ()

    def passes(self, feed: PanelFeed) -> bool:
        """Whether a way is closed in it."""
        return not any(self.opened.bars(edge) for edge in feed.way)


def panel_feeds(study: Study, panel: Panel) -> tuple[PanelFeed, ...]:
    """The ways to a panel from every source that it runs from by itself.

    These are batteries, and other sources where a system has none. What lies on a converter's input
    comes before what lies on its output, as it comes alive.
    """
    drive = source_reach(study)
    starts = standing(study, Open(bank_joins(study.rig)))
    return tuple(_feeds(drive, panel.bus, starts, drive.passes_on))


def made_feeds(rig: Rig, feeds: Iterable[PanelFeed], on: Collection[str]) -> list[PanelFeed]:
    """The ways to a panel that are closed as switches stand with some loads on."""
    return [feed for feed in feeds if is_made(rig, feed.way, on)]


@once
def _near(study: Study, start: str) -> Mapping[str, Step | None]:
    """What is reached from a terminal without leaving its bank; all panels are sought in it."""
    return within_bank(study.rig, study.net, start)


def _feeds(
    drive: SourceReach, end: str, starts: frozenset[str], through: frozenset[str]
) -> Iterator[PanelFeed]:
    """The ways to a terminal, from some sources and by converters that pass on what they get."""
    for source in drive.rig.sources:
        name = source.about.name
        if name not in starts:
            continue
        back = _near(drive.study, source.plus)
        if end not in back:
            continue
        if name in through and name in drive.inputs:
            yield from _feeds(drive, drive.inputs[name], starts - {name}, through)
        yield PanelFeed(source.plus, source.minus, tuple(path(back, end))[::-1])


@record
class SupplyEnd:
    """Where the volts of a source or of a plus bar are read; `of` is its name.

    `minus` is its own minus, empty for a bar.
    """

    of: str
    plus: str
    minus: str


def supply_ends(study: Study) -> Iterator[SupplyEnd]:
    """The posts of every source and every plus bar that are live while nothing charges.

    Both sides of a converter, its input first; of a vehicle the pins of its plug on the side of
    the rig, since it is unplugged while readings are taken.
    """
    rest = Open(bank_joins(study.rig) | unplugged(study.rig))
    names = standing(study, rest)
    posts = [source.plus for source in study.rig.sources if source.about.name in names]
    live = study.net.walk(posts, rest.bars)
    for end in (*_posts(study), *_bars(study)):
        if end.plus in live:
            yield end


def _posts(study: Study) -> Iterator[SupplyEnd]:
    inputs = source_reach(study).inputs
    for source in study.rig.sources:
        name = source.about.name
        if name in inputs:
            yield SupplyEnd(name, inputs[name], source.minus)
        if source.traits.own_frame:
            plus, minus = (_at_plug(study, end) for end in (source.plus, source.minus))
            yield SupplyEnd(name, plus, minus)
        else:
            yield SupplyEnd(name, source.plus, source.minus)


def _at_plug(study: Study, end: str) -> str:
    """The pin on the side of the rig of the plug that a post of a vehicle leads to."""
    pins = [device for device in study.rig.devices if device.traits.is_plug]
    apart = Open(frozenset(map(edge_name, pins)))
    near = study.net.walk([end], apart.bars)
    far = ((a, b) for pin in pins for a, b in (ends(pin), ends(pin)[::-1]))
    return next((b for a, b in far if a in near and b not in near), "")


def _bars(study: Study) -> Iterator[SupplyEnd]:
    for one in study.rig.junctions:
        if one.traits.is_bar and study.side.get(one.terminal) == "+":
            yield SupplyEnd(one.about.name, one.terminal, "")


def selections(study: Study) -> tuple[Selection, ...]:
    """Every selector on every bank, while nothing charges and so no combiner is closed.

    A rig without a selector has one selection, without words.
    """
    selectors = {d.about.name: d.about for d in study.rig.devices if d.traits.selects}
    made = []
    for chosen in product(BANKS, repeat=len(selectors)):
        banks = dict(zip(selectors, chosen, strict=True))
        words = ", ".join(f"{selectors[name]} on {bank}" for name, bank in banks.items())
        made.append(Selection(words, parked(study.rig, banks), tuple(banks.items())))
    return tuple(made)
