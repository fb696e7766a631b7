"""What opening one device alone does: what goes dark, what keeps it live, what stays live at it."""

from collections.abc import Collection, Iterator, Mapping

from rigfolio.isolation.energised import Alive, Open, in_use, lit_by, source_reach
from rigfolio.isolation.fed import AfterOpening, feeding, when_opened
from rigfolio.isolation.plans import actions_of, opened_by
from rigfolio.isolation.set_to import BANKS, Position, at_rest
from rigfolio.isolation.table import Part
from rigfolio.model import Circuit, Device, Load, Rig
from rigfolio.network import (
    Edge,
    Step,
    edge_name,
    edges_of_device,
    ends,
    in_line,
    in_the_way,
    is_guard,
)
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.wording import position_words, terminals_of


@record
class OpenedAlone:
    """What opening one device does while everything else is as it is in use.

    Parameters
    ----------
    dark : tuple of Part
        Panels, circuits and loads that are live with it closed and dead with it open, on the
        batteries alone or on everything. A panel stands for its slots, a circuit for its loads.
    when : str
        The position of a selector in which that is so, `X1 on 2`; empty where it is so in any.
    unless : tuple of str
        The sources that make some of that live all the same while they run.
    cut_off : tuple of str
        The sources that reach neither a load nor a battery any more, or get nothing at their input;
        arrays that reach no controller, where that gets something from others.
    parted : tuple of str
        The batteries that it joined to each other and that nothing joins now, where that is all
        that it does; else a battery and the source that charged it by it.
    live : tuple of (str, tuple of str)
        Its ends that stay live when it is open, each with the sources that reach it.
    lead : str
        The source in whose lead it sits, where that source keeps alive what goes dark on the
        batteries: what opening it ends is what that source gives. Empty where there is none.
    sides : tuple of tuple of str
        What is parted, on each side those that stay joined, the fewest first.
    beside : tuple of str
        The switches beside it: any of them that is closed keeps alive what goes dark.
    comes_on : tuple of Part
        Circuits and loads that come on with it open: their relay rests closed, and its coil is off.
    by_coils : tuple of Part
        Those of `dark` that hang behind other contacts alone, whose coils go dark with it.
    """

    dark: tuple[Part, ...]
    when: str
    unless: tuple[str, ...]
    cut_off: tuple[str, ...]
    parted: tuple[str, ...]
    live: tuple[tuple[str, tuple[str, ...]], ...]
    lead: str = ""
    sides: tuple[tuple[str, ...], ...] = ()
    beside: tuple[str, ...] = ()
    comes_on: tuple[Part, ...] = ()
    by_coils: tuple[Part, ...] = ()


@record
class _Gone:
    """The terminals that were live and are not, and the loads that got current and get none.

    `itself` are those terminals and loads that no relay has taken with it.
    """

    ends: frozenset[str]
    loads: frozenset[str]
    itself: frozenset[str] = frozenset()


@once
def opened_alone(study: Study, name: str) -> OpenedAlone:
    """What opening the device of a name does, all its pins or banks together."""
    found = _WhenOpened(study, name).told()
    if found.dark or found.cut_off or found.parted:
        return found
    beside = _beside(study, name)
    if not beside:
        return found
    shut = frozenset(edge_name(one) for one in study.rig.devices if one.about.name in beside)
    alone = _WhenOpened(study, name, shut).told()
    # What keeps its far end live is there all the same.
    return replace(alone, live=found.live, beside=beside if alone.dark else ())


