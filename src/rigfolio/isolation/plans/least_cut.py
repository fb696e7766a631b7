"""The fewest things to open by hand so that no source reaches some terminals.

Current leaves the place where it comes back, goes through the minus side to a source, through the
source, and through the plus side to the goal; a DC-DC converter carries it on from its input. What
can be opened on that way, and the sources that can be switched off, are the edges of a network; its
narrowest cut is the answer. The things are counted, not their amperes. What needs a wrench (the
minus lead of a battery) is taken only where no hand will do; what needs one on a live stud (a fuse
held by nuts) only where no leads will do either, however many: its studs are made dead before it
comes out, and then the place is. All pins of a plug part together, so each plug is tried plugged in
and unplugged.
"""

from collections import Counter
from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping
from functools import cached_property
from itertools import combinations
from typing import cast

from rigfolio.books import bolted_families, fuse_series
from rigfolio.findings import Unknown
from rigfolio.isolation.energised import CLOSED, Open, SourceReach, source_reach
from rigfolio.isolation.plans.halves import halves
from rigfolio.kinds import OPENINGS, RESETTING, VEHICLE, Opening
from rigfolio.model import Device, Rig
from rigfolio.network import START, Arc, edge_name, ends, largest_flow
from rigfolio.record import once, record, replace
from rigfolio.study import Study

_ENDLESS = 10**15
_LIVE_STUD = 10**12
_BY_WRENCH = 10**9
_BY_HAND = 10**4
_GOAL, _START = "goal", "start"


@record
class Action:
    """One thing to open: the part by name and in which way, a key of `OPENINGS`."""

    part: str
    kind: str

    @property
    def opening(self) -> Opening:
        """What is said of that way."""
        return OPENINGS[self.kind]

    @property
    def weight(self) -> int:
        """What it counts: by hand before a lead that is lifted, a live stud last; then the rank."""
        way = self.opening
        if way.at_live_stud:
            return _LIVE_STUD + way.rank
        return (_BY_WRENCH if way.by_wrench else _BY_HAND) + way.rank


@record
class Cut:
    """What to open; nothing where that is not enough, since a wire alone joins them."""

    actions: tuple[Action, ...]

    @property
    def parts(self) -> tuple[str, ...]:
        """What is opened, by name."""
        return tuple(one.part for one in self.actions)


@once
def actions_of(rig: Rig) -> tuple[Action, ...]:
    """Everything in a rig that can be opened by hand or with a wrench."""
    made: dict[str, Action] = {}
    for device in rig.devices:
        kind = _opens_as(device)
        if kind:
            made.setdefault(device.about.name, Action(device.about.name, kind))
    for source in rig.sources:
        # A vehicle that is unplugged still feeds its half of the plug, up to its own battery.
        kind = VEHICLE if source.about.name in halves(rig) else source.traits.opening
        made[source.about.name] = Action(source.about.name, kind)
    return tuple(made.values())


def opened_by(rig: Rig, actions: Iterable[Action], before: Open = CLOSED) -> Open:
    """What is open and off after some actions, on top of what was before."""
    parts = {action.part for action in actions}
    edges = {edge_name(device) for device in rig.devices if device.about.name in parts}
    return Open(before.edges | edges, before.sources | with_outputs(rig, parts))


def with_outputs(rig: Rig, names: Collection[str]) -> frozenset[str]:
    """Those of some parts that are sources, with the other outputs of each: it stops as a whole."""
    stopped = {source.part for source in rig.sources if source.about.name in names}
    return frozenset(source.about.name for source in rig.sources if source.part in stopped)


def once_a_part(rig: Rig, names: Iterable[str]) -> tuple[str, ...]:
    """Some parts by name, of the outputs of one only the first."""
    sources = rig.by_name.sources
    found: dict[str, str] = {}
    for name in names:
        found.setdefault(sources[name].part if name in sources else name, name)
    return tuple(found.values())


def fewest(drive: SourceReach, goal: Iterable[str], before: Open = CLOSED) -> Cut:
    """The fewest things to open so that no source reaches any terminal of a goal.

    Parameters
    ----------
    drive : SourceReach
        The rig.
    goal : iterable of str
        Terminals.
    before : Open
        What is open and off already.
    """
    network = _CutNetwork(drive, tuple(goal), before)
    plugs = network.plugs
    least, found = network.narrowest(())
    for size in range(1, len(plugs) + 1):
        for pulled in combinations(plugs, size):
            spent = sum(plug.weight for plug in pulled)
            if spent >= least:
                continue
            weight, actions = network.narrowest(pulled)
            if weight + spent < least:
                least, found = weight + spent, (*pulled, *actions)
    once = once_a_part(drive.rig, (action.part for action in found))
    return Cut(tuple(action for action in found if action.part in once))


