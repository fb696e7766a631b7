"""From what the statements said to the graph: names resolved, sugar expanded, gaps recorded."""

from collections.abc import Iterable, Mapping

from rigfolio.findings import Span
from rigfolio.model.circuits import Expansion
from rigfolio.model.draft import Draft, FuseSaid, NoteSaid, PanelSaid, RigSaid, SeriesSaid
from rigfolio.model.ends import Run, settle
from rigfolio.model.graph import About, Conductor, Device, Panel, Problem, Rig, Slot, Source, State
from rigfolio.model.names import Names, ends_of, names_of
from rigfolio.model.nets import joined
from rigfolio.model.parts import conductor, inline_fuse, load_of, split
from rigfolio.model.where import where_is
from rigfolio.record import replace


def build(draft: Draft, digest: str = "") -> Rig:
    """The rig that a draft describes; what does not work out is in `problems`."""
    names = names_of(draft)
    head = draft.rig or RigSaid("Unnamed rig", Span("", 0, 0))
    panels = [_panel(said, names) for said in draft.panels]
    devices = [*_devices(draft, names), *_mains(draft.panels, panels)]
    conductors, inline = _wires(draft, names, devices)
    devices += inline
    negative = _negative(draft, conductors, devices)
    expansion = Expansion(
        names, {panel.about.name: panel for panel in panels}, negative,
        frozenset(j.terminal for j in draft.junctions if j.kind == "chassis"),
    )  # fmt: skip
    expansion.expand(draft.circuits)
    loads = [load_of(s, s.ends or (f"{s.about.name}+", f"{s.about.name}-")) for s in draft.loads]
    rig = Rig(
        name=head.name, span=head.span, system_v=head.system_v, book=head.book,
        ambient_c=head.ambient_c, insulation_c=head.insulation_c, revised=head.revised,
        revision=head.revision, paper=head.paper, note=head.note,
        sources=tuple(_voltages(draft.sources, head.system_v)),
        devices=(*devices, *expansion.devices),
        junctions=(*draft.junctions, *expansion.junctions),
        panels=tuple(replace(p, negative=p.negative or negative) for p in panels),
        conductors=_once((*conductors, *expansion.conductors), names),
        loads=(*loads, *expansion.loads), circuits=tuple(expansion.circuits),
        slots=tuple(_slots(draft, names, expansion.slots_used)),
        states=tuple(_states(draft, names)), ac=tuple(draft.ac),
        assumptions=tuple(expansion.assumptions), problems=(), where={}, digest=digest,
    )  # fmt: skip
    rig = _noted(rig, draft.notes, names)
    return replace(rig, where=where_is(rig), problems=tuple(names.problems))


def _voltages(sources: Iterable[Source], system_v: float) -> Iterable[Source]:
    for source in sources:
        yield source if source.voltage_v else replace(source, voltage_v=system_v)


def _devices(draft: Draft, names: Names) -> list[Device]:
    made = []
    for said in draft.series:
        on = names.resolve(said.on, said.about.span) if said.on else None
        for pair in _pairs(said):
            line = on if isinstance(on, str) else pair[0]
            made.append(
                Device(said.about, said.kind, line, pair[1], said.rating_a, said.interrupts_a,
                       said.family, rating_span=said.rating_span)
            )  # fmt: skip
    return made


def _pairs(said: SeriesSaid) -> list[tuple[str, str]]:
    if said.kind == "connector":
        pins = [ends_of(said, str(pin)) for pin in range(1, said.pins + 1)]
        return [(one[0], one[1]) for one in pins]
    ends = ends_of(said)
    if said.kind == "selector":
        return [(ends[0], ends[2]), (ends[1], ends[2])]
    return [(ends[0], ends[1])]


def _panel(said: PanelSaid, names: Names) -> Panel:
    name = said.about.name
    negative = names.resolve(said.negative, said.about.span) if said.negative else None
    return Panel(
        about=said.about, slots=said.slots, feed=name, bus=f"{name}.bus" if said.main else name,
        slot_a=said.slot_a, total_a=said.total_a, pitch_m=said.pitch_m, columns=said.columns,
        breakers=said.breakers, negative=negative if isinstance(negative, str) else None,
    )  # fmt: skip


def _mains(said: Iterable[PanelSaid], panels: Iterable[Panel]) -> Iterable[Device]:
    for one, panel in zip(said, panels, strict=True):
        if one.main is not None:
            name = f"{panel.about.name}.main"
            made = inline_fuse(name, (panel.feed, panel.bus), one.main, "")
            yield replace(made, about=replace(made.about, label="Panel main"))


def _wires(
    draft: Draft, names: Names, devices: Iterable[Device]
) -> tuple[list[Conductor], list[Device]]:
    runs = [
        Run(
            names.resolve(said.ends[0], said.facts.span, onward=True),
            names.resolve(said.ends[1], said.facts.span),
            said.facts.span,
        )
        for said in draft.wires
    ]
    pairs = {_stem(device): (device.line, device.load) for device in devices}
    pairs |= {said.about.name: _two(said) for said in draft.series if said.kind != "connector"
              and said.about.name not in pairs}  # fmt: skip
    starts = [end for source in draft.sources for end in (source.plus, source.minus)]
    settled, problems = settle(runs, pairs, starts)
    names.problems += problems
    tags = _tags(draft)
    made: list[Conductor] = []
    inline: list[Device] = []
    for number, (said, run) in enumerate(zip(draft.wires, runs, strict=True)):
        name = tags[number]
        ends = [
            landing if isinstance(landing, str) else settled.get((number, end), f"{name}~{end}")
            for end, landing in enumerate((run.a, run.b))
        ]
        wire = conductor(name, (ends[0], ends[1]), said.facts)
        if said.fuse is None:
            made.append(wire)
        else:
            wires, fuse = _fused(wire, said.fuse, names)
            made += wires
            inline.append(fuse)
    return made, inline


