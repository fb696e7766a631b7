"""What must stay on, and whether it does in every state of the rig.

Only a battery is there at all times: a tow vehicle is coupled now and then, an alternator turns
while the engine does, a charger hangs on the shore cord and panels wait for the sun, so none of
them keeps anything on. A DC-DC converter does as long as its input is kept on and nobody can turn
it off unseen. A plug counts as open, and so does a relay that feeds more than its own load, unless
the state says that it is closed. The way back to the source counts as much as the way out.
What waits for a switch of its own, as brakes do for the pin of the breakaway switch, is to be fed
up to that switch: it must get current once that closes, and only then.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from rigfolio.books import KeptName, kept_by_name
from rigfolio.findings import Citation
from rigfolio.isolation.energised import Alive, Open, SourceReach, in_use, source_reach
from rigfolio.model import Circuit, Device, Load, Rig, Source
from rigfolio.network import edge_name, edges_of_device, ends, in_the_way, loose_ends, plug_pins
from rigfolio.record import record, replace
from rigfolio.study import Study, once
from rigfolio.wording import ALWAYS_ON, MUST_STAY_ON, NOT_ALWAYS_ON, load_words

if TYPE_CHECKING:
    from rigfolio.isolation.conditions import Condition

_UNRETURNED = frozenset({"return-unknown", "return-not-plain"})


@record
class Kept:
    """A load that must stay on: why, and the sources that surely keep it on in each state.

    `is_stated` is false where only its name tells; then the text should say `always on`, and
    `is_plain` tells whether that it goes dead is a danger all the same. `not_said` is what the text
    does not tell of its wiring, which may be what keeps it on. `cuts` are the devices that each
    cut it off alone; where there are none although nothing keeps it on, `only` are the sources
    that reach it at times. `starts` are the switches that it waits for, which count as closed, and
    `any_starts` tells whether each of several does by itself, as a float beside a hand switch; by
    its name it `waits` for one whether or not the text has it.
    """

    load: Load
    name: str
    why: str
    is_stated: bool
    is_plain: bool
    not_said: str
    on: tuple[tuple[str, ...], ...]
    states: tuple[str, ...]
    cuts: tuple[Device, ...] = ()
    only: tuple[Source, ...] = ()
    source: Citation | None = None
    starts: tuple[Device, ...] = ()
    any_starts: bool = False
    waits: bool = False

    @property
    def dead_in(self) -> tuple[str, ...]:
        """The states in which nothing surely keeps it on."""
        return tuple(name for name, by in zip(self.states, self.on, strict=True) if not by)


def must_stay_on(study: Study, states: "tuple[Condition, ...]" = ()) -> tuple[Kept, ...]:
    """The loads that must stay on, and what keeps them on in each state."""
    found = _kept(study.rig)
    if not found:
        return ()
    # Most rigs have nothing of the kind, and their check does not wait for the states.
    from rigfolio.isolation.states import states_of

    drive = source_reach(study)
    states = states or states_of(study, drive)
    controls = _controls(drive, found)
    shut = frozenset().union(*controls.values())
    keeping = tuple(_Keeping(drive, _steadily(drive, state, shut)) for state in states)
    loose = frozenset(study.net.walk(loose_ends(study.rig)))
    names = tuple(state.name for state in states)
    none = frozenset[str]()
    return tuple(
        replace(
            _told(drive, keeping, one, names, _not_said(study.rig, one.load, loose)),
            starts=tuple(
                device
                for device in study.rig.devices
                if edge_name(device) in controls.get(one.load.about.name, none)
            ),
            any_starts=_each_starts(
                drive, one.load, controls.get(one.load.about.name, frozenset())
            ),
            waits=one.waits_by_name,
        )
        for one in found
    )


@once
def _all_kept(study: Study) -> tuple[Kept, ...]:
    return must_stay_on(study)


def stay_words(study: Study, loads: Collection[str]) -> str:
    """What is printed of loads that must stay on: `ALWAYS ON` only of those that do in all states.

    Parameters
    ----------
    study : Study
        The rig.
    loads : Collection[str]
        Loads that must stay on, by name.
    """
    found = [one for one in _all_kept(study) if one.load.about.name in loads]
    dead = [one for one in found if one.dead_in]
    if any(not one.not_said or len(one.dead_in) < len(one.states) for one in dead):
        return NOT_ALWAYS_ON
    return ALWAYS_ON if found and not dead else MUST_STAY_ON


def stay_words_of(study: Study, circuits: Iterable[Circuit]) -> str:
    """The same of circuits; empty where the text says of none that it is always on."""
    always = [circuit for circuit in circuits if circuit.always_on]
    return stay_words(study, {name for one in always for name in one.loads}) if always else ""


def _not_said(rig: Rig, load: Load, loose: frozenset[str]) -> str:
    """What the text does not tell of the wiring of a load; empty where it tells all."""
    if {load.plus, load.minus} & loose:
        return "an end of its wiring is open in the text"
    if any(p.name == load.circuit and p.kind in _UNRETURNED for p in rig.problems):
        return "how it returns is not told"
    return ""


def kept_loads(rig: Rig) -> tuple[tuple[Load, str], ...]:
    """The loads that must stay on, each with the reason; by what is said, else by name."""
    return tuple((one.load, one.why) for one in _kept(rig))


def kept_names(rig: Rig) -> frozenset[str]:
    """The same by name."""
    return frozenset(one.load.about.name for one in _kept(rig))


@record
class _Asked:
    """A load that must stay on, and by what that is known."""

    load: Load
    name: str
    why: str
    named: KeptName | None

    @property
    def waits(self) -> bool:
        """Whether it stands still until a switch of its own starts it."""
        return self.waits_by_name or self.load.traits.pauses

    @property
    def waits_by_name(self) -> bool:
        """Whether its name tells that."""
        return self.named is not None and self.named.is_plain and self.named.keep.waits


@once
def _kept(rig: Rig) -> tuple[_Asked, ...]:
    labels = {circuit.place: circuit.label for circuit in rig.circuits}
    inlets = {source.inlet for source in rig.sources}
    found = []
    for load in rig.loads:
        named = None
        # What a converter is called tells what it serves: that is judged where it hangs.
        if load.about.name not in inlets:
            label = load.about.label or load.about.name
            named = kept_by_name(label, labels.get(load.circuit, ""))
        if load.always_on or named is not None:
            why = named.keep.what if named is not None else "said to be always on"
            why = why if load.always_on else f"{why}, by its name"
            found.append(_Asked(load, load_words(rig, load), why, named))
    return tuple(found)


class _Keeping:
    """What the sources that are always there keep on, some things open."""

    def __init__(self, drive: SourceReach, state: Open) -> None:
        self.drive = drive
        self.state = state
        self.sources = drive.rig.by_name.sources

    @cached_property
    def alive(self) -> Alive:
        """The sources that reach each terminal."""
        return self.drive.alive(self.state)

    @cached_property
    def backs(self) -> Mapping[str, frozenset[str]]:
        """The terminals that lead back to each source."""
        return {
            name: frozenset(self.drive.net.walk([source.minus], self.state.bars))
            for name, source in self.sources.items()
            if name not in self.state.sources
        }

    def on(self, plus: str, minus: str) -> tuple[str, ...]:
        """The sources that reach a load and that it comes back to."""
        return tuple(
            name
            for name in self.alive.get(plus, ())
            if minus in self.backs.get(name, ()) and self._is_fed(name)
        )

    def _is_fed(self, name: str) -> bool:
        """Whether what a converter draws comes back as well; true of all other sources."""
        if name not in self.drive.inputs:
            return True
        by = self.alive.get(self.drive.inputs[name], ())
        fed = self.sources[name].fed_by
        minus = fed[1] if fed is not None else ""
        return any(minus in self.backs.get(one, ()) for one in by if one != name)


def _steadily(drive: SourceReach, condition: "Condition", controls: frozenset[str]) -> Open:
    """A state with only what is surely closed, and only the sources that are always there."""
    from rigfolio.isolation.conditions import opened

    surely = opened(drive.rig, condition, surely=True)
    stated = {one.part for one in condition.settings if one.is_stated}
    more = {
        edge_name(device) for device in _unseen(drive.rig) if device.about.name not in stated
    }  # fmt: skip
    return Open(
        surely.edges - controls | more | plug_pins(drive.rig), surely.sources | _passing(drive)
    )


def _controls(drive: SourceReach, kept: Iterable[_Asked]) -> Mapping[str, frozenset[str]]:
    """The switches that start what waits: the pin of breakaway brakes, a float; as edges, by load.

    Each stands on the way from a battery, wherever that is written, and starts nothing that another
    circuit feeds: what turns off more than its own load is not there to start it. It rests open;
    within the circuit of its load that need not be said.
    """
    rig, net, apart = drive.rig, drive.net, in_use(drive.rig)
    waiting = [one for one in kept if one.waits]
    if not waiting:
        return {}
    resting = {edge_name(one) for one in rig.devices if one.rests_open}
    starts = [one for one in rig.devices if one.traits.starts_load and one.rests != "closed"]
    away = _passing(drive)
    there = [one for one in rig.sources if one.about.name not in away]
    posts = [one.plus for one in there], [one.minus for one in there]
    is_open = Open(apart.edges | plug_pins(rig)).bars
    found = {}
    for one in waiting:
        own = _within(rig, one.load.circuit)
        starters = {edge_name(each) for each in starts if own.issuperset(ends(each))} | {
            name for each in starts if (name := edge_name(each)) in resting
        }
        waits = Open(frozenset(starters)).bars
        way = frozenset().union(*(
            in_the_way(net, end, fed, waits=waits, is_open=is_open)
            for end, fed in zip((one.load.plus, one.load.minus), posts, strict=True)
        ))  # fmt: skip
        held = frozenset(edge for edge in way if not _serves_others(drive, one.load, edge))
        if held:
            found[one.load.about.name] = held
    return found


def _each_starts(drive: SourceReach, load: Load, switches: frozenset[str]) -> bool:
    """Whether each of several switches that start a load does so with the others left open."""
    apart, away = in_use(drive.rig).edges, _passing(drive)
    ways = (Open(apart | (switches - {one}), away) for one in switches)
    return len(switches) > 1 and all(_Keeping(drive, way).on(load.plus, load.minus) for way in ways)


def _within(rig: Rig, circuit: str) -> frozenset[str]:
    """The terminals that the wires of a circuit lead to."""
    wires = (wire for wire in rig.conductors if circuit and wire.circuit == circuit)
    return frozenset(end for wire in wires for end in ends(wire))


def _serves_others(drive: SourceReach, load: Load, edge: str) -> bool:
    """Whether a load of another circuit than that of a load is dead with a switch open."""
    apart, away = in_use(drive.rig).edges, _passing(drive)
    every, without = (_Keeping(drive, Open(cut, away)) for cut in (apart, apart | {edge}))
    return any(
        every.on(one.plus, one.minus) and not without.on(one.plus, one.minus)
        for one in drive.rig.loads if one.circuit and one.circuit != load.circuit
    )  # fmt: skip


def _passing(drive: SourceReach) -> frozenset[str]:
    """The sources that are there only at times, or of which nobody knows what feeds them."""
    return frozenset(
        source.about.name
        for source in drive.rig.sources
        if not source.stores and source.about.name not in drive.inputs
    )


def _unseen(rig: Rig) -> Iterator[Device]:
    """What a signal opens and cuts off a part of the rig with.

    One that rests closed does not. One that stands in the line of its own load does not either:
    that is how the load works.
    """
    own = set(_own_lines(rig))
    for device in rig.devices:
        traits = device.traits
        if traits.opened_by != "signal" or traits.joins_banks or device.rests == "closed":
            continue
        if not own & {device.line, device.load}:
            yield device


def _own_lines(rig: Rig) -> Iterator[str]:
    """The terminals of circuits behind their starts, of those that end at loads."""
    for circuit in rig.circuits:
        if circuit.loads:
            wires = (rig.by_name.conductors[name] for name in circuit.wires)
            yield from {end for wire in wires for end in ends(wire)} - {circuit.start}


def _told(
    drive: SourceReach, keeping: tuple[_Keeping, ...], one: _Asked, names: tuple[str, ...],
    not_said: str,
) -> Kept:  # fmt: skip
    load = one.load
    on = tuple(each.on(load.plus, load.minus) for each in keeping)
    cuts: tuple[Device, ...] = ()
    only: tuple[Source, ...] = ()
    if not all(on):
        open_in = [each.state for each, by in zip(keeping, on, strict=True) if not by]
        cuts = tuple(_cuts(drive, load, frozenset().union(*(one.edges for one in open_in))))
        if not cuts:
            at_times = _Keeping(drive, in_use(drive.rig)).on(load.plus, load.minus)
            only = tuple(s for s in drive.rig.sources if s.about.name in at_times and not s.stores)
    return Kept(
        load, one.name, one.why, load.always_on, one.named is not None and one.named.is_plain,
        not_said, on, names, cuts, only, one.named.keep.source if one.named else None,
    )  # fmt: skip


def _cuts(drive: SourceReach, load: Load, edges: frozenset[str]) -> Iterator[Device]:
    """The devices among some open ones that each cut a load off when all else is closed."""
    away = _passing(drive)
    # What waits for the engine keeps nothing on, although it may be fed.
    away |= {name for name in drive.inputs if name not in drive.passes_on}
    rest = in_use(drive.rig).edges
    if not _Keeping(drive, Open(rest, away)).on(load.plus, load.minus):
        return
    told = set()
    for device in drive.rig.devices:
        name = device.about.name
        if edge_name(device) not in edges or name in told:
            continue
        told.add(name)
        own = edges_of_device(drive.rig, name)
        if not _Keeping(drive, Open(own | rest, away)).on(load.plus, load.minus):
            yield device