def left_in(
    drive: SourceReach, goal: Iterable[str], cut: Cut, before: Open = CLOSED
) -> tuple[str, ...]:
    """Fuses held by nuts, next to a goal, any of which would free it by itself, by name.

    None where one thing is opened anyway, or a wrench is needed.
    """
    if len(cut.actions) < 2 or any(one.opening.by_wrench for one in cut.actions):
        return ()
    goal, groups, found = tuple(goal), _groups(drive.study, before), []
    near = {groups.get(end, end) for end in goal}
    actions = _actions_by_part(drive.rig)
    for device in drive.rig.devices:
        action = actions.get(device.about.name)
        if action is None or not (action.opening.by_wrench and action.opening.is_no_switch):
            continue
        if near & {groups.get(end, end) for end in ends(device)}:
            alive = drive.alive(opened_by(drive.rig, (action,), before))
            found += [] if any(end in alive for end in goal) else [action.part]
    return tuple(found)


def _opens_as(device: Device) -> str:
    """How a device is opened; empty for one that opens by itself or not at all."""
    traits = device.traits
    if device.resets_itself:
        # It is no switch: a hand cannot hold it open, and it closes while somebody works behind it.
        return RESETTING
    if device.position and not device.turns_off:
        # Whatever position it is turned to, it makes one of its ways.
        return ""
    return traits.bolted if traits.bolted and _is_bolted(device) else traits.opening


def _is_bolted(device: Device) -> bool:
    """Whether a fuse is held by nuts; one of unknown make is, where no blade is that large."""
    if device.in_slot or device.family:
        return device.family in bolted_families()
    rating_a = device.rating_a
    known = rating_a is not None and not isinstance(rating_a, Unknown)
    return not known or float(rating_a) > fuse_series("regular")[-1]  # type: ignore[arg-type]


@once
def _groups(study: Study, before: Open) -> Mapping[str, str]:
    """Terminals by the first one of all that nothing openable parts from each other.

    A terminal that no edge leads to stands for itself.
    """
    openable = {action.part for action in actions_of(study.rig)}
    apart = frozenset(edge_name(d) for d in study.rig.devices if d.about.name in openable)
    parted = Open(apart | before.edges)
    # Whatever position a switch is turned to: what any of them joins is one place.
    net = replace(study.net, turning=frozenset())
    groups: dict[str, str] = {}
    for start in net.at:
        if start not in groups:
            groups |= dict.fromkeys(net.walk([start], parted.bars), start)
    return groups


@once
def _actions_by_part(rig: Rig) -> Mapping[str, Action]:
    return {action.part: action for action in actions_of(rig)}


@once
def _shut(rig: Rig, before: Open) -> tuple[Device, ...]:
    """The devices that can be opened and are not."""
    actions = _actions_by_part(rig)
    return tuple(
        device
        for device in rig.devices
        if device.about.name in actions and edge_name(device) not in before.edges
    )


@once
def _met(study: Study, before: Open) -> frozenset[str]:
    """The groups of terminals in which a device ends that is not all there is at that end.

    There is another device, a source, or a way back, whatever the goal.
    """
    rig, drive, groups = study.rig, source_reach(study), _groups(study, before)
    held = Counter(groups.get(end, end) for one in _shut(rig, before) for end in ends(one))
    touched = [*drive.backs, *drive.inputs.values()]
    touched += [end for source in rig.sources for end in (source.plus, source.minus)]
    return frozenset(
        (*(group for group, count in held.items() if count > 1),
         *(groups.get(end, end) for end in touched))
    )  # fmt: skip


@once
def _backs(study: Study, before: Open) -> tuple[str, ...]:
    """The groups of terminals where current comes back."""
    groups = _groups(study, before)
    backs = sorted(source_reach(study).backs)
    return tuple(dict.fromkeys(groups.get(end, end) for end in backs))


