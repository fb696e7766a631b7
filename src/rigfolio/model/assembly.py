"""From what the statements said to the graph: names resolved, sugar expanded, gaps recorded."""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

from rigfolio.findings import UNKNOWN, Span
from rigfolio.model.asides import Assumption, Panel, Problem, Slot, State
from rigfolio.model.circuits import Expansion
from rigfolio.model.draft import Draft, PanelSaid, RigSaid, RunSaid
from rigfolio.model.graph import Conductor, Device, Load, Rig, Source
from rigfolio.model.names import Names, names_of
from rigfolio.model.notes import accepting, noted, pictured
from rigfolio.model.part_names import main_name, with_loads_named
from rigfolio.model.parts import bonded, inline_fuse, load_of
from rigfolio.model.returns import Surroundings
from rigfolio.model.where import where_is
from rigfolio.model.wire_names import wire_names
from rigfolio.model.wires import DraftWiring, positions_of, series_devices
from rigfolio.record import replace
from rigfolio.units import show

SYSTEM_V = 12.0
BOOK = "rv"
"""What is taken for granted where the head of the text is silent."""


def build(draft: Draft, digest: str = "") -> Rig:
    """The rig that a draft describes; what does not work out is in `problems`."""
    names = names_of(draft)
    head = _head_of(draft)
    called = wire_names(draft, names.terminals)
    wiring = DraftWiring(draft, names, called.wires)
    wiring.lay()
    devices = [*series_devices(draft.series, names), *wiring.devices]
    panels = list(_panels(draft, names, wiring.conductors))
    devices += _mains(draft.panels, panels)
    around = _around(draft, wiring.conductors, devices, panels)
    expansion = Expansion(
        names, called, {panel.about.name: panel for panel in panels}, around
    )  # fmt: skip
    expansion.expand(draft.circuits)
    landed = {end for w in (*wiring.conductors, *expansion.conductors) for end in (w.a, w.b)}
    lit = (_lit(one, landed) for one in draft.sources)
    sources = tuple(_voltages(lit, head.system_v or SYSTEM_V))
    rig = Rig(
        name=head.name, span=head.span, system_v=head.system_v or SYSTEM_V,
        book=head.book or BOOK, ambient_c=head.ambient_c, insulation_c=head.insulation_c,
        revised=head.revised, revision=head.revision, paper=head.paper, note=head.note,
        sources=sources,
        devices=(*devices, *expansion.devices),
        junctions=(*draft.junctions, *expansion.junctions),
        panels=tuple(replace(p, negative=p.negative or around.negative) for p in panels),
        conductors=_once((*wiring.conductors, *expansion.conductors), names),
        loads=tuple(_fed(sources, _loads(draft, expansion))), circuits=tuple(expansion.circuits),
        slots=tuple(_slots(draft, names, expansion.slots_used)),
        states=tuple(_states(draft, names)), ac=tuple(draft.ac),
        assumptions=(*_of_head(head), *_counted(draft, names), *wiring.assumptions,
                     *expansion.assumptions),
        problems=(), where={}, digest=digest, gaps=tuple(draft.gaps), coldest_c=head.coldest_c,
        sun_share=head.sun_share,
        nameless=called.nameless, used_to=head.used_to,
        used_at=head.used_at,
    )  # fmt: skip
    rig = _renamed(noted(rig, draft.notes, names), expansion.same | expansion.joined)
    rig = accepting(pictured(rig, draft.photos, names), draft.accepted, names)
    rig = with_loads_named(bonded(rig), expansion.unnamed)
    problems = tuple(_as_excepted(one, draft) for one in names.problems)
    return replace(rig, where=where_is(rig), problems=problems)


def _as_excepted(problem: Problem, draft: Draft) -> Problem:
    """A name that means nothing, with the place that excepts it, where one does."""
    at = draft.excepted.get(problem.name.casefold())
    return replace(problem, other=at) if problem.kind == "not-defined" and at else problem


def _head_of(draft: Draft) -> RigSaid:
    """The head of the file, or one without a name at the first thing that the text says."""
    if draft.rig is not None:
        return draft.rig
    spans = [one.about.span for one in draft.sources] + [one.about.span for one in draft.series]
    spans += [one.about.span for one in draft.junctions]
    spans += [one.about.span for one in draft.panels] + [one.about.span for one in draft.loads]
    spans += [one.facts.span for one in draft.wires] + [one.span for one in draft.circuits]
    spans += [one.span for one in draft.slots] + [one.span for one in draft.notes]
    spans += [one.span for one in draft.ac] + [state.span for state, _ in draft.states]
    return RigSaid("Unnamed rig", min(spans, default=Span("", 0, 0)))


