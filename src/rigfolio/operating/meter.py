"""What a meter would show in a rig, sound or with something wrong in it.

A scene is the rig in one state with some loads on. Loads are taken as the text says while they get
half of their voltage or more; below that even the cleverest of them stops regulating, and each
counts as the resistance that draws its stated current at its nominal voltage.
"""

from collections.abc import Mapping
from functools import cached_property
from typing import TypeAlias

from rigfolio.books import figure
from rigfolio.calc import Branch, Condensed, Draw, Network, OperatingPoint, Supply, operating_point
from rigfolio.isolation import Open
from rigfolio.model import Load
from rigfolio.network import ends
from rigfolio.operating.insides import untold_ohms
from rigfolio.operating.point import has_ohm, kept_point, standing, wiring_in
from rigfolio.operating.rest_volts import RestVolts
from rigfolio.operating.resting import worked
from rigfolio.operating.shown import NetPlaces, Shown
from rigfolio.operating.wrong import NOTHING_WRONG, Contacts, Wrong, coils_in, drawing, summed
from rigfolio.study import Study

_STARVED = 0.5
_ROUNDS = 4
_PROBE_V = 1.0
_PROBE_OHM = 1.0

Rest: TypeAlias = tuple[tuple[str, float], ...]
"""Sources by name, each with how far it is from the middle of where it may stand, as a part of how
far that may be off [-]; the others stand in the middle."""
Moved: TypeAlias = tuple[float, float, Rest]
_UNMOVED: Moved = (1.0, 1.0, ())
Grown: TypeAlias = tuple[tuple[int, float], ...]


