"""Operating point of a direct-current network with loads of constant current, power, resistance."""

from collections.abc import Iterator, Sequence
from functools import cached_property

from rigfolio.calc.grid import Converter, Draw, Grid, Island, Matrix, Network, push
from rigfolio.calc.sparse import Factor
from rigfolio.record import record, replace

# A voltage that still moves by this share has not settled. Newton squares what is left with every
# step, but near the point of collapse it only halves it: 60 steps are enough for that too.
_SETTLED = 1e-10
_STEPS = 60
_SLACK = 1e-9
_SLACK_A = 1e-6
# What a supply gives is a small difference of voltages over a small resistance: rounding of the
# voltages, grown by a few steps of elimination, shows in it.
_ROUNDING = 1e-14
# Loads that are left out one by one, the worst first, before the rest of an island is given up.
_TRIES = 12
_JUDGED = 40


@record
class Point:
    """An operating point; all by place in the network.

    Voltages count from the datum of each island, the minus of its first supply; None where no
    supply reaches. A branch counts from `a` to `b`, a supply out of its plus, a draw into its plus.
    `collapsed` are draws that the network cannot feed at any voltage: they are left out.
    `unserved` are draws without voltage, or with it the wrong way round. `at_limit` and `blocked`
    are supplies that give their limit, or nothing because another holds more voltage.
    """

    volts: tuple[float | None, ...]
    branch_a: tuple[float, ...]
    supply_a: tuple[float, ...]
    draw_a: tuple[float, ...]
    collapsed: tuple[int, ...] = ()
    unserved: tuple[int, ...] = ()
    at_limit: tuple[int, ...] = ()
    blocked: tuple[int, ...] = ()


def operating_point(network: Network) -> Point:
    """Voltages and currents that all parts of a network agree on.

    Loads of constant power are met by Newton steps from the voltages without load; these come down
    on the solution from above and stop being possible where there is none, so that a load which
    pulls the voltage to collapse is told from one that is merely starved. What a converter draws
    follows from what it gives, round by round.

    Parameters
    ----------
    network : Network
        Branches, supplies, draws and converters.

    Returns
    -------
    Point
        The operating point; of the two that a constant power allows, the one of higher voltage.

    Raises
    ------
    ValueError
        A resistance of a supply, or of a draw of that kind, is not above 0.

    Source
    ------
    Kirchhoff's laws with Newton's method (common practice); compared with a circuit simulator in
    the tests (computed).

    Examples
    --------
    >>> from rigfolio.calc.grid import Branch, Draw, Network, Supply
    >>> battery, wire = Supply(1, 0, 12.0, 0.01), Branch(1, 2, 0.09)
    >>> operating_point(Network(3, (wire,), (battery,), (Draw(2, 0, "power", 110.0),))).volts
    (0.0, 11.9, 11.0)
    """
    ohms = [supply.ohm for supply in network.supplies]
    ohms += [draw.value for draw in network.draws if draw.kind == "resistance"]
    if min(ohms, default=1.0) <= 0.0:
        raise ValueError(f"resistance {min(ohms)} ohm is not above 0")
    return _with_all_that_can_run(network)


def _with_all_that_can_run(network: Network) -> Point:
    """The point with every converter running whose input is alive and holds."""
    able = network.converters
    running: tuple[Converter, ...] = ()
    gave_way: set[int] = set()
    while True:
        point, failed = _with_converters(network, running)
        awake = tuple(
            one for one in able if one not in failed and _is_fed(point, network.draws[one.draw])
        )
        gave_way |= {one.draw for one in failed}
        if awake == running:
            lost = tuple(sorted({*point.collapsed, *gave_way}))
            return replace(point, collapsed=lost) if gave_way else point
        if not set(running) <= set(awake):
            # One that gave way is left alone, or it would come and go for ever.
            able = awake
        running = awake


def _is_fed(point: Point, draw: Draw) -> bool:
    high, low = point.volts[draw.plus], point.volts[draw.minus]
    return high is not None and low is not None and high > low