def _of_head(head: RigSaid) -> Iterator[Assumption]:
    """The system voltage and the rule book, where the text does not say them."""
    if head.system_v is None:
        text = f"the system voltage is not stated and taken as {show(SYSTEM_V, 'V')}"
        yield Assumption(text, head.span)
    if not head.book:
        yield Assumption(f"no rule book is stated, `{BOOK}` is taken", head.span)


def _voltages(sources: Iterable[Source], system_v: float) -> Iterator[Source]:
    for source in sources:
        yield source if source.voltage_v else replace(source, voltage_v=system_v)


def _lit(source: Source, landed: Set[str]) -> Source:
    """A source without the terminals for an array, where no wire lands on any of them."""
    return source if landed & set(source.lit or ()) else replace(source, lit=None)


def _panels(draft: Draft, names: Names, wires: Iterable[Conductor]) -> Iterator[Panel]:
    """The panels; the negative bar is the one that is named, or their own where it is wired."""
    landed = {end for wire in wires for end in (wire.a, wire.b)}
    landed |= {str(one.to) for circuit in draft.circuits for one in circuit.returns if one.to}
    fed = {member.end.name for circuit in draft.circuits for member in circuit.members
           if isinstance(member, RunSaid) and member.end is not None}  # fmt: skip
    for said in draft.panels:
        name = said.about.name
        if said.negative is not None:
            found = names.resolve(said.negative, said.about.span)
            negative = found if isinstance(found, str) else None
        else:
            negative = f"{name}-" if name in fed or f"{name}-" in landed else None
        yield Panel(
            about=said.about, slots=names.panels.get(name, said.slots or 1), feed=name,
            bus=f"{name}.bus" if said.main else name, slot_a=said.slot_a, total_a=said.total_a,
            pitch_m=said.pitch_m, columns=said.columns, holds=said.holds, negative=negative,
            across=said.across, side_a=said.side_a, feed_last=said.feed_last,
            interrupts_a=said.interrupts_a, window_m=said.window_m,
        )  # fmt: skip


def _mains(said: Iterable[PanelSaid], panels: Iterable[Panel]) -> Iterator[Device]:
    for one, panel in zip(said, panels, strict=True):
        if one.main is not None:
            name = main_name(panel.about.name)
            made = inline_fuse(name, (panel.feed, panel.bus), one.main, "")
            yield replace(made, about=replace(made.about, label="Panel main"))


def _around(
    draft: Draft, wires: Iterable[Conductor], devices: Iterable[Device], panels: Iterable[Panel]
) -> Surroundings:
    """What circuits must know of the rest of the rig."""
    alone = [said.about.name for said in draft.loads if said.ends is None]
    minus = {f"{name}+": f"{name}-" for name in alone}
    minus |= {said.ends[0]: said.ends[1] for said in draft.loads if said.ends is not None}
    minus |= {source.plus: source.minus for source in draft.sources}
    minus |= {panel.feed: panel.own_bar for panel in panels if panel.own_bar is not None}
    return Surroundings(
        negative=_negative(draft, wires, devices),
        frames={j.terminal: j.ohm for j in draft.junctions if j.traits.is_frame},
        loads=frozenset(alone),
        minus=minus,
        wired=frozenset(end for wire in wires for end in (wire.a, wire.b)),
        fed=frozenset(
            end for source in draft.sources if not source.traits.own_frame
            for end in (source.plus, source.inlet) if end
        ),
    )  # fmt: skip


def _negative(draft: Draft, wires: Iterable[Conductor], devices: Iterable[Device]) -> str | None:
    """The one bar on the minus side, where there is one; else the one minus post."""
    net = _joined(
        # What comes back to solar modules comes from their controller alone.
        [source.minus for source in draft.sources if not source.traits.by_light],
        [(wire.a, wire.b) for wire in wires] + [(d.line, d.load) for d in devices],
    )
    bars = [j.terminal for j in draft.junctions if j.traits.is_bar and j.terminal in net]
    if bars:
        return bars[0] if len(bars) == 1 else None
    posts = [source.minus for source in draft.sources if source.stores]
    return posts[0] if len(posts) == 1 else None