class Scene:
    """A rig in a state, with some of its loads on.

    Parameters
    ----------
    study : Study
        The rig.
    opened : Open
        What is open and what is off; what rests open is closed for the loads that are on.
    on : frozenset[str]
        Names of the loads that are on.
    starting : tuple[tuple[str, float], ...]
        Names of the loads of these that are starting, and how many times what they draw in running
        they draw then [-].
    is_stated : bool
        Whether somebody says how the sources stand: then all run that are not off. Where nobody
        does, and none is said to be off, what charges is.
    uncharged : frozenset[str]
        Names of the banks that are said not to charge: they stand as they do at rest.
    said : frozenset[str], optional
        Names of the devices of which somebody says how they stand; as for `worked`.
    unsure : frozenset[str]
        Names of the sources that run of which nobody can know that.
    """

    def __init__(
        self, study: Study, opened: Open, on: frozenset[str],
        starting: tuple[tuple[str, float], ...] = (), *, is_stated: bool = False,
        uncharged: frozenset[str] = frozenset(), said: frozenset[str] | None = None,
        unsure: frozenset[str] = frozenset(),
    ) -> None:  # fmt: skip
        self.study, self.on, self.starting = study, on, dict(starting)
        is_open = not is_stated and opened.sources == frozenset()
        live = (standing(study, opened) if is_open else None) or _running(study, opened)
        self.opened = worked(study, opened, on, live, said)
        self.wiring = wiring_in(study, self.opened)
        self.branch_of = self.wiring.branch_of
        self.coils = coils_in(study, self.branch_of)
        self._given = self.wiring.network(
            on | drawing(study, self.coils, on, is_stated=is_stated), live
        )
        self.draw_of = {load.about.name: place for place, load in enumerate(self._given.loads)}
        self.supply_of = {s.about.name: place for place, s in enumerate(self._given.sources)}
        self._rest = RestVolts(
            study, self._given.sources, self.branch_of, is_charging=is_stated,
            uncharged=uncharged, unsure=unsure,
        )  # fmt: skip
        self._shown: dict[tuple[Wrong, float, float, Rest], tuple[Shown, Wrong]] = {}
        self._points: dict[tuple[object, ...], OperatingPoint] = {}
        self._ohms: dict[tuple[str, str, Wrong], float] = {}

    @cached_property
    def unknown(self) -> tuple[str, ...]:
        """Wires that count as without resistance, since size or length is not known."""
        wires = self.study.rig.conductors
        return tuple(wire.name for wire in wires if not has_ohm(wire))

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources that are on."""
        return tuple(source.about.name for source in self._given.sources)

    @cached_property
    def untold(self) -> Mapping[str, float | None]:
        """The batteries on that do not say what they have inside, with the most that is usual."""
        return untold_ohms(self._given.sources)

    def rest_share(self, source: str, wrong: Wrong = NOTHING_WRONG) -> tuple[float, float]:
        """What a source stands at as a share of its nominal voltage, and how far that may be off.

        Of a battery that is from half full to full, and more while it is charged.
        """
        rest = self._rest.under(self._whole(wrong))
        return rest.share(self._given.sources[self.supply_of[source]])

    def alike(self, source: str, wrong: Wrong = NOTHING_WRONG) -> frozenset[str]:
        """The sources that stand higher or lower together with one; none where it is off."""
        place = self.supply_of.get(source)
        if place is None:
            return frozenset()
        return self._rest.under(self._whole(wrong)).alike(self._given.sources[place])

    def _whole(self, wrong: Wrong) -> Wrong:
        """What is wrong, with the contacts that drop out for it."""
        return self._solution((wrong, *_UNMOVED))[1] if self.coils else wrong

    @cached_property
    def contacts(self) -> Contacts:
        """The contacts of relays that are closed here."""
        return Contacts(self.study, self.coils, self.solve())

    @cached_property
    def condensed(self) -> Condensed:
        """The network of the scene, reduced to the terminals at which something is on."""
        given = self._given
        joined = [end for each in given.supplies for end in (each.plus, each.minus)]
        joined += [end for each in given.draws for end in (each.plus, each.minus)]
        return Condensed(self.wiring.at_ambient, dict.fromkeys(joined))

    @cached_property
    def _places(self) -> NetPlaces:
        of = (self.wiring.node, self.condensed, self.branch_of, self.draw_of, self.supply_of)
        return NetPlaces(*of)

    def solve(
        self, wrong: Wrong = NOTHING_WRONG, *, emf: float = 1.0, load: float = 1.0,
        rest: Rest = (),
    ) -> Shown:  # fmt: skip
        """What stands where; kept, so that what is asked for again costs nothing.

        Parameters
        ----------
        wrong : Wrong
            What is wrong.
        emf, load : float
            Factor on the voltage of all sources, and on what all loads draw [-].
        rest : Rest
            How far sources are from the middle of where they may stand.
        """
        return self._solution((wrong, emf, load, rest))[0]

    def _solution(self, key: tuple[Wrong, float, float, Rest]) -> tuple[Shown, Wrong]:
        if key not in self._shown:
            self._shown[key] = self._dropped_out(key[0], key[1:])
        return self._shown[key]

    def _dropped_out(self, wrong: Wrong, moved: Moved) -> tuple[Shown, Wrong]:
        """What stands where once the contacts have opened whose coil does not hold them."""
        open_ohm = figure("joint", "open_ohm")
        whole, fallen = wrong, frozenset[str]()
        shown = self._with(wrong, whole, moved)
        while wrong != NOTHING_WRONG and (now := self.contacts.open_in(shown, wrong) - fallen):
            fallen |= now
            whole = wrong.plus(Wrong(ohm=tuple((edge, open_ohm) for edge in sorted(fallen))))
            shown = self._with(wrong, whole, moved)
        return shown, whole

    def _with(self, wrong: Wrong, whole: Wrong, moved: Moved) -> Shown:
        added = _added(self, whole)
        flipped = frozenset(
            (each.plus, each.minus)
            for each in self._given.loads
            if each.about.name in wrong.reversed_loads
        )
        point = self._point(wrong, added, self._rest.under(whole), moved)
        fallen = frozenset(edge for edge, _ in whole.ohm[len(wrong.ohm) :])
        return Shown(self._places, point, added, flipped, fallen)

    def _point(
        self, wrong: Wrong, added: Mapping[int, float], at: RestVolts, moved: Moved
    ) -> OperatingPoint:
        """The operating point; faults that come to the same on the same way share it.

        So do those of loads and sources that are off: they are no part of the network.
        """
        grown = self.condensed.grown(added)
        draws = tuple(each for each in wrong.draws if each[0] in self.draw_of)
        weak = tuple(each for each in wrong.emf if each[0] in self.supply_of)
        inner = tuple(each for each in wrong.inner_ohm if each[0] in self.supply_of)
        idle = frozenset(wrong.no_charge)
        key = (grown, draws, weak, inner, wrong.shunt_ohm, idle, at.amiss, moved)
        if key not in self._points:
            self._points[key] = self._settled(wrong, grown, at, moved)
        return self._points[key]

    def _settled(
        self, wrong: Wrong, grown: Grown, at: RestVolts, moved: Moved
    ) -> OperatingPoint:  # fmt: skip
        _, load, _ = moved
        supplies = _supplies(self, wrong, at, moved)
        draws = _draws(self, wrong, load)
        branches = self.condensed.branches(grown) + _shunts(self, wrong)
        # With nothing wrong there is no other point to start from.
        start_w = () if (wrong, moved) == (NOTHING_WRONG, _UNMOVED) else _sound_w(self)
        point = _solved(self, branches, supplies, draws, start_w)
        for _ in range(_ROUNDS):
            starved = _starved(self, point, draws)
            if not starved:
                break
            draws = tuple(
                _as_resistance(self, place, draw) if place in starved else draw
                for place, draw in enumerate(draws)
            )
            point = _solved(self, branches, supplies, draws, start_w)
        return point

    def ohms(self, a: str, b: str, wrong: Wrong = NOTHING_WRONG) -> float:
        """Resistance between two terminals of the dead rig, fuses and breakers out [ohm]."""
        key = (a, b, wrong)
        if key not in self._ohms:
            self._ohms[key] = _resistance_ohm(self, a, b, wrong)
        return self._ohms[key]

    def _nominal_v(self, load: Load) -> float:
        return self.study.nominal_v(load.plus)


def _solved(
    scene: Scene,
    branches: tuple[Branch, ...],
    supplies: tuple[Supply, ...],
    draws: tuple[Draw, ...],
    start_w: tuple[float | None, ...],
) -> OperatingPoint:
    number = scene.condensed.number
    supplied = tuple([
        Supply(number[one.plus], number[one.minus], one.emf_v, one.ohm, one.limit_a,
               one.one_way, one.unit)
        for one in supplies
    ])  # fmt: skip
    # What hangs behind an open joint is dead for a meter, a converter that stands by among it.
    standby_ohm = figure("standby", "input_ohm")
    idle = [Draw(draws[one.draw].plus, draws[one.draw].minus, "resistance", standby_ohm)
            for one in scene._given.converters]  # fmt: skip
    drawn = tuple([_renumbered(draw, number) for draw in (*draws, *idle)])
    net = Network(len(number), branches, supplied, drawn, scene._given.converters)
    return kept_point(net, start_w)


def _starved(scene: Scene, point: OperatingPoint, draws: tuple[Draw, ...]) -> frozenset[int]:
    found = []
    inputs = {converter.draw for converter in scene._given.converters}
    for place, (each, draw) in enumerate(zip(scene._given.loads, draws, strict=True)):
        if draw.kind == "resistance" or draw.value == 0.0 or place in inputs:
            continue
        number = scene.condensed.number
        high, low = point.volts[number[draw.plus]], point.volts[number[draw.minus]]
        has_v = (high - low) if high is not None and low is not None else 0.0
        if has_v < _STARVED * scene._nominal_v(each) or place in point.collapsed:
            found.append(place)
    return frozenset(found)


def _sound_w(scene: Scene) -> tuple[float | None, ...]:
    """What the input of each converter draws while nothing is wrong [W]; None if it is dead."""
    shown = scene.solve()
    inputs = [scene._given.loads[one.draw] for one in scene._given.converters]
    volts = [shown.between_v(one.plus, one.minus) for one in inputs]
    return tuple(
        shown.drawn_a(one.about.name) * has_v if has_v > 0.0 else None
        for one, has_v in zip(inputs, volts, strict=True)
    )


def _running(study: Study, opened: Open) -> frozenset[str]:
    return frozenset(source.about.name for source in study.rig.sources) - opened.sources


def _supplies(scene: Scene, wrong: Wrong, at: RestVolts, moved: Moved) -> tuple[Supply, ...]:
    emf, _, rest = moved
    weak, inner, off = dict(wrong.emf), summed(wrong.inner_ohm), dict(rest)
    made = []
    for source, supply in zip(scene._given.sources, scene._given.supplies, strict=True):
        name = source.about.name
        share, spread = at.share(source)
        volts = supply.emf_v * (share + off.get(name, 0.0) * spread) * emf * weak.get(name, 1.0)
        made.append(Supply(supply.plus, supply.minus, volts, supply.ohm + inner.get(name, 0.0),
                           supply.limit_a, supply.one_way or name in wrong.no_charge,
                           supply.unit))  # fmt: skip
    return tuple(made)


def _draws(scene: Scene, wrong: Wrong, load: float) -> tuple[Draw, ...]:
    shares = dict(wrong.draws)
    made = []
    for each, draw in zip(scene._given.loads, scene._given.draws, strict=True):
        name = each.about.name
        share = shares.get(name, 1.0) * scene.starting.get(name, 1.0) * load
        if share <= 0.0:
            made.append(_off(draw))
            continue
        value = draw.value / share if draw.kind == "resistance" else draw.value * share
        made.append(Draw(draw.plus, draw.minus, draw.kind, value))
    return tuple(made)


def _resistance_ohm(scene: Scene, a: str, b: str, wrong: Wrong) -> float:
    """Resistance between two terminals, as a meter finds it with its own small current [ohm]."""
    node, open_ohm = scene.wiring.node, figure("joint", "open_ohm")
    if a not in node or b not in node:
        return open_ohm
    added = _added(scene, wrong)
    for place, (name, edge) in enumerate(zip(scene.wiring.names, scene.wiring.edges, strict=True)):
        # In a dead rig no coil holds its contact.
        if getattr(edge, "protects", False) or name in scene.coils:
            added[place] = open_ohm
    draws = [
        _as_resistance(scene, place, draw)
        for place, draw in enumerate(_draws(scene, wrong, 1.0))
        if draw.value > 0.0
    ]
    shunts = tuple(Branch(node[one], node[two], ohm) for one, two, ohm in wrong.shunt_ohm)
    # A way beside all others, that of the open air, ties what else would float.
    draws.append(Draw(node[a], node[b], "resistance", open_ohm))
    kept = [end for draw in draws for end in (draw.plus, draw.minus)]
    kept += [end for shunt in shunts for end in (shunt.a, shunt.b)]
    condensed = Condensed(scene.wiring.at_ambient, dict.fromkeys(kept))
    number = condensed.number
    probe = Supply(number[node[a]], number[node[b]], _PROBE_V, _PROBE_OHM)
    branches = condensed.branches(condensed.grown(added))
    branches += tuple(Branch(number[one.a], number[one.b], one.ohm) for one in shunts)
    moved = tuple(_renumbered(draw, number) for draw in draws)
    point = operating_point(Network(len(number), branches, (probe,), moved))
    high, low = point.volts[probe.plus], point.volts[probe.minus]
    shown_v = (high or 0.0) - (low or 0.0)
    current_a = max(point.supply_a[0], _PROBE_V / open_ohm / 10.0)
    return max(shown_v / current_a, 0.0)


def _added(scene: Scene, wrong: Wrong) -> dict[int, float]:
    """The resistance that branches have more, by their place [ohm]."""
    added: dict[int, float] = {}
    for edge, ohm in wrong.ohm:
        place = scene.branch_of.get(edge)
        if place is not None:
            added[place] = added.get(place, 0.0) + ohm
    return added


def _shunts(scene: Scene, wrong: Wrong) -> tuple[Branch, ...]:
    """The ways beside all others, between terminals at which something is on."""
    node, number = scene.wiring.node, scene.condensed.number
    ends = ((number.get(node[a]), number.get(node[b]), ohm) for a, b, ohm in wrong.shunt_ohm)
    return tuple(Branch(a, b, ohm) for a, b, ohm in ends if a is not None and b is not None)


def _as_resistance(scene: Scene, place: int, draw: Draw) -> Draw:
    """A load that starves, as the resistance that draws its current at its nominal voltage."""
    each = scene._given.loads[place]
    if draw.kind == "resistance" or draw.value == 0.0:
        return draw
    volts = scene._nominal_v(each)
    ohm = volts / draw.value if draw.kind == "current" else volts**2 / draw.value
    return Draw(draw.plus, draw.minus, "resistance", ohm)


def _renumbered(draw: Draw, number: Mapping[int, int]) -> Draw:
    return Draw(number[draw.plus], number[draw.minus], draw.kind, draw.value)


def _off(draw: Draw) -> Draw:
    return Draw(draw.plus, draw.minus, "current", 0.0)


def edges_of(scene: Scene) -> Mapping[str, tuple[str, str]]:
    """The two terminals of every closed edge, by its name."""
    return dict(zip(scene.wiring.names, (ends(edge) for edge in scene.wiring.edges), strict=True))
