"""How a part is proved dead: at which places a meter has to show nothing.

A meter behind a contact that stands open shows 0 V whether anything was opened or not. What is
measured beside the place itself is wherever the supply would arrive whatever the contacts do, and
what has to be closed meanwhile is told.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.isolation.conditions import opened
from rigfolio.isolation.energised import Alive, Open, source_reach
from rigfolio.isolation.plans.least_cut import opened_by
from rigfolio.isolation.plans.orders import carried_out
from rigfolio.isolation.plans.plan import Plan
from rigfolio.isolation.states import states_of
from rigfolio.model import Device
from rigfolio.network import edge_name, edges_of_device, ends, in_the_way
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class ProofPoint:
    """A place that is measured beside what is to be dead, and why.

    `by` is the contact or the converter, by name, that may keep the supply from what lies behind
    it; empty where the place is to be dead itself and is not measured with the rest.
    """

    end: str
    by: str = ""


@record
class Proof:
    """Where else a meter is put, and what has to be closed meanwhile, by name."""

    points: tuple[ProofPoint, ...]
    shut: tuple[str, ...]


@once
def proof_of(study: Study, plan: Plan, measured: tuple[str, ...]) -> Proof:
    """How a plan is proved where some terminals are measured anyway.

    Parameters
    ----------
    study : Study
        The rig.
    plan : Plan
        What was opened.
    measured : tuple of str
        The terminals that a meter is put on in any case.
    """
    found = _Proved(study, plan, frozenset(measured))
    points = tuple(found.points())
    return Proof(points, found.shut_for({*measured, *(one.end for one in points)}))


def measured_at(study: Study, plan: Plan) -> tuple[str, ...]:
    """What a meter is put on where a plan names its place: of a circuit where it begins."""
    circuit = study.rig.by_name.circuits.get(plan.place)
    loads = study.rig.by_name.loads
    back = {loads[name].plus for name in plan.comes_back}
    every = tuple(end for end in plan.terminals if end not in back)
    if circuit is None:
        return every
    device = study.rig.by_name.devices.get(circuit.device)
    begins = {circuit.start, *plan.with_it}
    begins |= {*ends(device)} if device is not None else set()
    return tuple(end for end in every if end in begins) or every[:1]


@once
def contacts(study: Study) -> frozenset[str]:
    """What may stand open while a meter is used, as edges: what a hand or a signal opens, plugs.

    So may what any state of the rig has open.
    """
    rig = study.rig
    found = {edge_name(one) for one in rig.devices if one.traits.opens or one.traits.is_plug}
    return frozenset(found.union(*(opened(rig, state).edges for state in states_of(study))))


class _Proved:
    """What a plan has parted from its sources, in rooms between contacts that may stand open."""

    def __init__(self, study: Study, plan: Plan, measured: frozenset[str]) -> None:
        self.study, self.plan, self.measured = study, plan, measured
        self.rig, self.net, self.drive = study.rig, study.net, source_reach(study)
        self.after = carried_out(study, plan)
        self.alive = self.drive.alive(self.after)
        self.doors = contacts(study) - self.after.edges
        self.bars = Open(self.doors | self.after.edges).bars
        self.rooms = tuple(self._rooms())
        self.held = frozenset(end for room, _ in self.rooms for end in room)
        inside = frozenset(edge_name(d) for d in self._doors_at(self.held))
        self.idle = frozenset(
            name for name, end in self.drive.inputs.items()
            if end in self.held and self.rig.by_name.sources[name].plus in self.held
        )  # fmt: skip
        self.inside = Open(inside, self.idle)

    def points(self) -> Iterator[ProofPoint]:
        """The rooms into which a source comes, the contacts behind it open, and none measured."""
        was = self.drive.alive(self.inside)
        for room, entered in self.rooms:
            if any(end in was for end in room) and self.measured.isdisjoint(room):
                yield entered

    def shut_for(self, points: Collection[str]) -> tuple[str, ...]:
        """What has to be closed so that each step shows by a meter, were it left out; by name."""
        shut: dict[str, None] = {}
        actions = [step.action for step in self.plan.steps]
        outer = self.doors - self.inside.edges
        opened = frozenset[str]().union(*(edges_of_device(self.rig, one.part) for one in actions))
        off = frozenset(
            self.after.sources - {one.part for one in actions} - self.drive.inputs.keys()
        )
        before = Open(self.after.edges - opened, off)
        for one in actions:
            others = [each for each in actions if each is not one]
            state = opened_by(self.rig, others, before)
            if not self._reach(self.drive.alive(state), self.plan.terminals):
                continue
            edges = state.edges | self.inside.edges | (outer - edges_of_device(self.rig, one.part))
            if not self._reach(self.drive.alive(Open(edges, state.sources | self.idle)), points):
                shut |= dict.fromkeys(self._ahead(one.part, outer))
        return tuple(shut)

    def _ahead(self, part: str, outer: frozenset[str]) -> Iterator[str]:
        """The contacts that have to be closed for what is opened to part anything, by name."""
        waits = Open(outer).bars
        found, sources = set[str](), self.rig.by_name.sources
        # What is only switched off may start by itself.
        off = frozenset(self.after.sources - self.drive.inputs.keys())
        alive = self.drive.alive(Open(self.after.edges, off))
        waiting = [
            end for device in self.rig.poles.get(part, ())
            if not self.held.isdisjoint(ends(device)) for end in ends(device)
        ]  # fmt: skip
        # It grows as it is gone through: a converter gives nothing until its input is fed.
        for end in waiting:
            by = [sources[name] for name in alive.get(end, ())]
            found |= in_the_way(
                self.net, end, [one.plus for one in by], waits=waits, is_open=self.after.bars
            )
            inputs = (self.drive.inputs.get(one.about.name, "") for one in by)
            waiting += [one for one in inputs if one and one not in waiting]
        yield from (one.about.name for one in self.rig.devices if edge_name(one) in found)

    @staticmethod
    def _reach(alive: Alive, terminals: Iterable[str]) -> bool:
        return any(end in alive for end in terminals)

    def _rooms(self) -> Iterator[tuple[Collection[str], ProofPoint]]:
        """The rooms of what is to be dead, then those behind contacts and converters."""
        seen: set[str] = set()
        # What is measured first: what lies behind a contact is told by that. It grows as it is gone
        # through.
        ends_first = sorted(self.plan.terminals, key=lambda end: end not in self.measured)
        left = deque(ProofPoint(end) for end in ends_first)
        waiting = deque(left.popleft() for end in ends_first if end in self.measured)
        inputs = self._inputs()
        while waiting or left:
            one = (waiting or left).popleft()
            if one.end in seen or one.end in self.alive:
                continue
            room = self.net.walk([one.end], self.bars).keys()
            seen |= room
            yield room, one
            for device in self._doors_at(room):
                near, far = ends(device) if device.line in room else ends(device)[::-1]
                waiting.append(ProofPoint(far if near in room else near, device.about.name))
            waiting += [one for end in inputs if end in room for one in inputs[end]]

    def _inputs(self) -> Mapping[str, list[ProofPoint]]:
        """The inputs of converters and controllers, by where they give."""
        found: dict[str, list[ProofPoint]] = {}
        for source in self.rig.sources:
            end = self.drive.inputs.get(source.about.name)
            if end is not None:
                found.setdefault(source.plus, []).append(ProofPoint(end, source.about.name))
        return found

    def _doors_at(self, room: Iterable[str]) -> Iterator[Device]:
        """The contacts at any terminal of a room; one within it twice."""
        for here in room:
            for edge, _ in self.net.steps(here):
                if isinstance(edge, Device) and edge_name(edge) in self.doors:
                    yield edge