def _two(said: SeriesSaid) -> tuple[str, str]:
    ends = ends_of(said)
    return ends[0], ends[1]


def _stem(device: Device) -> str:
    """The name by which a wire calls the device: connectors by pin, others by name."""
    return device.load.rsplit(".", 1)[0]


def _tags(draft: Draft) -> list[str]:
    taken = {said.facts.tag for said in draft.wires}
    tags = []
    number = 0
    for said in draft.wires:
        number += 1
        while not said.facts.tag and f"W{number}" in taken:
            number += 1
        tags.append(said.facts.tag or f"W{number}")
    return tags


def _fused(wire: Conductor, said: FuseSaid, names: Names) -> tuple[list[Conductor], Device]:
    at = names.resolve(said.at, said.span) if said.at else wire.a
    if not isinstance(at, str):
        at = f"{at.key}.line" if at is not None and f"{at.key}.line" in (wire.a, wire.b) else ""
    if at not in (wire.a, wire.b):
        names.problems.append(Problem("fuse-not-on-wire", said.span, str(said.at), wire.span))
        at = wire.a
    name = f"{wire.name}.fuse"
    near, far = f"{wire.name}.fuse.line", f"{wire.name}.fuse.load"
    from_a = at == wire.a
    if not said.after_m:
        if from_a:
            return [replace(wire, a=far)], inline_fuse(name, (at, far), said, wire.name)
        return [replace(wire, b=far)], inline_fuse(name, (at, far), said, wire.name)
    stub, rest = split(wire, f"{wire.name}a", said.after_m)
    if from_a:
        wires = [replace(stub, b=near), replace(rest, a=far)]
    else:
        wires = [replace(rest, b=far), replace(stub, a=near)]
    return wires, inline_fuse(name, (near, far), said, wire.name)


def _negative(draft: Draft, wires: Iterable[Conductor], devices: Iterable[Device]) -> str | None:
    """The one bar on the minus side, where there is one; else the one minus post or frame."""
    net = joined(
        [source.minus for source in draft.sources],
        [(wire.a, wire.b) for wire in wires] + [(d.line, d.load) for d in devices],
    )
    bars = [j.terminal for j in draft.junctions if j.kind == "busbar" and j.terminal in net]
    if bars:
        return bars[0] if len(bars) == 1 else None
    posts = [source.minus for source in draft.sources if source.kind == "battery"]
    return posts[0] if len(posts) == 1 else None


def _slots(draft: Draft, names: Names, used: Mapping[tuple[str, int], Span]) -> Iterable[Slot]:
    kept = dict(used)
    for said in draft.slots:
        terminal = names.resolve(said.place, said.span)
        if not isinstance(terminal, str) or said.place.name not in names.panel_slots:
            if isinstance(terminal, str):
                names.problems.append(Problem("no-slot", said.span, str(said.place)))
            continue
        number = int(terminal.rsplit(".", 1)[1]) if said.place.tail else 0
        key = (said.place.name, number)
        if key in kept:
            names.problems.append(Problem("slot-twice", said.span, terminal, kept[key]))
            continue
        kept[key] = said.span
        yield Slot(said.place.name, number, said.use, said.span, said.label)


def _states(draft: Draft, names: Names) -> Iterable[State]:
    for state, places in draft.states:
        for place in places:
            if place.name not in names.terminals:
                near = names.nearest(place.name)
                names.problems.append(Problem("not-defined", state.span, place.name, near=near))
        yield state


def _once(wires: tuple[Conductor, ...], names: Names) -> tuple[Conductor, ...]:
    """Wires under a tag that was given twice keep apart by a number, and the twin is a problem."""
    seen: dict[str, Conductor] = {}
    for wire in wires:
        name = wire.name
        if name in seen:
            names.problems.append(Problem("used-twice", wire.span, name, seen[name].span))
            number = 2
            while f"{name}({number})" in seen:
                number += 1
            name = f"{name}({number})"
        seen[name] = replace(wire, name=name)
    return tuple(seen.values())


def _noted(rig: Rig, notes: Iterable[NoteSaid], names: Names) -> Rig:
    """The rig with every remark on the thing it speaks of."""
    for said in notes:
        name = str(said.place)
        known = name in names.terminals or any(
            name in (w.name, w.circuit) for w in rig.conductors
        ) or any(name == c.place for c in rig.circuits)  # fmt: skip
        if not known and names.resolve(said.place, said.span) is None:
            continue
        rig = replace(
            rig,
            sources=tuple(replace(s, about=_with(s.about, said, name)) for s in rig.sources),
            devices=tuple(replace(d, about=_with(d.about, said, name)) for d in rig.devices),
            junctions=tuple(replace(j, about=_with(j.about, said, name)) for j in rig.junctions),
            panels=tuple(replace(p, about=_with(p.about, said, name)) for p in rig.panels),
            conductors=tuple(
                replace(w, note=said.text or w.note, condition=said.condition or w.condition)
                if w.name == name else w for w in rig.conductors
            ),
            circuits=tuple(
                replace(c, note=said.text or c.note, condition=said.condition or c.condition)
                if c.place == name else c for c in rig.circuits
            ),
        )  # fmt: skip
    return rig


def _with(about: About, said: NoteSaid, name: str) -> About:
    if about.name != name:
        return about
    return replace(about, note=said.text or about.note, condition=said.condition or about.condition)
