"""One island of a network with a supply: the states of its supplies, its draws, its voltages."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

from rigfolio.calc.grid import Draw, Grid, Matrix, Network, Supply, across
from rigfolio.calc.sparse import Factor, push
from rigfolio.record import replace

# A voltage that still moves by this share has not settled. Newton squares what is left with every
# step, but near the point of collapse it only halves it: 60 steps are enough for that too.
SETTLED = 1e-10
STEPS = 60
_SLACK_SHARE = 1e-12
_SLACK_A = 1e-6
# Loads that are left out one by one, the worst first, before the rest of an island is given up.
_TRIES = 12
_JUDGED = 40


class Solver:
    """One island with a supply: the state of each supply, the draws that it feeds, the voltages."""

    def __init__(self, grid: Grid, number: int) -> None:
        island = grid.islands[number]
        self.grid, self.island = grid, island
        self.net, self.matrix = grid.network, grid.matrix(number)
        self.state = dict.fromkeys(island.supplies, "voltage")
        self._most_v = max(abs(self.net.supplies[place].emf_v) for place in island.supplies)
        self.collapsed: list[int] = []
        self.idle_v = self.volts = self._idle()
        self._first = dict(self.state)
        self._sags = _Sags(self.matrix, self.net, self.idle_v)
        fed = {place for place in island.draws if self._across(place, self.idle_v) > 0.0}
        ohmic = {p for p in island.draws if self.net.draws[p].kind == "resistance"}
        self.served = self._fed = fed | ohmic
        self._is_settled = False

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
                if self.net.supplies[place].one_way
                and self._given_a(place, volts) < -self._slack_a(place)
            ]
            if not taking:
                return volts
            self._block(taking, volts)

    def _block(self, taking: Sequence[int], volts: Sequence[float]) -> None:
        """Let supplies that would take give nothing, as many as leave every spot held."""
        kept = [place for place in self.at("voltage") if place not in taking]
        if not _is_held(self.matrix, kept):
            # Without load what a supply takes comes back round a ring: one of them is never a
            # bridge, while several together may be all that holds a spot between them.
            taking = [min(taking, key=lambda place: self._given_a(place, volts))]
        self.state.update(dict.fromkeys(taking, "blocked"))

    def _given_a(self, place: int, volts: Sequence[float]) -> float:
        """What a supply that holds its voltage gives [A]."""
        supply = self.net.supplies[place]
        return (supply.emf_v - across(volts, self.island.supplies[place])) / supply.ohm

    def settle(self, draws: tuple[Draw, ...]) -> None:
        """Find supplies' states and voltages with some draws; what cannot be fed is left out.

        They have the ends and kinds of those of the network. Where all were fed that were there
        before, some supply holds its voltage and the states of all stay as they were found then,
        Newton begins at the voltages of then; else all is looked for anew, from above.
        """
        self.net = replace(self.grid.network, draws=draws)
        if self._is_settled and self._newton(self.volts) and not self._wrong():
            return
        self.state, self.served, self.collapsed = dict(self._first), set(self._fed), []
        self._sags.net = self.net
        self._settle_from_idle()
        self._is_settled = not self.collapsed and bool(self.at("voltage"))

    def _settle_from_idle(self) -> None:
        while not self._settle_states():
            worst = _worst(self)
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
        for spot, volts in zip(self.island.spots, (0.0, *self.volts), strict=True):
            spots[spot] = volts
        for place, ends in self.island.branches.items():
            ohm = self.net.branches[place].ohm
            if ohm:
                branch_a[place] = across(self.volts, ends) / ohm
        for place in self.served:
            draw, high_v = self.net.draws[place], self._across(place, self.volts)
            if draw.kind == "resistance":
                draw_a[place] = high_v / draw.value
            else:
                draw_a[place] = draw.value / (high_v if draw.kind == "power" else 1.0)

    def _settle_states(self) -> bool:
        """Change the states of supplies until all agree with their voltages."""
        seen: Counter[tuple[str, ...]] = Counter()
        # Changing only the first that disagrees always ends, but is slow: it is kept for the case
        # that changing all of them at once comes back to a state that was there before.
        for _ in range(20 + 4 * len(self.state) ** 2):
            if not self._newton():
                if not self._release():
                    return False
                continue
            wrong = self._wrong()
            if not wrong:
                return True
            key = tuple(self.state.values())
            seen[key] += 1
            # One that hangs at its limit goes to and fro for ever: another has to come in below it.
            if seen[key] > 2 and self._release():
                continue
            self.state.update(wrong[:1] if seen[key] > 1 else wrong)
        return False

    def _wrong(self) -> list[tuple[int, str]]:
        """The supplies that ought to be in another state, with that."""
        nexts = ((place, self._next(place)) for place in self.state)
        return [(place, state) for place, state in nexts if state != self.state[place]]

    def _release(self) -> bool:
        """Let one more supply hold its voltage where the present states have no solution.

        Without any that does, what is given in excess lifts the voltage until one at its limit
        takes hold; else the voltage falls until one that was blocked does. False if there is none.
        """
        able = _lifted(self) if not self.at("voltage") else []
        able = able or self.at("blocked")
        if not able:
            return False
        self.state[max(able, key=lambda place: self.net.supplies[place].emf_v)] = "voltage"
        return True

    def _next(self, place: int) -> str:
        """The state next to the present one that a supply ought to be in at its voltage."""
        given_a = self._given_a(place, self.volts)
        return _next(self.net.supplies[place], self.state[place], given_a, self._slack_a(place))

    def _slack_a(self, place: int) -> float:
        """How far off rounding may leave what a supply gives [A]: that changes no state."""
        # It is a small difference of voltages over a small resistance.
        return _SLACK_A + _SLACK_SHARE * self._most_v / self.net.supplies[place].ohm

    def _newton(self, near_v: Sequence[float] = ()) -> bool:
        """Voltages for the present states, from those without load or others; False if none."""
        volts = near_v or self.idle_v
        curved = [p for p in self.island.draws
                  if p in self.served and self.net.draws[p].kind == "power"]  # fmt: skip
        flat = [p for p in self.island.draws
                if p in self.served and self.net.draws[p].kind == "current"]  # fmt: skip
        for _ in range(STEPS):
            try:
                found = self._linear(flat, curved, volts)
            except ValueError:
                return False
            across = {place: self._across(place, found) for place in (*flat, *curved)}
            if any(high_v <= 0.0 for high_v in across.values()):
                return False
            step = max((abs(across[p] / self._across(p, volts) - 1.0) for p in curved), default=0.0)
            volts = found
            if step <= SETTLED:
                self.volts = volts
                return True
        return False

    def _linear(
        self, flat: Sequence[int], curved: Sequence[int] = (), near_v: Sequence[float] = ()
    ) -> list[float]:
        """One linear solution, constant powers taken as straight lines near some voltages."""
        net, supplies, draws = self.net, self.island.supplies, self.island.draws
        right = [0.0] * self.matrix.size
        more: list[tuple[int, int, float]] = []
        for place, state in self.state.items():
            supply = net.supplies[place]
            if state == "voltage":
                push(right, *supplies[place], supply.emf_v / supply.ohm)
            elif state == "limit":
                push(right, *supplies[place], supply.limit_a)
        for place in flat:
            push(right, *draws[place], -net.draws[place].value)
        for place in curved:
            one, two = draws[place]
            value, high_v = net.draws[place].value, self._across(place, near_v)
            more.append((one, two, -value / high_v**2))
            push(right, one, two, -2.0 * value / high_v)
        return self.matrix.factor(self.at("voltage"), more).solve(right)

    def _across(self, place: int, volts: Sequence[float]) -> float:
        return across(volts, self.island.draws[place])


def _lifted(solver: Solver) -> list[int]:
    """The supplies at their limit up to whose voltage those above them lift the draws."""
    net = solver.net
    fed = [(place, solver._across(place, solver.idle_v)) for place in solver.served]
    limited = [(place, net.supplies[place]) for place in solver.at("limit")]
    found = []
    for place, supply in limited:
        given_a = sum(one.limit_a for _, one in limited if one.emf_v >= supply.emf_v)
        if given_a > sum(_drawn_a(net.draws[p], min(volts, supply.emf_v)) for p, volts in fed):
            found.append(place)
    return found


def _worst(solver: Solver) -> list[int]:
    """The draws to leave out: the one that sags most by itself, or all where that goes on."""
    fed = [p for p in solver.island.draws
           if p in solver.served and solver.net.draws[p].kind != "resistance"]  # fmt: skip
    if len(solver.collapsed) >= _TRIES:
        return fed
    return solver._sags.most(fed)


def _next(supply: Supply, state: str, given_a: float, slack_a: float) -> str:
    """A state is left only where it plainly ought to be, so that rounding changes none."""
    if state == "limit":
        return "limit" if given_a > supply.limit_a - slack_a else "voltage"
    if state == "blocked":
        return "blocked" if given_a < slack_a else "voltage"
    if given_a > supply.limit_a + slack_a:
        return "limit"
    return "blocked" if supply.one_way and given_a < -slack_a else "voltage"


def _drawn_a(draw: Draw, volts: float) -> float:
    """What a draw takes at some voltage [A]; a resistance lifts nothing."""
    if draw.kind == "power":
        return draw.value / volts
    return draw.value if draw.kind == "current" else 0.0


class _Sags:
    """How far each draw by itself would pull its voltage down, every supply holding its own."""

    def __init__(self, matrix: Matrix, net: Network, idle_v: Sequence[float]) -> None:
        self.matrix, self.net, self.idle_v = matrix, net, idle_v

    @cached_property
    def unlimited(self) -> Factor:
        """The matrix with every supply holding its voltage."""
        return self.matrix.factor(self.matrix.island.supplies)

    def most(self, draws: Sequence[int]) -> list[int]:
        """The draw that sags most, of those with the most watts; none where there are no draws."""
        heavy = sorted(draws, key=lambda place: -self._watts(place))
        shares = {place: self._share(place) for place in heavy[:_JUDGED]}
        return [max(shares, key=lambda place: shares[place])] if shares else []

    def _watts(self, place: int) -> float:
        draw = self.net.draws[place]
        idle_v = across(self.idle_v, self.matrix.island.draws[place])
        return draw.value * (1.0 if draw.kind == "power" else idle_v)

    def _share(self, place: int) -> float:
        """Share of its voltage without load that a draw alone would lose, taken as a line [-]."""
        ends = self.matrix.island.draws[place]
        right = [0.0] * self.matrix.size
        push(right, *ends, 1.0)
        ohm = across(self.unlimited.solve(right), ends)
        idle_v = across(self.idle_v, ends)
        return ohm * self._watts(place) / idle_v**2


def _is_held(matrix: Matrix, supplies: Iterable[int]) -> bool:
    """Whether some supplies with the wires hold every spot of the island."""
    try:
        matrix.factor(supplies)
    except ValueError:
        return False
    return True
