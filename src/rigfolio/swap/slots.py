"""Which circuit goes into which slot: an assignment, solved to the optimum.

First as few wires as possible are to be extended, then by as little as possible; among all orders
for which that holds, the way of each current from the feed, the circuits that leave the slot that
people know, and what one column carries more than the other together cost the least.
"""

from collections.abc import Sequence
from math import inf

from rigfolio.books import balance_cost_m, move_cost_am, service_loop_m
from rigfolio.calc import Bound, least
from rigfolio.demand import flows_of, unread_circuits
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Panel
from rigfolio.operating import drawn_in, own_circuit
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import how_many

DEFAULT_PITCH_M = 0.014
"""Taken, and said so, where the text gives no pitch [m]."""
_CLOSE = 1e-6


@record
class Seat:
    """A circuit in a slot, and by how much its wire is to be extended for it [m].

    `extend_m` is None where nobody knows whether the wire reaches: its tail or where it leaves the
    loom is not known, and the slot is not the one that it is in.
    """

    circuit: Circuit
    slot: int
    extend_m: float | None

    @property
    def moves(self) -> bool:
        """Whether it leaves its slot."""
        return self.slot != self.circuit.slot


@record
class Arrangement:
    """The best order of a panel.

    `seats` are in the order of the slots. `reach_am` is the sum of current times way from the feed
    [A m], `sides_a` what each column carries [A]. Where there is no order `seats` is empty, and
    `why` says what cannot be met together.
    """

    panel: Panel
    seats: tuple[Seat, ...]
    reach_am: float
    sides_a: tuple[float, ...]
    pitch_is_known: bool
    why: str = ""

    @property
    def cost(self) -> tuple[int, float, float]:
        """What was made as small as possible, in this order: extensions, their length [m], rest."""
        extended = [seat for seat in self.seats if seat.extend_m is None or seat.extend_m > 0.0]
        length_m = sum(seat.extend_m or 0.0 for seat in self.seats)
        moved = sum(seat.moves for seat in self.seats)
        apart_a = max(self.sides_a, default=0.0) - min(self.sides_a, default=0.0)
        rest = self.reach_am + move_cost_am().value * moved + balance_cost_m().value * apart_a
        return len(extended), length_m, rest


class Places:
    """The slots that circuits may take, and what each choice costs."""

    def __init__(self, study: Study, panel: Panel) -> None:
        self.study, self.panel = study, panel
        name = panel.about.name
        rig = study.rig
        self.circuits = tuple(c for c in rig.circuits if c.panel == name or _homeless(c, name))
        blank = {s.number for s in rig.slots if s.panel == name and s.use == "blank"}
        self.slots = tuple(n for n in range(1, panel.slots + 1) if n not in blank)
        self.pitch_m = panel.pitch_m or DEFAULT_PITCH_M
        self.current_a = tuple(self._current_a(circuit) for circuit in self.circuits)

    def told_a(self, circuit: Circuit) -> float | None:
        """What a circuit draws [A]; None where that of none of its loads is known."""
        current_a = self.current_a[self.circuits.index(circuit)]
        loads = (self.study.rig.by_name.loads[name] for name in circuit.loads)
        is_known = not any(isinstance(load.value, Unknown) for load in loads)
        is_known = is_known and circuit not in unread_circuits(self.study)
        return current_a if current_a or is_known else None

    def _current_a(self, circuit: Circuit) -> float:
        if circuit.device:
            return flows_of(self.study).demand(circuit.device).current_a
        loads = [load for load in self.study.rig.loads if load.about.name in circuit.loads]
        study = self.study
        return sum(drawn_in(study, one, own_circuit(study, one)).known_a for one in loads)

    def way_m(self, slot: int) -> float:
        """How far a slot lies from the feed, along the panel [m]."""
        row = self.panel.cell(slot)[1]
        last = self.panel.rows - 1
        return (last - row if self.panel.feed_last else row) * self.pitch_m

    def extend_m(self, circuit: Circuit, slot: int) -> float | None:
        """By how much the wire of a circuit is too short for a slot [m]; None if not known."""
        if slot == circuit.slot:
            return 0.0
        wire = next(
            (w for w in self.study.wires_of(circuit.place) if w.name in circuit.wires), None
        )
        if wire is None or wire.tail_m is None or wire.breakout_m is None:
            return None
        along_m = abs(self.panel.cell(slot)[1] * self.pitch_m - wire.breakout_m)
        return max(along_m + service_loop_m().value - wire.tail_m, 0.0)

    def may(self, circuit: Circuit, slot: int) -> bool:
        """Whether a circuit may take a slot at all."""
        return slot == circuit.slot or not circuit.stays


def _homeless(circuit: Circuit, panel: str) -> bool:
    """Whether a circuit names a slot that its panel does not have: a panel was made smaller."""
    name, _, number = circuit.place.rpartition(".")
    return not circuit.panel and name == panel and number.isdigit()


def arrange(study: Study, panel: Panel) -> Arrangement:
    """The best order of the circuits of a panel.

    Parameters
    ----------
    study : Study
        The rig.
    panel : Panel
        One of its panels.

    Raises
    ------
    UnprovedError
        The optimum was not proved within the steps that a search may take.
    """
    places = Places(study, panel)
    if len(places.circuits) > len(places.slots):
        many = len(places.circuits) - len(places.slots)
        return _none(panel, f"{how_many(many, 'circuit')} more than the panel has slots for")
    program = _Assignment(places)
    found = program.solve()
    if found is None:
        return _none(panel, program.why())
    return arranged(places, found)


