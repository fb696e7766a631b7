"""What solar modules put on the wires to their controller in bright sun, and what these lose."""

from collections.abc import Iterable, Iterator, Sequence

from rigfolio.books import Limit, are_one_system, charging_from_v, sun_figure
from rigfolio.demand.flows import Flows, flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device, Source
from rigfolio.network import Tree, Way, edge_name, is_guard
from rigfolio.operating import SizeOf, as_stated, copper_of, ways_of
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.units import show


def bright_need(study: Study, edge: Conductor | Device, flows: Flows | None = None) -> Limit | None:
    """What a wire, switch or fuse between modules and their controller is to be made for [A].

    A quarter more than the short-circuit current of all modules that drive through it, and for a
    fuse or breaker a quarter more than that again; both figures stand in the book with their
    source. None elsewhere, and where nothing is known to be driven through it.

    Parameters
    ----------
    study : Study
        The rig.
    edge : Conductor | Device
        The wire or device.
    flows : Flows | None
        What runs where, if not as the text says.
    """
    end = edge.a if isinstance(edge, Conductor) else edge.line
    given_a = (flows or flows_of(study)).charge_a(edge_name(edge)) if end in study.sunlit else 0.0
    if not given_a:
        return None
    if is_guard(edge):
        return bright_fuse_a(given_a)
    need = sun_figure("bright", "factor")
    return replace(need, value=given_a * need.value)


def bright_fuse_a(short_a: float) -> Limit:
    """The least rating of a fuse in the way of modules that give a current when shorted [A]."""
    more = sun_figure("string_fuse", "factor")
    return replace(more, value=short_a * sun_figure("bright", "factor").value * more.value)


@record
class UnderBattery:
    """An array whose volts at work lie, or may lie, below what a bank is charged from.

    `works_v` are those of its modules in their string [V]; where nobody has told them they lie
    between `least_v` and `most_v`, which are those with nothing on it. `from_v` is what the bank
    is charged from.
    """

    array: Source
    controller: Source
    bank: Source
    works_v: float | None
    least_v: float
    most_v: float
    from_v: Limit

    @property
    def is_sure(self) -> bool:
        """Whether nothing comes of it; else the volts at which the array works are not known."""
        return self.most_v < self.from_v.value


@once
def under_batteries(study: Study) -> tuple[UnderBattery, ...]:
    """Every array that gives too few volts, or may, for a bank that its controller charges.

    Controllers are taken to step down alone. Left out where the open-circuit volts are not known
    either, and for a bank of another system than the controller.
    """
    return tuple(
        found
        for controller in study.rig.sources
        if controller.lit is not None
        for tree in _trees_to(study, controller.lit)
        for bank in _charged_by(study, controller)
        if (found := _under(controller, tree.source, bank)) is not None
    )


def _charged_by(study: Study, controller: Source) -> Iterator[Source]:
    reached = study.net.walk([controller.plus])
    for bank in study.rig.sources:
        is_one = are_one_system(controller.voltage_v, bank.voltage_v)
        if bank.stores and is_one and bank.plus in reached:
            yield bank


def _under(controller: Source, array: Source, bank: Source) -> UnderBattery | None:
    from_v = charging_from_v(bank.chemistry, bank.voltage_v)
    modules, works_v = array.modules, _works_v(array) or None
    if modules is None or (works_v is None and isinstance(modules.open_v, Unknown)):
        return None
    open_v = 0.0 if isinstance(modules.open_v, Unknown) else modules.series * modules.open_v
    least_v = works_v or open_v * sun_figure("works", "share").value
    found = UnderBattery(array, controller, bank, works_v, least_v, works_v or open_v, from_v)
    return found if least_v < from_v.value else None


def given_a(study: Study, controller: Source, banks: Sequence[Source]) -> Limit | None:
    """What the modules of a controller let it give to some banks in full sun [A].

    Their watts less what heat and dust take; where an array does not tell its watts, no more than
    its short-circuit current; nothing of one that gives too few volts for each of them.
    None where no array is joined to it, or one tells neither.
    """
    if controller.lit is None:
        return None
    share = sun_figure("in_use", "share")
    arrays = [tree.source for tree in _trees_to(study, controller.lit)]
    low = too_few_volts(study, controller, banks)
    idle = {one.array.about.name for one in low if one.is_sure}
    into = [
        0.0 if array.about.name in idle else _into_bank_a(array, banks[0].voltage_v, share.value)
        for array in arrays
    ]
    known = [one_a for one_a in into if one_a is not None]
    return replace(share, value=sum(known)) if known and len(known) == len(into) else None


def too_few_volts(
    study: Study, controller: Source, banks: Sequence[Source]
) -> tuple[UnderBattery, ...]:
    """The arrays of a controller that give too few volts, or may, for each of some banks.

    Each once, with the bank that asks for least.
    """
    found: dict[str, list[UnderBattery]] = {}
    for one in under_batteries(study):
        if one.controller is controller and one.bank in banks:
            found.setdefault(one.array.about.name, []).append(one)
    return tuple(
        min(each, key=lambda one: one.from_v.value)
        for each in found.values()
        if len(each) == len(banks)
    )