class _CutNetwork:
    """Terminals joined by what cannot be opened, with the actions between them as edges."""

    def __init__(self, drive: SourceReach, goal: tuple[str, ...], before: Open) -> None:
        self.drive = drive
        self.before = before
        self.actions = _actions_by_part(drive.rig)
        self.groups = _groups(drive.study, before)
        self.out: dict[str, dict[str, int]] = {}
        self.named: dict[tuple[str, str], Action] = {}
        for end in goal:
            self._edge(self._at(end), _GOAL, _ENDLESS)
        for device in self._between(goal):
            self._device(device)
        self._sources()

    def _between(self, goal: tuple[str, ...]) -> Iterator[Device]:
        """The devices that are closed and can be opened, where a way may lead through them.

        None does by one that ends in terminals that no other device touches, nor a source, nor a
        way back, nor the goal. Beside plugs all are kept: of those the ends are counted.
        """
        groups = self.groups
        shut = _shut(self.drive.rig, self.before)
        if any(device.traits.is_plug for device in shut):
            yield from shut
            return
        met = _met(self.drive.study, self.before) | {groups.get(end, end) for end in goal}
        for device in shut:
            if all(groups.get(end, end) in met for end in ends(device)):
                yield device

    @cached_property
    def plugs(self) -> tuple[Action, ...]:
        """The plugs of which more than one pin matters."""
        pins: dict[str, int] = {}
        for device in self.drive.rig.devices:
            if device.traits.is_plug and edge_name(device) not in self.before.edges:
                one, two = (self._at(end) for end in ends(device))
                # A pin of the way back stands in the network by other names.
                if one != two and one in self.out and two in self.out:
                    pins[device.about.name] = pins.get(device.about.name, 0) + 1
        return tuple(self.actions[name] for name, count in pins.items() if count > 1)

    def narrowest(self, pulled: Iterable[Action]) -> tuple[int, tuple[Action, ...]]:
        """Weight and actions of the narrowest cut nearest the goal, some plugs pulled."""
        gone = frozenset(pulled)
        whole = frozenset(self.plugs)
        shut = {pair: _ENDLESS for pair, one in self.named.items() if one in whole} if whole else {}
        shut |= {pair: 0 for pair in shut if self.named[pair] in gone}
        into = self._into

        def ways_in(node: Hashable) -> Iterator[Arc]:
            here = cast("str", node)
            for there in into.get(here, ()):
                tail = START if there == _START else there
                yield (there, here), 1, tail, shut.get((there, here), self.out[there][here])
                if there != _START and there in self.out.get(here, {}):
                    yield (here, there), -1, tail, 0

        flow = largest_flow(_GOAL, ways_in, most=_ENDLESS)
        if flow.amount >= _ENDLESS:
            return _ENDLESS, ()
        inside = frozenset(flow.inside)
        crossed = {
            action: None
            for (one, two), action in self.named.items()
            if one not in inside and two in inside and action not in gone
        }
        return int(flow.amount), tuple(crossed)

    @cached_property
    def _into(self) -> dict[str, list[str]]:
        """The nodes that lead to each node."""
        into: dict[str, list[str]] = {}
        for one, edges in self.out.items():
            for two in edges:
                into.setdefault(two, []).append(one)
        return into

    def _at(self, terminal: str, layer: str = "plus") -> str:
        """The name of a terminal's group on the way out (`plus`) or on the way back (`minus`)."""
        return f"{layer} {self.groups.get(terminal, terminal)}"

    def _edge(self, one: str, two: str, weight: int, action: Action | None = None) -> None:
        if one == two:
            return
        edges = self.out.setdefault(one, {})
        edges[two] = min(_ENDLESS, edges.get(two, 0) + weight)
        self.out.setdefault(two, {}).setdefault(one, 0)
        if action is not None:
            self.named[(one, two)] = action

    def _device(self, device: Device) -> None:
        """A device on the way out, on the way back, or on both where nobody can tell."""
        sides = {self.drive.study.side.get(end, "?") for end in ends(device)}
        if sides != {"-"}:
            self._series(device, "plus")
        if sides != {"+"}:
            self._series(device, "minus")

    def _series(self, device: Device, layer: str) -> None:
        """A device between its two ends; several ways of one part meet in its middle."""
        action = self.actions[device.about.name]
        line, load = (self._at(end, layer) for end in ends(device))
        middle = f"{layer} part {device.about.name}"
        if device.traits.has_positions:
            into, out = f"{middle} in", f"{middle} out"
            self.out.setdefault(into, {})[out] = action.weight
            self.out.setdefault(out, {}).setdefault(into, 0)
            self.named[(into, out)] = action
            for end in (line, load):
                self._edge(end, into, _ENDLESS)
                self._edge(out, end, _ENDLESS)
            return
        # Two devices side by side stay two things to open, so each has nodes of its own.
        for one, two, way in ((line, load, "on"), (load, line, "back")):
            inside = f"{middle} {edge_name(device)} {way}"
            self._edge(one, inside, _ENDLESS)
            self._edge(inside, two, action.weight, action)

    def _sources(self) -> None:
        """Sources that are on, from where their current comes back to their plus."""
        drive = self.drive
        for source in drive.rig.sources:
            name = source.about.name
            if name in self.before.sources:
                continue
            middle, action = f"source {name}", self.actions[name]
            self._edge(middle, self._at(source.plus), action.weight, action)
            if name in drive.inputs:
                self._edge(self._at(drive.inputs[name]), middle, _ENDLESS)
            elif name in drive.returning:
                self._edge(self._at(source.minus, "minus"), middle, _ENDLESS)
            else:
                self._edge(_START, middle, _ENDLESS)
        for group in _backs(drive.study, self.before):
            self._edge(_START, f"minus {group}", _ENDLESS)