def _with_converters(
    network: Network, running: tuple[Converter, ...]
) -> tuple[Point, tuple[Converter, ...]]:
    """The point with some converters running, and those of them whose input gives way."""
    asleep = [one for one in network.converters if one not in running]
    idle = frozenset(one.supply for one in network.converters) - {one.supply for one in running}
    watts = {one.draw: 0.0 for one in network.converters}
    for _ in range(_STEPS):
        draws = [
            Draw(draw.plus, draw.minus, "power", watts[place]) if place in watts else draw
            for place, draw in enumerate(network.draws)
        ]
        point = _solve(replace(network, draws=tuple(draws)), idle)
        failed = tuple(one for one in running if one.draw in point.collapsed)
        if failed:
            return point, failed
        drawn = {one.draw: _watts_in(network, point, one) for one in running}
        drawn |= {one.draw: 0.0 for one in asleep}
        settled_w = _SETTLED * 10.0 * max((*drawn.values(), 1.0))
        unsettled = [
            one
            for one in running
            if abs(drawn[one.draw] - watts[one.draw]) > settled_w + _rounding_w(network, point, one)
        ]
        watts = drawn
        if not unsettled:
            return point, ()
    return point, running


def _watts_in(network: Network, point: Point, one: Converter) -> float:
    supply, current_a = network.supplies[one.supply], point.supply_a[one.supply]
    high_v, low_v = point.volts[supply.plus] or 0.0, point.volts[supply.minus] or 0.0
    return max((high_v - low_v) * current_a, 0.0) / one.efficiency


def _rounding_w(network: Network, point: Point, one: Converter) -> float:
    """How far off rounding may leave what a converter draws [W]."""
    most_v = max(abs(volts) for volts in point.volts if volts is not None)
    return _ROUNDING * most_v**2 / network.supplies[one.supply].ohm / one.efficiency


def _solve(network: Network, idle: frozenset[int]) -> Point:
    """The point of a network without converters; supplies that are idle are not there."""
    kept = [place for place in range(len(network.supplies)) if place not in idle]
    grid = Grid(replace(network, supplies=tuple(network.supplies[place] for place in kept)))
    solved = [_Solver(grid, island) for island in grid.islands if island.supplies]
    for one in solved:
        one.settle()
    spots: list[float | None] = [None] * grid.spots
    supply_a, draw_a = [0.0] * len(network.supplies), [0.0] * len(network.draws)
    branch_a, into_a = [0.0] * len(network.branches), [0.0] * network.nodes
    served: set[int] = set()
    for one in solved:
        one.write(spots, branch_a, draw_a)
        served |= one.served
        for place, current_a in one.supply_currents():
            supply_a[kept[place]] = current_a
    for place, supply in enumerate(network.supplies):
        push(into_a, supply.plus, supply.minus, supply_a[place])
    for place, draw in enumerate(network.draws):
        push(into_a, draw.plus, draw.minus, -draw_a[place])
    grid.join_currents(branch_a, into_a)
    collapsed = {place for one in solved for place in one.collapsed}
    return Point(
        volts=tuple(spots[spot] for spot in grid.spot),
        branch_a=tuple(branch_a), supply_a=tuple(supply_a), draw_a=tuple(draw_a),
        collapsed=tuple(sorted(collapsed)),
        unserved=tuple(sorted(set(range(len(network.draws))) - served - collapsed)),
        at_limit=tuple(kept[place] for one in solved for place in one.at("limit")),
        blocked=tuple(kept[place] for one in solved for place in one.at("blocked")),
    )  # fmt: skip


