"""Operating point of a direct-current network with loads of constant current, power, resistance."""

from collections.abc import Mapping, Sequence

from rigfolio.calc.grid import Converter, Draw, Grid, Network, Supply
from rigfolio.calc.island import SETTLED, STEPS, Solver
from rigfolio.calc.sparse import push
from rigfolio.record import record, replace

# What a supply gives is a small difference of voltages over a small resistance: rounding of the
# voltages, grown by a few steps of elimination, shows in it.
_ROUNDING = 1e-14


@record
class OperatingPoint:
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


def operating_point(network: Network, start_w: Sequence[float | None] = ()) -> OperatingPoint:
    """Voltages and currents that all parts of a network agree on.

    Loads of constant power are met by Newton steps from the voltages without load; these come down
    on the solution from above and stop being possible where there is none, so that a load which
    pulls the voltage to collapse is told from one that is merely starved. What a converter draws
    follows from what it gives, round by round.

    Parameters
    ----------
    network : Network
        Branches, supplies, draws and converters.
    start_w : Sequence[float | None], optional
        What each converter may be found to draw [W], None for one that may not run, as in a network
        that is nearly the same: the point is the same, found sooner.

    Returns
    -------
    OperatingPoint
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
    outputs = _outputs(network)
    if not outputs:
        return _with_all_that_can_run(network, start_w)
    whole = _with_all_that_can_run(_of_units(network, outputs), start_w)
    return _told_apart(network, outputs, whole)


def _outputs(network: Network) -> list[list[int]]:
    """The supplies of each unit that has several, by place."""
    held: dict[str, list[int]] = {}
    for place, supply in enumerate(network.supplies):
        if supply.unit:
            held.setdefault(supply.unit, []).append(place)
    return [places for places in held.values() if len(places) > 1]


def _of_units(network: Network, outputs: list[list[int]]) -> Network:
    """The network with one supply in each unit, from which valves lead to its outputs.

    The supply takes the place of the first output, whose valve is put last.
    """
    supplies = list(network.supplies)
    for number, places in enumerate(outputs):
        inside = network.nodes + number
        first = supplies[places[0]]
        for place in places:
            one = supplies[place]
            valve = Supply(one.plus, inside, 0.0, one.ohm, one_way=True)
            if place == places[0]:
                supplies.append(valve)
            else:
                supplies[place] = valve
        supplies[places[0]] = replace(first, plus=inside, one_way=True)
    return replace(network, nodes=network.nodes + len(outputs), supplies=tuple(supplies))


def _told_apart(
    network: Network, outputs: list[list[int]], point: OperatingPoint
) -> OperatingPoint:
    """The point of a network with units in it, told of their outputs."""
    count = len(network.supplies)
    supply_a = list(point.supply_a[:count])
    valve = {places[0]: count + number for number, places in enumerate(outputs)}
    at_limit = dict.fromkeys(point.at_limit)
    blocked = dict.fromkeys(place for place in point.blocked if place < count)
    for places in outputs:
        first = places[0]
        supply_a[first] = point.supply_a[valve[first]]
        blocked.pop(first, None)
        if valve[first] in point.blocked:
            blocked[first] = None
        if first in at_limit:
            at_limit |= dict.fromkeys(place for place in places if supply_a[place] > 0.0)
    return replace(
        point, volts=point.volts[: network.nodes], supply_a=tuple(supply_a),
        at_limit=tuple(sorted(at_limit)), blocked=tuple(sorted(blocked)),
    )  # fmt: skip


def _with_all_that_can_run(network: Network, start_w: Sequence[float | None]) -> OperatingPoint:
    """The point with every converter running whose input is alive and holds."""
    if not network.converters:
        return _Whole(network, frozenset()).point(network.draws)
    if start_w:
        pairs = zip(network.converters, start_w, strict=True)
        begun = tuple(one for one, watts in pairs if watts is not None)
        point, failed = _with_converters(network, begun, start_w)
        fed = (one for one in network.converters if _is_fed(point, network.draws[one.draw]))
        if not failed and tuple(fed) == begun:
            return point
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


def _is_fed(point: OperatingPoint, draw: Draw) -> bool:
    high, low = point.volts[draw.plus], point.volts[draw.minus]
    return high is not None and low is not None and high > low


def _with_converters(
    network: Network, running: tuple[Converter, ...], start_w: Sequence[float | None] = ()
) -> tuple[OperatingPoint, tuple[Converter, ...]]:
    """The point with some converters running, and those of them whose input gives way."""
    asleep = [one for one in network.converters if one not in running]
    idle = frozenset(one.supply for one in network.converters) - {one.supply for one in running}
    starts = start_w or [0.0] * len(network.converters)
    watts = {one.draw: each or 0.0 for one, each in zip(network.converters, starts, strict=True)}
    whole = _Whole(replace(network, draws=_drawing(network, watts)), idle)
    for _ in range(STEPS):
        point = whole.point(_drawing(network, watts))
        failed = tuple(one for one in running if one.draw in point.collapsed)
        if failed:
            return point, failed
        drawn = {one.draw: _watts_in(network, point, one) for one in running}
        drawn |= {one.draw: 0.0 for one in asleep}
        settled_w = SETTLED * 10.0 * max((*drawn.values(), 1.0))
        unsettled = [
            one
            for one in running
            if abs(drawn[one.draw] - watts[one.draw]) > settled_w + _rounding_w(network, point, one)
        ]
        watts = drawn
        if not unsettled:
            return point, ()
    return point, running


def _drawing(network: Network, watts: Mapping[int, float]) -> tuple[Draw, ...]:
    """The draws of a network, some of them of constant power [W], by place."""
    return tuple([
        Draw(draw.plus, draw.minus, "power", watts[place]) if place in watts else draw
        for place, draw in enumerate(network.draws)
    ])  # fmt: skip


def _watts_in(network: Network, point: OperatingPoint, one: Converter) -> float:
    supply, current_a = network.supplies[one.supply], point.supply_a[one.supply]
    high_v, low_v = point.volts[supply.plus] or 0.0, point.volts[supply.minus] or 0.0
    return max((high_v - low_v) * current_a, 0.0) / one.efficiency


def _rounding_w(network: Network, point: OperatingPoint, one: Converter) -> float:
    """How far off rounding may leave what a converter draws [W]."""
    most_v = max(abs(volts) for volts in point.volts if volts is not None)
    return _ROUNDING * most_v**2 / network.supplies[one.supply].ohm / one.efficiency


class _Whole:
    """A network without converters; supplies that are idle are not there.

    It is solved once for all draws, or again and again for other ones of the same ends and kinds.
    """

    def __init__(self, network: Network, idle: frozenset[int]) -> None:
        self.network = network
        self.kept = [place for place in range(len(network.supplies)) if place not in idle]
        some = tuple(network.supplies[place] for place in self.kept)
        self.grid = Grid(replace(network, supplies=some) if idle else network)
        self.solvers = [
            Solver(self.grid, number)
            for number, one in enumerate(self.grid.islands)
            if one.supplies
        ]

    def point(self, draws: tuple[Draw, ...]) -> OperatingPoint:
        """The point with some draws."""
        network, grid, kept = self.network, self.grid, self.kept
        spots: list[float | None] = [None] * grid.spots
        supply_a, draw_a = [0.0] * len(network.supplies), [0.0] * len(draws)
        branch_a, into_a = [0.0] * len(network.branches), [0.0] * network.nodes
        served: set[int] = set()
        for one in self.solvers:
            one.settle(draws)
            one.write(spots, branch_a, draw_a)
            served |= one.served
            for place, current_a in one.supply_currents():
                supply_a[kept[place]] = current_a
        for place, supply in enumerate(network.supplies):
            push(into_a, supply.plus, supply.minus, supply_a[place])
        for place, draw in enumerate(draws):
            push(into_a, draw.plus, draw.minus, -draw_a[place])
        grid.join_currents(branch_a, into_a)
        collapsed = {place for one in self.solvers for place in one.collapsed}
        return OperatingPoint(
            volts=tuple(spots[spot] for spot in grid.spot),
            branch_a=tuple(branch_a), supply_a=tuple(supply_a), draw_a=tuple(draw_a),
            collapsed=tuple(sorted(collapsed)),
            unserved=tuple(sorted(set(range(len(draws))) - served - collapsed)),
            at_limit=tuple(kept[place] for one in self.solvers for place in one.at("limit")),
            blocked=tuple(kept[place] for one in self.solvers for place in one.at("blocked")),
        )  # fmt: skip
