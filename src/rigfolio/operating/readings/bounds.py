"""From where to where a reading may lie: state of the battery, spread of the loads, the meter.

What is live in which selection of a rig decides in which of them a reading is bounded.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from functools import cached_property
from math import hypot

from rigfolio.books import figure, meter_volt
from rigfolio.isolation import CLOSED, Open, bank_joins, source_reach, turned, unplugged
from rigfolio.model import Device, Load, Panel, Source
from rigfolio.network import Edge, Stand, contacts_of, edge_name
from rigfolio.operating.meter import Scene
from rigfolio.operating.point import has_ohm, standing
from rigfolio.operating.readings.panel_feed import PanelFeed, Selection, panel_feeds, selections
from rigfolio.operating.shown import Shown
from rigfolio.operating.wrong import Wrong
from rigfolio.record import record, replace
from rigfolio.study import Study, once

_TRIAL_OHM, _TURNS = 1e-3, 1e-4
"""What is put into a battery to see which readings turn on it, and by how much they do [V, A]."""


class Bounds:
    """From where to where readings may lie with some loads on, in any of several settings.

    A battery that does not say what it has inside may have as much as such batteries usually have.
    Where nothing is usual of it, what hangs on it has no least: how far it falls nobody knows. So
    it is behind a wire of which size or length was not read.
    """

    def __init__(
        self, study: Study, on: frozenset[str], settings: Iterable[Open],
        starting: frozenset[str] = frozenset(),
    ) -> None:  # fmt: skip
        loads = study.rig.by_name.loads
        times = tuple((name, loads[name].times_at_start) for name in sorted(starting))
        self._of([Scene(study, opened, on, times) for opened in settings])

    @classmethod
    def of(cls, scenes: Sequence[Scene]) -> "Bounds":
        """Bounds over some scenes as they stand."""
        made = cls.__new__(cls)
        made._of(scenes)
        return made

    def _of(self, scenes: Sequence[Scene]) -> None:
        self._shown = [shown for scene in scenes for shown in _extremes(scene)]
        self._unread = [shown for scene in scenes for shown in _unread(scene)]
        self._weak = [shown for scene in scenes for shown in _unbounded(scene)] + self._unread

    def volts(self, a: str, b: str) -> tuple[float, float]:
        """The least and the most that may be read from one terminal to another [V]."""

        def read_v(shown: Shown) -> float:
            return shown.between_v(a, b)

        held = list(map(read_v, self._shown))
        most = max(map(abs, held))
        wide = meter_volt(most, fine=most < 1.0)
        is_open = most >= 1.0 and self._falls(read_v)
        return 0.0 if is_open else min(held) - wide, max(held) + wide

    def is_open(self, a: str, b: str) -> bool:
        """Whether volts from one terminal to another turn on a wire that was not read."""
        return any(abs(w.between_v(a, b) - s.between_v(a, b)) > _TURNS for s, w in self._unread)

    def amps(self, edge: str) -> tuple[float, float]:
        """The least and the most current in an edge [A]."""
        return self._drawn(lambda shown: shown.current_a(edge))

    def drawn(self, load: str) -> tuple[float, float]:
        """The least and the most that a load may draw [A]."""
        return self._drawn(lambda shown: shown.drawn_a(load))

    def _drawn(self, read_a: Callable[[Shown], float]) -> tuple[float, float]:
        low_a, high_a = _wide(list(map(read_a, self._shown)))
        if not self._falls(read_a):
            return low_a, high_a
        # Loads of watts draw twice as much at the half of their volts, below which none settles.
        return 0.0, 2.0 * high_a

    def _falls(self, read: Callable[[Shown], float]) -> bool:
        """Whether a reading turns on an unread wire, or on a battery of which nothing is usual."""
        return any(abs(read(weak) - read(stiff)) > _TURNS for stiff, weak in self._weak)


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


def _extremes(scene: Scene) -> Iterator[Shown]:
    """A scene with sources, loads and what batteries usually have inside at their extremes."""
    for emf, load in _corners(scene):
        yield scene.solve(emf=emf, load=load)
    inside = [(name, ohm) for name, ohm in scene.untold.items() if ohm is not None]
    if inside:
        emf, load = min(_corners(scene))[0], max(load for _, load in _corners(scene))
        yield scene.solve(Wrong(inner_ohm=tuple(inside)), emf=emf, load=load)


def _unbounded(scene: Scene) -> Iterator[tuple[Shown, Shown]]:
    """A scene, and the same with ohms in the batteries of which nothing is usual."""
    inside = tuple((name, _TRIAL_OHM) for name, ohm in scene.untold.items() if ohm is None)
    if inside:
        yield scene.solve(), scene.solve(Wrong(inner_ohm=inside))


def _unread(scene: Scene) -> Iterator[tuple[Shown, Shown]]:
    """A scene, and the same with ohms in the wires of which size or length is not known."""
    wires = tuple((name, _TRIAL_OHM) for name in _unread_wires(scene.study))
    if wires:
        yield scene.solve(), scene.solve(Wrong(ohm=wires))


@once
def _unread_wires(study: Study) -> tuple[str, ...]:
    """The wires of which size or length is not known."""
    wires = study.rig.conductors
    return tuple(one.name for one in wires if not has_ohm(one))


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


@record
class SelectedBank:
    """A battery that a load runs from, what is open then, and how selectors stand.

    `set_to` is empty where it is so however they stand.
    """

    bank: Source
    opened: tuple[Open, ...]
    set_to: tuple[tuple[str, str], ...]


class LiveBounds:
    """What is live in which selection of a rig, and the bounds of what is read there.

    `barred` are the devices and sources, by name, that are not put to use: what is behind them
    stays dead.
    """

    def __init__(self, study: Study, barred: frozenset[str] = frozenset()) -> None:
        self.study, self.rig = study, study.rig
        names = study.rig.by_name
        self._out = Open(
            frozenset(edge_name(d) for d in study.rig.devices if d.about.name in barred),
            frozenset(name for name in barred if name in names.sources),
        )
        self._held: dict[tuple[frozenset[str], tuple[Open, ...], frozenset[str]], Bounds] = {}

    @cached_property
    def _wired(self) -> tuple[tuple[Selection, Container[str]], ...]:
        """Every selection with the terminals that are live in it as the rig is wired."""
        found = []
        for one in selections(self.study):
            names = standing(self.study, one.opened)
            posts = [s.plus for s in self.rig.sources if s.about.name in names]
            found.append((one, self.study.net.walk(posts, one.opened.bars)))
        return tuple(found)

    @cached_property
    def _lit(self) -> tuple[tuple[Selection, Container[str]], ...]:
        """The same of what is put to use: a converter whose input is dead gives nothing."""
        if self._out == CLOSED:
            return self._wired
        return tuple((replace(one, opened=self._but(one.opened)), self._alive(one.opened))
                     for one, _ in self._wired)  # fmt: skip

    def _but(self, opened: Open) -> Open:
        """A state with what is barred out of it as well."""
        return Open(opened.edges | self._out.edges, opened.sources | self._out.sources)

    def _alive(self, opened: Open) -> Container[str]:
        """The terminals that are live in a state from what stands in it, less what is barred."""
        names = standing(self.study, opened)
        at_rest = frozenset(s.about.name for s in self.rig.sources) - names
        state = self._but(opened)
        return source_reach(self.study).alive(Open(state.edges, state.sources | at_rest))

    def stays_dead(self, end: str) -> bool:
        """Whether a terminal is live in some selection as wired, and in none as it is put to use.

        So is what hangs on a converter whose input is dead.
        """
        return (
            self._lit is not self._wired
            and not self._is_in(self._lit, end)
            and (self._is_in(self._wired, end))
        )

    def _is_in(self, held: tuple[tuple[Selection, Container[str]], ...], end: str) -> bool:
        return any(end in live for _, live in held)

    def is_fed(self, end: str) -> bool:
        """Whether a terminal is live in some selection, or in none with the tow vehicle either.

        What stays dead is not.
        """
        if self.stays_dead(end):
            return False
        return not unplugged(self.rig) or self._is_in(self._lit, end) or not self._tow_feeds(end)

    def _tow_feeds(self, end: str) -> bool:
        return end in source_reach(self.study).alive(Open(bank_joins(self.rig)))

    def bounds(
        self, on: frozenset[str], end: str, starting: frozenset[str] = frozenset(),
        stand: Stand = frozenset(),
    ) -> Bounds:  # fmt: skip
        """Bounds with some loads on, in all selections in which a terminal is live.

        Switches that make one of several ways `stand` so.
        """
        opened = tuple(one.opened for one, live in self._lit if end in live)
        opened = opened or tuple(one.opened for one, _ in self._lit)
        return self.bounds_in(on, self.as_turned(opened, stand), starting)

    def as_turned(self, opened: tuple[Open, ...], stand: Stand) -> tuple[Open, ...]:
        """States with some switches turned to a position each."""
        return tuple(turned(self.rig, one, stand) for one in opened) if stand else opened

    def bounds_in(
        self, on: frozenset[str], opened: tuple[Open, ...], starting: frozenset[str] = frozenset()
    ) -> Bounds:
        """Bounds with some loads on, some of them `starting`, in some states of the rig."""
        key = (on, opened, starting)
        if key not in self._held:
            self._held[key] = Bounds(self.study, on, opened, starting)
        return self._held[key]

    def banks_of(self, load: Load) -> tuple[SelectedBank, ...]:
        """The battery that a load runs from, by the selection where that turns on one.

        Of batteries side by side the one with the fewest parts on the way to it.
        """
        found: dict[Source, list[Selection]] = {}
        for one, live in self._lit:
            names = standing(self.study, one.opened) if load.plus in live else frozenset()
            out, back = (
                self.study.net.walk([end], one.opened.bars) for end in (load.plus, load.minus)
            )
            fed = {s.plus: s for s in self.rig.sources if s.stores and s.about.name in names}
            bank = next((fed[end] for end in out if end in fed and fed[end].minus in back), None)
            if bank is not None:
                found.setdefault(bank, []).append(one)
        return tuple(
            SelectedBank(bank, tuple(one.opened for one in held), ())
            if len(held) == len(self._lit)
            else SelectedBank(bank, (held[0].opened,), held[0].set_to)
            for bank, held in found.items()
        )

    @cached_property
    def feeds(self) -> tuple[SelectedFeed, ...]:
        """The ways to each panel by the selection that they take, in words."""
        found = []
        for panel in self.rig.panels:
            every, done = panel_feeds(self.study, panel), set()
            for one, _ in self._wired:
                feeds = tuple(feed for feed in every if one.passes(feed))
                if feeds and feeds not in done:
                    done.add(feeds)
                    is_chosen = any(_is_selector(edge) for feed in feeds for edge in feed.way)
                    words, set_to = (one.words, one.set_to) if is_chosen else ("", ())
                    found.append(SelectedFeed(panel, words, set_to, self._but(one.opened), feeds))
        return tuple(found)


def _is_selector(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.traits.selects


def with_contacts(study: Study, barred: frozenset[str]) -> frozenset[str]:
    """What is not put to use, by name, and the relays that do not close since their coil is dead.

    Circuits are among them by place: see `InUse`.
    """
    coils = {relay.about.name: coil for relay, coil in contacts_of(study.rig).values()}
    while barred:
        live = LiveBounds(study, barred)
        more = {
            name for name, coil in coils.items()
            if name not in barred
            and ({coil.circuit, coil.about.name} & barred or live.stays_dead(coil.plus))
        }  # fmt: skip
        if not more:
            break
        barred |= more
    return barred