def charging_nothing(study: Study, controller: Source) -> tuple[UnderBattery, ...]:
    """The arrays of a controller where for sure none has the volts for any bank that it charges.

    Empty where something may come of one of them.
    """
    if controller.lit is None:
        return ()
    low = too_few_volts(study, controller, tuple(_charged_by(study, controller)))
    idle = {one.array.about.name: one for one in low if one.is_sure}
    arrays = [tree.source.about.name for tree in _trees_to(study, controller.lit)]
    return tuple(idle.values()) if all(name in idle for name in arrays) else ()


def too_few_words(low: Iterable[UnderBattery]) -> str:
    """Which arrays are not counted, and why, behind what is told of their controller."""
    return "".join(
        f"; {one.array.about} is not counted, it has {show(one.most_v, 'V')}"
        f"{'' if one.works_v is None else ' at work'} and {one.bank.about} is charged from "
        f"{show(one.from_v.value, 'V')}"
        for one in low
    )


def _into_bank_a(array: Source, bank_v: float, share: float) -> float | None:
    modules = array.modules
    if modules is not None and modules.power_w and bank_v > 0.0:
        return modules.series * modules.parallel * modules.power_w * share / bank_v
    return array.limit_a if isinstance(array.limit_a, float) else None


@record
class SunDrop:
    """What is lost on the way from an array to a controller and back [V], by wire.

    `works_v` are the volts of the array at its greatest power [V], `amps` what it and all arrays
    beside it put on each of these wires then [A].
    """

    array: Source
    controller: Source
    works_v: float
    by_wire: tuple[tuple[Conductor, float], ...]
    amps: tuple[float, ...]

    @property
    def current_a(self) -> float:
        """The current of the array itself at its greatest power [A]."""
        return _works_a(self.array) or 0.0

    @property
    def lost_v(self) -> float:
        """What is lost in all [V]."""
        return sum(lost_v for _, lost_v in self.by_wire)

    @property
    def share(self) -> float:
        """What is lost of what the array gives at its greatest power [-]."""
        return self.lost_v / self.works_v

    @property
    def worst(self) -> tuple[Conductor, float]:
        """The wire that loses most, and what [V]."""
        return max(self.by_wire, key=lambda one: one[1])


@once
def sun_drops(study: Study) -> tuple[SunDrop, ...]:
    """The drop of every array of which watts and the volts at these are told.

    Left out where a length or a size is not known, where current has more than one way, and where
    an array beside it does not tell its watts.
    """
    return sun_drops_with(study, as_stated)


def sun_drops_with(study: Study, size_of: SizeOf) -> tuple[SunDrop, ...]:
    """As `sun_drops`, the wires of sizes on trial."""
    return tuple(
        drop
        for controller in study.rig.sources
        if controller.lit is not None
        for drop in _drops(study, controller, controller.lit, size_of)
    )


def _drops(
    study: Study, controller: Source, ends: tuple[str, str], size_of: SizeOf
) -> Iterator[SunDrop]:
    ways = [(tree.source, tree.way(tree.out, *ends)) for tree in _trees_to(study, ends)]
    carried: dict[str, float] = {}
    for array, way in ways:
        current_a = _works_a(array)
        if current_a is None or way.stretches:
            return
        for name in way.single:
            carried[name] = carried.get(name, 0.0) + current_a
    for array, way in ways:
        lost = tuple(_lost(study, way, carried, size_of))
        works_v = _works_v(array)
        if lost and works_v and all(lost_v is not None for _, lost_v in lost):
            by_wire = tuple((wire, lost_v or 0.0) for wire, lost_v in lost)
            amps = tuple(carried[wire.name] for wire, _ in lost)
            yield SunDrop(array, controller, works_v, by_wire, amps)


def _trees_to(study: Study, ends: tuple[str, str]) -> Iterator[Tree]:
    """The ways out and back of every array that drives into the input of a controller."""
    for tree in ways_of(study).trees:
        if tree.source.traits.by_light and ends[0] in tree.out and ends[1] in tree.back:
            yield tree


def _works_v(array: Source) -> float:
    """The volts of an array at its greatest power [V]; nothing where they are not told."""
    modules = array.modules
    return modules.series * (modules.works_v or 0.0) if modules is not None else 0.0


def _works_a(array: Source) -> float | None:
    """The current of an array at its greatest power [A]; None where that is not told."""
    modules = array.modules
    if modules is None or not modules.power_w or not modules.works_v:
        return None
    return modules.parallel * modules.power_w / modules.works_v


def _lost(
    study: Study, way: Way, carried: dict[str, float], size_of: SizeOf
) -> Iterator[tuple[Conductor, float | None]]:
    """What each wire of a way loses [V]; None where it is not known."""
    for edge in (*way.out, *way.back):
        if isinstance(edge, Conductor):
            current_a = carried[edge_name(edge)]
            ohm = copper_of(study).counted_ohm(edge, current_a, size_of(edge))
            yield edge, None if ohm is None else ohm * current_a