def arranged(places: Places, slots: Sequence[int]) -> Arrangement:
    """An order of circuits with what it costs; `slots` in the order of `places.circuits`."""
    panel = places.panel
    seats = tuple(
        Seat(circuit, slot, places.extend_m(circuit, slot))
        for circuit, slot in zip(places.circuits, slots, strict=True)
    )
    reach_am = sum(
        amps * places.way_m(slot) for amps, slot in zip(places.current_a, slots, strict=True)
    )
    sides = [0.0] * max(1, panel.columns)
    for amps, slot in zip(places.current_a, slots, strict=True):
        sides[panel.cell(slot)[0]] += amps
    ordered = tuple(sorted(seats, key=lambda seat: seat.slot))
    return Arrangement(panel, ordered, reach_am, tuple(sides), panel.pitch_m is not None)


def _none(panel: Panel, why: str) -> Arrangement:
    return Arrangement(panel, (), 0.0, (), panel.pitch_m is not None, why)


def _neighbours(panel: Panel, slot: int) -> tuple[int, ...]:
    """The slots above and below one in its column."""
    column, row = panel.cell(slot)
    cells = {panel.cell(number): number for number in range(1, panel.slots + 1)}
    near = ((column, row - 1), (column, row + 1))
    return tuple(cells[cell] for cell in near if cell in cells)


class _Assignment:
    """The assignment as a linear program: one variable for each circuit in each slot."""

    def __init__(self, places: Places) -> None:
        self.places = places
        self.keys = [
            (c, slot)
            for c, circuit in enumerate(places.circuits)
            for slot in places.slots
            if places.may(circuit, slot)
        ]
        self.place = {key: place for place, key in enumerate(self.keys)}
        self.columns = max(1, places.panel.columns)
        # Beside the choices: the least and the most that a column carries.
        self.count = len(self.keys) + 2

    def solve(self) -> tuple[int, ...] | None:
        """The slot of every circuit; None where not everything can be met."""
        bounds = [*self._each_once(), *self._beside(), *self._sides()]
        ways = [self.places.extend_m(self.places.circuits[c], slot) for c, slot in self.keys]
        extended = [1.0 if way is None or way > 0.0 else 0.0 for way in ways]
        lengths = [way or 0.0 for way in ways]
        found: tuple[float, ...] | None = None
        for costs in (extended, lengths):
            found = self._least(costs, bounds)
            if found is None:
                return None
            reached = sum(cost * value for cost, value in zip(costs, found, strict=False))
            terms = tuple((place, cost) for place, cost in enumerate(costs) if cost)
            bounds.append(Bound(terms, -inf, reached + _CLOSE * max(1.0, reached)))
        found = self._least(self._rest(), bounds, apart=balance_cost_m().value)
        if found is None:
            return None
        chosen = {
            c: slot for (c, slot), value in zip(self.keys, found, strict=False) if value > 0.5
        }
        return tuple(chosen[c] for c in range(len(self.places.circuits)))

    def why(self) -> str:
        """Which wish cannot be met together with the others."""
        bounds = [*self._each_once(), *self._beside(), *self._sides(limited=False)]
        if self._least([0.0] * len(self.keys), bounds) is not None:
            return "no order keeps every column under what it may carry"
        return "circuits that stay put or stand beside each other leave no order"

    def _least(
        self, costs: Sequence[float], bounds: Sequence[Bound], apart: float = 0.0
    ) -> tuple[float, ...] | None:
        whole = [True] * len(self.keys) + [False, False]
        upper = [1.0] * len(self.keys) + [inf, inf]
        return least((*costs, -apart, apart), whole, upper, bounds)

    def _rest(self) -> list[float]:
        """The way of the current, and the move, of every choice."""
        places = self.places
        return [
            places.current_a[c] * places.way_m(slot)
            + move_cost_am().value * (slot != places.circuits[c].slot)
            for c, slot in self.keys
        ]

    def _each_once(self) -> list[Bound]:
        made = []
        for c in range(len(self.places.circuits)):
            mine = tuple((p, 1.0) for p, (one, _) in enumerate(self.keys) if one == c)
            made.append(Bound(mine, 1.0, 1.0))
        for slot in self.places.slots:
            here = tuple((p, 1.0) for p, (_, one) in enumerate(self.keys) if one == slot)
            made.append(Bound(here, 0.0, 1.0))
        return made

    def _beside(self) -> list[Bound]:
        """A circuit takes a slot only if the one it belongs to takes the next."""
        numbers = {circuit.place: c for c, circuit in enumerate(self.places.circuits)}
        made = []
        for c, circuit in enumerate(self.places.circuits):
            other = numbers.get(circuit.beside)
            if other is None or other == c:
                continue
            for slot in self.places.slots:
                if (c, slot) not in self.place:
                    continue
                near = [
                    (self.place[other, n], -1.0)
                    for n in _neighbours(self.places.panel, slot)
                    if (other, n) in self.place
                ]
                made.append(Bound(((self.place[c, slot], 1.0), *near), -inf, 0.0))
        return made

    def _sides(self, *, limited: bool = True) -> list[Bound]:
        """What every column carries lies between the two variables, and under its limit."""
        panel = self.places.panel
        low, high = len(self.keys), len(self.keys) + 1
        made = []
        most_a = panel.side_a if limited else None
        for column in range(self.columns):
            carried = tuple(
                (place, self.places.current_a[c])
                for place, (c, slot) in enumerate(self.keys)
                if panel.cell(slot)[0] == column and self.places.current_a[c]
            )
            made.append(Bound(((low, -1.0), *carried), 0.0, inf))
            made.append(Bound(((high, -1.0), *carried), -inf, 0.0))
            if isinstance(most_a, float):
                made.append(Bound(carried, -inf, most_a))
        return made