class _Solver:
    """One island with a supply: the state of each supply, the draws that it feeds, the voltages."""

    def __init__(self, grid: Grid, island: Island) -> None:
        self.grid, self.island = grid, island
        self.net = grid.network
        self.matrix = Matrix(grid, island)
        self.state = dict.fromkeys(island.supplies, "voltage")
        self.collapsed: list[int] = []
        self.idle_v = self.volts = self._idle()
        self._first = dict(self.state)
        self.served = {place for place in island.draws if self._across(place, self.idle_v) > 0.0}
        self.served |= {p for p in island.draws if self.net.draws[p].kind == "resistance"}

    def at(self, state: str) -> list[int]:
        """The supplies in a state."""
        return [place for place, own in self.state.items() if own == state]

    def _idle(self) -> list[float]:
        """The voltages without load and without limits, which none with them exceeds."""
        while True:
            volts = self._linear(())
            taking = [
                place
                for place in self.at("voltage")
                if self.net.supplies[place].one_way and self._given_a(place, volts) < -_SLACK_A
            ]
            if not taking:
                return volts
            self.state.update(dict.fromkeys(taking, "blocked"))

    def _given_a(self, place: int, volts: Sequence[float]) -> float:
        """What a supply that holds its voltage gives [A]."""
        supply = self.net.supplies[place]
        return (supply.emf_v - self.matrix.across(volts, supply.plus, supply.minus)) / supply.ohm

    def settle(self) -> None:
        """Find supplies' states and voltages; draws that cannot be fed are left out."""
        while not self._settle_states():
            worst = self._worst()
            self.collapsed += worst
            self.served -= set(worst)
            self.state = dict(self._first)
            if not worst:
                self.volts = self.idle_v
                return

    def supply_currents(self) -> Iterator[tuple[int, float]]:
        """The place of every supply and what it gives [A]."""
        for place, state in self.state.items():
            if state == "voltage":
                yield place, self._given_a(place, self.volts)
            else:
                yield place, self.net.supplies[place].limit_a if state == "limit" else 0.0

    def write(self, spots: list[float | None], branch_a: list[float], draw_a: list[float]) -> None:
        """Write the voltages of spots, the currents of resistances and of draws."""
        for spot, row in self.matrix.at.items():
            spots[spot] = self.volts[row] if row >= 0 else 0.0
        for place in self.island.branches:
            branch = self.net.branches[place]
            if branch.ohm:
                lost_v = self.matrix.across(self.volts, branch.a, branch.b)
                branch_a[place] = lost_v / branch.ohm
        for place in self.served:
            draw, high_v = self.net.draws[place], self._across(place, self.volts)
            if draw.kind == "resistance":
                draw_a[place] = high_v / draw.value
            else:
                draw_a[place] = draw.value / (high_v if draw.kind == "power" else 1.0)

    def _settle_states(self) -> bool:
        """Change the states of supplies until all agree with their voltages."""
        seen: set[tuple[str, ...]] = set()
        # Changing only the first that disagrees always ends, but is slow: it is kept for the case
        # that changing all of them at once comes back to a state that was there before.
        for _ in range(20 + 4 * len(self.state) ** 2):
            if not self._newton():
                if not self._release():
                    return False
                continue
            wrong = [
                (place, state)
                for place in self.state
                if (state := self._state(place)) != self.state[place]
            ]
            if not wrong:
                return True
            key = tuple(self.state.values())
            self.state.update(wrong[:1] if key in seen else wrong)
            seen.add(key)
        return False

    def _release(self) -> bool:
        """Let one more supply hold its voltage where the present states have no solution.

        Without any that does, what is given in excess lifts the voltage until one at its limit
        takes hold; else the voltage falls until one that was blocked does. False if there is none.
        """
        limited, blocked = self.at("limit"), self.at("blocked")
        given_a = sum(self.net.supplies[place].limit_a for place in limited)
        drawn_a = sum(
            self._watts(place) / self._across(place, self.idle_v)
            for place in self.served if self.net.draws[place].kind != "resistance"
        )  # fmt: skip
        is_rising = not self.at("voltage") and given_a > drawn_a
        able = limited if is_rising else blocked
        if not able:
            return False
        self.state[max(able, key=lambda place: self.net.supplies[place].emf_v)] = "voltage"
        return True

    def _state(self, place: int) -> str:
        """The state next to the present one that a supply ought to be in at its voltage."""
        supply, state = self.net.supplies[place], self.state[place]
        current_a = self._given_a(place, self.volts)
        # It leaves a state only when it plainly ought to, so that rounding changes none.
        slack_a = _SLACK_A + _SLACK * abs(supply.emf_v) / supply.ohm * 1e-3
        if state == "limit":
            return "limit" if current_a > supply.limit_a - slack_a else "voltage"
        if state == "blocked":
            return "blocked" if current_a < slack_a else "voltage"
        if current_a > supply.limit_a + slack_a:
            return "limit"
        return "blocked" if supply.one_way and current_a < -slack_a else "voltage"

    def _newton(self) -> bool:
        """Voltages for the present states; False where there are none."""
        volts = self.idle_v
        curved = [p for p in self.island.draws
                  if p in self.served and self.net.draws[p].kind == "power"]  # fmt: skip
        flat = [p for p in self.island.draws
                if p in self.served and self.net.draws[p].kind == "current"]  # fmt: skip
        for _ in range(_STEPS):
            try:
                found = self._linear(flat, curved, volts)
            except ValueError:
                return False
            across = {place: self._across(place, found) for place in (*flat, *curved)}
            if any(high_v <= 0.0 for high_v in across.values()):
                return False
            step = max((abs(across[p] / self._across(p, volts) - 1.0) for p in curved), default=0.0)
            volts = found
            if step <= _SETTLED:
                self.volts = volts
                return True
        return False

    def _linear(
        self, flat: Sequence[int], curved: Sequence[int] = (), near_v: Sequence[float] = ()
    ) -> list[float]:
        """One linear solution, constant powers taken as straight lines near some voltages."""
        net, ends = self.net, self.matrix.ends
        right = [0.0] * len(self.matrix.rows)
        more = self._supplied()
        for place, state in self.state.items():
            supply = net.supplies[place]
            if state == "voltage":
                push(right, *ends(supply.plus, supply.minus), supply.emf_v / supply.ohm)
            elif state == "limit":
                push(right, *ends(supply.plus, supply.minus), supply.limit_a)
        for place in flat:
            draw = net.draws[place]
            push(right, *ends(draw.plus, draw.minus), -draw.value)
        for place in curved:
            draw = net.draws[place]
            one, two = ends(draw.plus, draw.minus)
            high_v = self._across(place, near_v)
            more.append((one, two, -draw.value / high_v**2))
            push(right, one, two, -2.0 * draw.value / high_v)
        return self.matrix.factor(more).solve(right)

    def _supplied(self) -> list[tuple[int, int, float]]:
        """The conductances of the supplies that hold a voltage."""
        supplies = [self.net.supplies[place] for place in self.at("voltage")]
        return [(*self.matrix.ends(one.plus, one.minus), 1.0 / one.ohm) for one in supplies]

    @cached_property
    def _unlimited(self) -> Factor:
        """The matrix with every supply holding its voltage."""
        supplies = [self.net.supplies[place] for place in self.state]
        return self.matrix.factor(
            [(*self.matrix.ends(one.plus, one.minus), 1.0 / one.ohm) for one in supplies]
        )

    def _across(self, place: int, volts: Sequence[float]) -> float:
        draw = self.net.draws[place]
        return self.matrix.across(volts, draw.plus, draw.minus)

    def _worst(self) -> list[int]:
        """The draws to leave out: the one that sags most by itself, or all where that goes on."""
        fed = [p for p in self.island.draws
               if p in self.served and self.net.draws[p].kind != "resistance"]  # fmt: skip
        if len(self.collapsed) >= _TRIES:
            return fed
        fed.sort(key=lambda place: -self._watts(place))
        ratios = {place: self._sag(place) for place in fed[:_JUDGED]}
        return [max(ratios, key=lambda place: ratios[place])] if ratios else []

    def _watts(self, place: int) -> float:
        draw = self.net.draws[place]
        return draw.value * (1.0 if draw.kind == "power" else self._across(place, self.idle_v))

    def _sag(self, place: int) -> float:
        """Share of its voltage without load that a draw alone would lose, taken as a line [-]."""
        draw = self.net.draws[place]
        one, two = self.matrix.ends(draw.plus, draw.minus)
        right = [0.0] * len(self.matrix.rows)
        push(right, one, two, 1.0)
        own = self._unlimited.solve(right)
        ohm = self.matrix.across(own, draw.plus, draw.minus)
        return ohm * self._watts(place) / self._across(place, self.idle_v) ** 2