def _joined(starts: Iterable[str], edges: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Every terminal that some edges join to a start, with the start that reached it first."""
    next_to: dict[str, list[str]] = {}
    for one, two in edges:
        next_to.setdefault(one, []).append(two)
        next_to.setdefault(two, []).append(one)
    reached: dict[str, str] = {}
    for start in starts:
        waiting = [] if start in reached else [start]
        while waiting:
            here = waiting.pop()
            if here in reached:
                continue
            reached[here] = start
            waiting += next_to.get(here, ())
    return reached


def _counted(draft: Draft, names: Names) -> Iterator[Assumption]:
    """Slots and pins that nobody has counted."""
    for said in draft.panels:
        if not said.slots:
            count = names.panels.get(said.about.name, 1)
            text = f"{said.about.name}: its slots are not counted, {count} are drawn"
            yield Assumption(text, said.about.span)


def _loads(draft: Draft, expansion: Expansion) -> Iterator[Load]:
    """The loads; one with a line of its own belongs to the circuit that leads to it."""
    owners = {name: circuit for circuit in reversed(expansion.circuits) for name in circuit.loads}
    for said in draft.loads:
        name = said.about.name
        load = load_of(said, said.ends or (f"{name}+", f"{name}-"))
        owner = owners.get(name)
        if owner is not None:
            always = load.always_on or owner.always_on
            load = replace(load, circuit=owner.place, always_on=always)
        yield load
    yield from expansion.loads


def _fed(sources: Iterable[Source], loads: Iterable[Load]) -> Iterator[Load]:
    """The loads; the input of a converter draws what its output gives, over its efficiency [W]."""
    given_w = {
        f"{source.about.name}.in": source.limit_a * source.voltage_v / source.efficiency
        for source in sources
        if source.efficiency and isinstance(source.limit_a, float)
    }
    for load in loads:
        drawn_w = given_w.get(load.about.name)
        follows = drawn_w is not None and load.kind == "power" and load.value == UNKNOWN
        yield replace(load, value=drawn_w) if follows else load


def _slots(draft: Draft, names: Names, used: Mapping[tuple[str, int], Span]) -> Iterator[Slot]:
    kept = dict(used)
    for said in draft.slots:
        terminal = names.resolve(said.place, said.span)
        if not isinstance(terminal, str):
            continue
        if said.place.name not in names.panels or not said.place.tail:
            names.problems.append(Problem("no-slot", said.span, str(said.place)))
            continue
        number = int(terminal.rsplit(".", 1)[1])
        key = (said.place.name, number)
        if key in kept:
            names.problems.append(Problem("slot-twice", said.span, terminal, kept[key]))
            continue
        kept[key] = said.span
        yield Slot(said.place.name, number, said.use, said.span, said.label)


def _states(draft: Draft, names: Names) -> Iterator[State]:
    for state, places in draft.states:
        for place in places:
            if place.name not in names.terminals:
                at = Span(state.span.file, place.start, place.end)
                near = names.nearest(place.name)
                names.problems.append(Problem("not-defined", at, place.name, near=near))
        for place, (_, how) in zip(places, state.settings, strict=True):
            said = names.series.get(place.name)
            if said is not None and said.traits.excludes and how not in positions_of(said):
                at = Span(state.span.file, place.start, place.end)
                near = ", ".join(positions_of(said))
                problem = Problem("no-position", at, f"{place} {how}", said.about.span, near=near)
                names.problems.append(problem)
        yield replace(state, settings=tuple(_of_each(draft, state.settings)))


def _of_each(draft: Draft, settings: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Settings of parts with several outputs as those of each of them."""
    for name, how in settings:
        outputs = [one.about.name for one in draft.sources if one.unit == name]
        yield from ((each, how) for each in outputs or [name])


def _once(wires: Sequence[Conductor], names: Names) -> tuple[Conductor, ...]:
    """Wires under a tag that was given twice keep apart by a number, and the twin is a problem."""
    seen: dict[str, Conductor] = {}
    for wire in wires:
        name = wire.name
        if name in names.terminals:
            names.problems.append(Problem("used-twice", wire.span, name, names.spans[name]))
        if name in seen:
            names.problems.append(Problem("used-twice", wire.span, name, seen[name].span))
            number = 2
            while f"{name}({number})" in seen:
                number += 1
            name = f"{name}({number})"
        seen[name] = replace(wire, name=name)
    return tuple(seen.values())


def _renamed(rig: Rig, same: Mapping[str, str]) -> Rig:
    """The rig with one name for terminals that have turned out to be the same."""
    if not same:
        return rig

    def of(end: str) -> str:
        return same.get(end, end)

    return replace(
        rig,
        conductors=tuple(replace(one, a=of(one.a), b=of(one.b)) for one in rig.conductors),
        devices=tuple(replace(one, line=of(one.line), load=of(one.load)) for one in rig.devices),
        loads=tuple(replace(one, plus=of(one.plus), minus=of(one.minus)) for one in rig.loads),
        sources=tuple(replace(one, minus=of(one.minus)) for one in rig.sources),
        panels=tuple(
            replace(one, negative=of(one.negative) if one.negative else None) for one in rig.panels
        ),
    )