def _beside(study: Study, name: str) -> tuple[str, ...]:
    """The switches that stand beside one and start the same loads by themselves.

    Only those of the fewest in a row: whoever goes a longer way has more to open than this one.
    """
    own = [one for one in study.rig.devices if one.about.name == name]
    if not all(one.traits.starts_load for one in own):
        return ()
    edges, base = edges_of_device(study.rig, name), in_use(study.rig, but=name)
    near = study.net.walk(
        [end for one in own for end in ends(one)], lambda edge: _is_switch(edge) or is_guard(edge)
    )
    names = {edge_name(one): one.about.name for one in study.rig.devices}
    found: dict[str, None] = {}
    for load in study.rig.loads:
        if load.plus not in near and load.minus not in near:
            continue
        for end, posts in (
            (load.plus, [one.plus for one in study.rig.sources]),
            (load.minus, [one.minus for one in study.rig.sources]),
        ):
            by = in_the_way(study.net, end, posts, waits=_is_switch, is_open=base.bars)
            others = by - edges
            is_alone = study.net.walk([end], Open(base.edges | others).bars).keys() & set(posts)
            if edges & by and is_alone:
                found |= dict.fromkeys(names[one] for one in sorted(others))
    return tuple(found)


def _is_switch(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.traits.starts_load


@once
def _alive(study: Study, state: Open) -> Alive:
    """What is live in a state; the states before a device is opened are the same for all."""
    return source_reach(study).alive(state)


class _WhenOpened:
    """A device that is opened, and all that was live before."""

    def __init__(self, study: Study, name: str, shut: frozenset[str] = frozenset()) -> None:
        self.study = study
        self.reach, self.rig, self.name = source_reach(study), study.rig, name
        self.own = [action for action in actions_of(study.rig) if action.part == name]
        # Nobody opens a relay by hand; its coil does.
        self.by_coil = frozenset() if self.own else edges_of_device(study.rig, name)
        self._known: dict[Open, AfterOpening] = {}
        self.base = Open(in_use(study.rig, but=name).edges | shut)
        self.every = self._opened(self.base).state
        self.running = self.reach.alive(self.every)
        self.resting = {
            when: Open(state.edges | shut, state.sources)
            for of, when, state in _resting(study) if of != name
        }  # fmt: skip

    def _by_itself(self, before: Open) -> Open:
        found = opened_by(self.rig, self.own, before)
        return Open(found.edges | self.by_coil, found.sources)

    def _opened(self, before: Open) -> AfterOpening:
        """What is otherwise with it open, and with the relays that let go for it."""
        if before not in self._known:
            self._known[before] = when_opened(self.study, before, self._by_itself(before))
        return self._known[before]

    def told(self) -> OpenedAlone:
        """What opening it does."""
        dark: tuple[Part, ...] = ()
        by_coils: tuple[Part, ...] = ()
        when = ""
        for when, state in self.resting.items():
            gone = self._gone(state, is_any=not when)
            dark = tuple(self._dark(gone))
            if dark:
                itself = {*self._dark(_Gone(gone.itself & gone.ends, gone.itself & gone.loads))}
                by_coils = tuple(part for part in dark if part not in itself)
                # What charges tells itself what it is parted from where nothing goes dark.
                dark += tuple(self._unfed(gone))
                break
        by = dict.fromkeys(
            source for part in dark for end in part.terminals for source in self._runs(end)
        )
        ends = terminals_of(self.rig, "device", self.name).plus
        # A contact that sticks, or a coil that somebody feeds, keeps alive what should be dead.
        alive = self.reach.alive(self._by_itself(self.base))
        cut_off = tuple(self._cut_off(is_dark=bool(dark)))
        parted = () if dark or cut_off else self._parted()
        return OpenedAlone(
            dark,
            when if dark else "",
            () if when else tuple(by),
            cut_off,
            parted,
            tuple((e, alive[e]) for e in dict.fromkeys(ends) if e in alive),
            next((one for one in by if self._is_in_lead(one)), "") if not when else "",
            self._sides(parted),
            comes_on=tuple(self._coming_on()),
            by_coils=by_coils,
        )

    def _is_in_lead(self, name: str) -> bool:
        """Whether all that flows through it comes from a source, with nothing joined between."""
        source = self.rig.by_name.sources[name]
        return any(self._is_along(step) for step in self.reach.net.steps(source.plus))

    def _is_along(self, step: Step) -> bool:
        """Whether it lies on the way that begins with a step, before that parts or meets a bar."""
        bars = {bar.terminal for bar in self.rig.junctions}
        for edge, there in in_line(self.reach.net, step):
            if isinstance(edge, Device) and edge.about.name == self.name:
                return True
            if there in bars:
                break
        return False

    def _runs(self, end: str) -> Iterator[str]:
        """The sources that are off while nothing charges, and that feed a place with it open."""
        by = self.running.get(end, ())
        if loads := _loads_at(self.rig).get(end, ()):
            fed = {name for one in loads for name in feeding(self.reach, self.every, one)}
            by = tuple(name for name in by if name in fed)
        off = self.resting[""].sources
        return (name for name in by if name in off)

    def _gone(self, resting: Open, *, is_any: bool) -> _Gone:
        ends, loads, itself = set[str](), set[str](), set[str]()
        for before in (resting, self.base) if is_any else (resting,):
            found = self._opened(before)
            was, now = _alive(self.study, before), self.reach.alive(found.state)
            ends |= was.keys() - now.keys()
            loads |= found.dark
            itself |= was.keys() - self.reach.alive(self._by_itself(before)).keys()
            itself |= found.dark - found.by_coils
        return _Gone(frozenset(ends), frozenset(loads), frozenset(itself))

    def _unfed(self, gone: _Gone) -> Iterator[Part]:
        """Converters that charge, whose input goes dark as long as none of the others runs."""
        for name, inlet in self.reach.inputs.items():
            if inlet in gone.ends and inlet in self.running and name not in self.reach.passes_on:
                label = self.rig.by_name.sources[name].about.label
                yield Part("source", name, label, (inlet,))

    def _dark(self, gone: _Gone) -> Iterator[Part]:
        """What was live and is not: panels, circuits of other panels and of none, other loads."""
        whole = [panel for panel in self.rig.panels if panel.bus in gone.ends]
        for panel in whole:
            yield Part("panel", panel.about.name, panel.about.label, (panel.bus,))
        yield from self._parts(gone, {panel.about.name for panel in whole})

    def _coming_on(self) -> Iterator[Part]:
        """What comes on by a relay that lets go, on batteries alone or with all that charges."""
        found = (self._opened(state).comes_on for state in (self.resting[""], self.base))
        yield from self._parts(_Gone(frozenset(), frozenset().union(*found)), ())

    def _parts(self, those: _Gone, panels: Collection[str]) -> Iterator[Part]:
        """The circuits all of which is among some loads, and other loads; what panels stand for."""
        said = {source.inlet for source in self.rig.sources}
        for circuit, starts in _fed_by(self.rig):
            is_whole = those.loads.issuperset(circuit.loads) and (
                bool(circuit.loads) or circuit.start in those.ends
            )
            if circuit.panel in panels or is_whole:
                said.update(circuit.loads)
                if circuit.panel not in panels:
                    yield Part("circuit", circuit.place, circuit.label, starts, circuit.panel)
        for load in self.rig.loads:
            if load.about.name not in said and load.about.name in those.loads:
                yield Part("load", load.about.name, load.about.label, (load.plus,))

    def _cut_off(self, *, is_dark: bool) -> Iterator[str]:
        """Sources that serve nothing any more; a battery only where nothing else tells it."""
        posts = {source.plus for source in self.rig.sources if source.stores}
        ends = {load.plus for load in self.rig.loads} | posts
        every = _alive(self.study, self.base)
        for source in self.rig.sources:
            name, start = source.about.name, source.plus
            inlet = self.reach.inputs.get(name, "")
            if inlet in every and inlet not in self.running:
                if name not in self.reach.passes_on:
                    yield name
                continue
            served = ends - {start} if source.stores else ends
            if (
                not (source.stores and is_dark)
                and served & self._joined(start)
                and not served & self._joined(start, self.every)
            ):
                yield name
        if not is_dark:
            yield from self._shaded(every)

    def _shaded(self, every: Alive) -> Iterator[str]:
        """Arrays that reach no controller any more, where that controller still gets something."""
        for array in self.rig.sources if self.name in _sunlit_devices(self.study) else ():
            if not array.traits.by_light:
                continue
            was, now = (lit_by(self.study, array, one.bars) for one in (self.base, self.every))
            if was and not now and all(end in self.running for end in was if end in every):
                yield array.about.name

    def _parted(self) -> tuple[str, ...]:
        """Batteries that are joined by it, whatever a selector is set to, and by nothing else.

        Where it joins none, a battery and what charges it that has something else to feed.
        """
        selectors = frozenset(edge_name(d) for d in self.rig.devices if d.traits.selects)
        was, now = (Open(selectors | one.edges) for one in (self.base, self.every))
        posts = {s.plus: s for s in self.rig.sources if not s.traits.by_light}
        lost = {
            one.about.name: [posts[end] for end in posts if end in left]
            for post, one in posts.items()
            if (left := self._joined(post, was) - self._joined(post, now))
        }
        stores = {one.about.name for one in posts.values() if one.stores}
        from_bank = {name for name, apart in lost.items() if any(one.stores for one in apart)}
        banks = tuple(name for name in lost if name in stores & from_bank)
        return banks or tuple(name for name in lost if name in stores | from_bank)

    def _sides(self, parted: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
        """What of that stays joined to each other, whatever a selector is set to."""
        selectors = frozenset(edge_name(d) for d in self.rig.devices if d.traits.selects)
        now, held = Open(selectors | self.every.edges), dict[frozenset[str], list[str]]()
        posts = {name: self.rig.by_name.sources[name].plus for name in parted}
        for name, post in posts.items():
            side = frozenset(self._joined(post, now) & {*posts.values()})
            held.setdefault(side, []).append(name)
        return tuple(sorted(map(tuple, held.values()), key=len))

    def _joined(self, start: str, state: Open | None = None) -> set[str]:
        return set(self.reach.net.walk([start], (state or self.base).bars))


@once
def _resting(study: Study) -> tuple[tuple[str, str, Open], ...]:
    """What is open while nothing charges: with every bank at once, then a bank of each selector.

    Each with the selector, and with the words for that. So with each position of a changeover.
    """
    sources, passing = study.rig.sources, source_reach(study).passes_on
    off = frozenset(s.about.name for s in sources if not s.stores) - passing
    selectors = dict.fromkeys(d.about.name for d in study.rig.devices if d.traits.has_positions)
    banks: list[tuple[str, str, Mapping[str, Position]]] = [("", "", {})]
    banks += [(name, f"{name} on {position_words(study.rig, name, bank)}", {name: bank})
              for name in selectors for bank in BANKS]  # fmt: skip
    return tuple(
        (name, when, Open(at_rest(study.rig, set_to).edges, off)) for name, when, set_to in banks
    )


@once
def _sunlit_devices(study: Study) -> frozenset[str]:
    """The devices between solar modules and their controllers, by name."""
    return frozenset(d.about.name for d in study.rig.devices if d.line in study.sunlit)


@once
def _loads_at(rig: Rig) -> Mapping[str, tuple[Load, ...]]:
    """The loads whose plus is a terminal."""
    found: dict[str, tuple[Load, ...]] = {}
    for load in rig.loads:
        found[load.plus] = (*found.get(load.plus, ()), load)
    return found


@once
def _fed_by(rig: Rig) -> tuple[tuple[Circuit, tuple[str, ...]], ...]:
    """Each circuit with the plus ends of its loads, or with its start where it has none."""
    loads = rig.by_name.loads
    return tuple(
        (circuit, tuple(loads[name].plus for name in circuit.loads) or (circuit.start,))
        for circuit in rig.circuits
    )
