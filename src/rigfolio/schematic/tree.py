"""Rows of a circuit diagram: what follows what from a slot to its loads, and back from them."""

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, replace
from operator import is_

from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Rig, Source

_MANY_ENDED = frozenset({"selector", "connector", "combiner"})


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a row leads out of the rows: to a terminal of a part that is drawn elsewhere.

    `is_named` says that the row ends with the name of the terminal, which lies in another row.
    """

    terminal: str
    is_named: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One thing on the way and what comes after it; several of those part at a joint."""

    item: Conductor | Device | Junction | Load | Stop
    after: tuple["Step", ...] = ()


def loads_of(steps: Iterable[Step]) -> tuple[Load, ...]:
    """The loads at the ends of some steps, in order."""
    return tuple(step.item for step in ends_of(steps) if isinstance(step.item, Load))


def ends_of(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The last steps of every branch, in order; each takes a row of its own."""
    ends: list[Step] = []
    waiting = list(steps)[::-1]
    while waiting:
        step = waiting.pop()
        if step.after:
            waiting += step.after[::-1]
        else:
            ends.append(step)
    return tuple(ends)


def pruned(steps: Sequence[Step], held: Container[str]) -> tuple[Step, ...]:
    """Some steps without the branches that end at other loads than some, by name."""
    order, waiting = [], list(steps)
    while waiting:
        order.append(waiting.pop())
        waiting += order[-1].after
    kept: dict[int, Step] = {}
    for step in reversed(order):
        after = tuple(kept[id(one)] for one in step.after if id(one) in kept)
        if after:
            same = len(after) == len(step.after) and all(map(is_, after, step.after))
            kept[id(step)] = step if same else replace(step, after=after)
        elif not step.after and (not isinstance(step.item, Load) or step.item.about.name in held):
            kept[id(step)] = step
    return tuple(kept[id(step)] for step in steps if id(step) in kept)


def owned_terminals(rig: Rig) -> dict[str, str]:
    """Terminals of the parts that are drawn beside the rows, each with the name of its part.

    Everything else lies within one circuit and is drawn in its row.
    """
    owned: dict[str, str] = {}
    for source in rig.sources:
        for terminal in source_terminals(source):
            owned.setdefault(terminal, source.about.name)
    for panel in rig.panels:
        owned.setdefault(panel.feed, panel.about.name)
        owned.setdefault(panel.bus, panel.about.name)
    users = _users(rig)
    starts = {circuit.start for circuit in rig.circuits}
    own = {circuit.device for circuit in rig.circuits}
    for junction in rig.junctions:
        if _is_shared(junction, users.get(junction.terminal, []), starts):
            owned.setdefault(junction.terminal, junction.about.name)
    for panel in rig.panels:
        if panel.negative is not None:
            owned.setdefault(panel.negative, panel.negative)
    for device in rig.devices:
        inside = device.in_slot or device.about.name in own or is_main(rig, device)
        if not inside and _is_part(device, users, starts):
            owned.setdefault(device.line, device.about.name)
            owned.setdefault(device.load, device.about.name)
    return owned


def source_terminals(source: Source) -> tuple[str, ...]:
    """All terminals of a source, the input of a converter too."""
    inlet = (f"{source.about.name}.in",) if source.kind == "dc-dc" else ()
    return (source.plus, source.minus, *inlet)


def is_main(rig: Rig, device: Device) -> bool:
    """Whether a device is the main of a panel, between its feed and its bus."""
    return any({device.line, device.load} == {p.feed, p.bus} for p in rig.panels)


def _users(rig: Rig) -> dict[str, list[str]]:
    """The circuit of each conductor on a terminal, empty for one outside circuits."""
    users: dict[str, list[str]] = {}
    for wire in rig.conductors:
        for end in (wire.a, wire.b):
            users.setdefault(end, []).append(wire.circuit)
    return users


def _is_shared(junction: Junction, users: list[str], starts: set[str]) -> bool:
    if junction.kind != "splice" or junction.terminal in starts:
        return True
    return not users or "" in users or len(set(users)) > 1


def _is_part(device: Device, users: dict[str, list[str]], starts: set[str]) -> bool:
    ends = (device.line, device.load)
    if device.kind in _MANY_ENDED or any(end in starts for end in ends):
        return True
    circuits = [circuit for end in ends for circuit in users.get(end, [])]
    return not circuits or "" in circuits


class Grower:
    """Takes what lies in rows out of the rig, each thing once."""

    def __init__(self, rig: Rig, owned: dict[str, str]) -> None:
        self.owned = owned
        self.taken: set[str] = set()
        self.drawn: set[str] = set()
        self.returned: set[str] = set()
        self.visited: set[str] = set()
        self._wires: dict[str, list[Conductor]] = {}
        self._devices: dict[str, list[Device]] = {}
        self._loads: dict[str, list[Load]] = {}
        self._minus_loads: dict[str, list[Load]] = {}
        self._joints = {j.terminal: j for j in rig.junctions if j.terminal not in owned}
        inlets = {f"{s.about.name}.in" for s in rig.sources if s.kind == "dc-dc"}
        for wire in rig.conductors:
            for end in dict.fromkeys((wire.a, wire.b)):
                self._wires.setdefault(end, []).append(wire)
        for device in rig.devices:
            is_part = owned.get(device.line) == device.about.name
            if not (device.in_slot or is_main(rig, device) or is_part
                    or owned.get(device.load) == device.about.name):  # fmt: skip
                for end in dict.fromkeys((device.line, device.load)):
                    self._devices.setdefault(end, []).append(device)
        for load in rig.loads:
            if load.about.name not in inlets:
                self._loads.setdefault(load.plus, []).append(load)
                self._minus_loads.setdefault(load.minus, []).append(load)

    def wires_at(self, terminal: str) -> list[Conductor]:
        """Conductors on a terminal that are in no row yet."""
        return [w for w in self._wires.get(terminal, []) if w.name not in self.taken]

    def out(self, terminal: str, circuit: Circuit | None = None) -> tuple[Step, ...]:
        """What hangs on a terminal, away from the source; of one circuit if it is named."""
        steps = []
        for load in self._loads.get(terminal, []):
            if load.about.name not in self.drawn and _is_of(load.circuit, circuit):
                self.drawn.add(load.about.name)
                steps.append(Step(load))
        for device in self._devices.get(terminal, []):
            if device.about.name not in self.drawn and _is_own(device, circuit):
                self.drawn.add(device.about.name)
                far = device.load if device.line == terminal else device.line
                steps.append(Step(device, self._onward(far)))
        for wire in self.wires_at(terminal):
            if _is_of(wire.circuit, circuit):
                steps.append(self.along(wire, terminal))
        return tuple(steps)

    def along(self, wire: Conductor, terminal: str) -> Step:
        """A wire from one of its ends, with all that follows."""
        self.taken.add(wire.name)
        return Step(wire, self._onward(wire.b if wire.a == terminal else wire.a))

    def _onward(self, terminal: str) -> tuple[Step, ...]:
        if terminal in self.owned:
            return (Step(Stop(terminal)),)
        if terminal in self.visited:
            return (Step(Stop(terminal, is_named=True)),)
        self.visited.add(terminal)
        steps = self.out(terminal)
        joint = self._joints.get(terminal)
        if joint is not None and joint.about.name not in self.drawn:
            self.drawn.add(joint.about.name)
            return (Step(joint, steps),)
        return steps

    def back(self, loads: Iterable[Load]) -> tuple[tuple[str, tuple[Step, ...]], ...]:
        """The returns of some loads: each terminal that they end at, with what hangs on it.

        A terminal that is no part of the rig's is where nobody knows how the circuit returns.
        """
        roots: list[tuple[str, tuple[Step, ...]]] = []
        for load in loads:
            if load.about.name in self.returned:
                continue
            root = self._root(load.minus)
            allowed = self._reach(load.minus)
            steps = self._hang(root, allowed, load if root == load.minus else None)
            self.returned |= {each.about.name for each in loads_of(steps)}
            roots.append((root, steps))
        return tuple(roots)

    def _reach(self, terminal: str) -> set[str]:
        """Conductors and devices that a return may run along from a load."""
        seen, found, waiting = set(), set(), [terminal]
        while waiting:
            here = waiting.pop()
            if here in seen or here in self.owned:
                continue
            seen.add(here)
            for wire in self.wires_at(here):
                found.add(wire.name)
                waiting += [wire.a, wire.b]
            for device in self._devices.get(here, []):
                if device.about.name not in self.drawn:
                    found.add(device.about.name)
                    waiting += [device.line, device.load]
        return found

    def _root(self, terminal: str) -> str:
        seen: set[str] = set()
        waiting = [terminal]
        while waiting:
            here = waiting.pop(0)
            if here in self.owned:
                return here
            if here in seen:
                continue
            seen.add(here)
            for wire in self.wires_at(here):
                waiting.append(wire.b if wire.a == here else wire.a)
            for device in self._devices.get(here, []):
                if device.about.name not in self.drawn:
                    waiting.append(device.load if device.line == here else device.line)
        return terminal

    def _hang(self, terminal: str, allowed: set[str], only: Load | None) -> tuple[Step, ...]:
        """What hangs on a terminal of the minus side, towards the loads."""
        if terminal in self.owned:
            steps = [Step(only)] if only is not None else []
        else:
            steps = [Step(load) for load in self._minus_loads.get(terminal, [])
                     if load.about.name not in self.returned]  # fmt: skip
        self.returned |= {load.about.name for load in loads_of(steps)}
        if only is not None and terminal in self.owned:
            return tuple(steps)
        for wire in self.wires_at(terminal):
            far = wire.b if wire.a == terminal else wire.a
            if wire.name in allowed and wire.name not in self.taken and far not in self.owned:
                steps += self._tried(wire, far, allowed, self.taken)
        for device in self._devices.get(terminal, []):
            if device.about.name in allowed and device.about.name not in self.drawn:
                far = device.load if device.line == terminal else device.line
                steps += self._tried(device, far, allowed, self.drawn)
        return tuple(steps)

    def _tried(
        self, item: Conductor | Device, far: str, allowed: set[str], done: set[str]
    ) -> tuple[Step, ...]:
        """A step to the far end of a thing, if any load hangs on it; else the thing is left."""
        name = item.name if isinstance(item, Conductor) else item.about.name
        done.add(name)
        after = self._hang(far, allowed, None)
        if loads_of(after):
            return (Step(item, after),)
        done.remove(name)
        return ()


def _is_of(name: str, circuit: Circuit | None) -> bool:
    return circuit is None or name == circuit.place


def _is_own(device: Device, circuit: Circuit | None) -> bool:
    return circuit is None or device.about.name == circuit.device
