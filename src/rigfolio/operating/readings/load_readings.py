"""What is read with one load on: volts across it, its current, what holder and way back lose."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

from rigfolio.findings import Unknown
from rigfolio.isolation import Open, bank_joins, source_reach, unplugged
from rigfolio.model import Circuit, Load, Rig
from rigfolio.network import Stand, heaviest, stand_asked, stands_for, turns_in
from rigfolio.operating.coil_work import MOMENT, on_with, pressed_apart
from rigfolio.operating.draws import starts_lastingly
from rigfolio.operating.readings.bounds import LiveBounds
from rigfolio.operating.readings.probes import Probes
from rigfolio.operating.readings.test_points import MeterPoint, taken_words
from rigfolio.operating.resting import closed_by_hand
from rigfolio.operating.wrong import drawn_at
from rigfolio.record import replace
from rigfolio.study import Study
from rigfolio.units import time_words
from rigfolio.wording import in_a_row, load_words, turned_words


def taken(
    rig: Rig,
    points: Iterable[MeterPoint],
    on: Iterable[str],
    set_to: tuple[tuple[str, str], ...] = (),
    starting: Iterable[str] = (),
) -> tuple[MeterPoint, ...]:
    """Points with what is on while they are read, and how switches stand."""
    held, start = frozenset(on), frozenset(starting)
    words = taken_words(rig, held, set_to, start)
    return tuple(
        replace(one, taken=words, on=held, set_to=frozenset(set_to), starting=start)
        for one in points
    )


class LoadReadings:
    """The readings of single loads, and of the circuits that they are on."""

    def __init__(self, study: Study, live: LiveBounds, probes: Probes) -> None:
        self.study, self.rig = study, study.rig
        self.live, self.probes = live, probes

    @cached_property
    def alone(self) -> tuple[Load, ...]:
        """The loads that hang on no circuit and draw what is known, inputs of converters aside.

        What only a tow vehicle feeds is none of them.
        """
        inlets = {source.inlet for source in self.rig.sources}
        return tuple(
            load for load in self.rig.loads
            if not load.circuit and load.about.name not in inlets
            and not isinstance(load.value, Unknown) and load not in self.unfed
        )  # fmt: skip

    @cached_property
    def unfed(self) -> tuple[Load, ...]:
        """The loads that nothing feeds while a tow vehicle is away, and that it would feed."""
        away = unplugged(self.rig)
        if not away:
            return ()
        reach, parted = source_reach(self.study), Open(away | bank_joins(self.rig))
        with_it, without = (reach.alive(state) for state in (Open(parted.edges - away), parted))
        return tuple(
            one for one in self.rig.loads if one.plus in with_it and one.plus not in without
        )

    def with_one(self, load: Load) -> frozenset[str]:
        """What runs while one load is on, by name."""
        return self.running([load.about.name])

    def running(
        self, on: Iterable[str], opened: Open | None = None, *, kept_off: bool = True
    ) -> frozenset[str]:
        """What runs while some loads are on, by name: see `on_with`.

        None of what stays dead, nor of what no source reaches in a state that is `opened`. What
        goes into a converter is none: it follows from what comes out.
        """
        asked, loads = frozenset(on), self.rig.by_name.loads
        more = on_with(self.study, asked, kept_off=kept_off).on - asked
        if more and opened is not None:
            alive = source_reach(self.study).alive(opened)
            more = frozenset(name for name in more if loads[name].plus in alive)
        inlets = {source.inlet for source in self.rig.sources}
        return asked | {
            name for name in more - inlets if not self.live.stays_dead(loads[name].plus)
        }

    def is_read(self, load: Load) -> bool:
        """Whether a load does not stay dead, and it is known what it and what runs with it draw."""
        if self.live.stays_dead(load.plus):
            return False
        loads = self.rig.by_name.loads
        return not any(isinstance(loads[n].value, Unknown) for n in self.with_one(load))

    def of_load(
        self, circuit: Circuit, load: Load, stand: Stand = frozenset()
    ) -> Iterator[MeterPoint]:
        """Volts across a load of a circuit, its current, and what holder and return lose."""
        bounds = self.live.bounds(self.with_one(load), circuit.start, stand=stand)
        yield self.probes.across(bounds, load)
        device = self.study.device(circuit.device)
        if device is not None:
            yield self.probes.amps(bounds, device)
            yield self.probes.joint(device)
        back = self.probes.panel_minus(circuit)
        if back and back != load.minus and not bounds.is_open(load.minus, back):
            yield self.probes.drop(bounds, load.minus, back, "return, ")

    def across(self, load: Load) -> tuple[MeterPoint, ...]:
        """Volts across a load that hangs on no circuit, with it on, in each of its positions."""
        return tuple(point for stand in self.stands(load) for point in self._across(load, stand))

    def _across(self, load: Load, stand: Stand, start: str = "") -> tuple[MeterPoint, ...]:
        on = self.with_one(load)
        bounds = self.live.bounds(on, start or load.plus, stand=stand)
        return taken(self.rig, [self.probes.across(bounds, load)], on, _set_to(stand))

    def stands(self, load: Load) -> tuple[Stand, ...]:
        """The positions of switches in which a load is read that makes one of several ways."""
        return stands_for(self.rig, load) or (frozenset(),)

    def of_lone(self, load: Load, stand: Stand = frozenset()) -> Iterator[MeterPoint]:
        """The same of a load that hangs on no circuit, from the battery on."""
        bounds = self.live.bounds(self.with_one(load), load.plus, stand=stand)
        yield self.probes.across(bounds, load)
        yield self.probes.drawn(bounds, load)

    def from_bank(
        self, load: Load, *, out: bool, stand: Stand = frozenset()
    ) -> Iterator[MeterPoint]:
        """What is lost on the way back to the battery that serves a load, and out to it if asked.

        Where that is another battery as selectors stand, each of them by itself.
        """
        on = self.with_one(load)
        for one in self.live.banks_of(load):
            bounds = self.live.bounds_in(on, self.live.as_turned(one.opened, stand))
            ways = [(one.bank.plus, load.plus, "along ")] if out else []
            ways.append((load.minus, one.bank.minus, "return, "))
            points = (self.probes.drop(bounds, a, b, what) for a, b, what in ways if a != b)
            yield from taken(self.rig, points, on, (*one.set_to, *_set_to(stand)))

    def by_itself(self, load: Load, stand: Stand = frozenset()) -> tuple[MeterPoint, ...]:
        """All that is read with one load on; nothing where that stays dead or is not known.

        Switches that make one of several ways `stand` so.
        """
        if not self.is_read(load):
            return ()
        circuit = self.study.circuit(load.circuit)
        points = (
            self.of_lone(load, stand) if circuit is None else self.of_load(circuit, load, stand)
        )
        is_back_read = circuit is not None and bool(self.probes.panel_minus(circuit))
        return (
            *self.at_start(load, stand=stand),
            *taken(self.rig, points, self.with_one(load), _set_to(stand)),
            *(() if is_back_read else self.from_bank(load, out=circuit is None, stand=stand)),
        )

    def in_each(self, load: Load) -> Iterator[tuple[Stand, tuple[MeterPoint, ...]]]:
        """The same in each of the positions of switches in which it is fed."""
        yield from ((stand, self.by_itself(load, stand)) for stand in self.stands(load))

    def at_start(
        self, load: Load, on: frozenset[str] = frozenset(), stand: Stand = frozenset()
    ) -> tuple[MeterPoint, ...]:
        """Volts and amperes of a load while it starts, others on or none; none if it is too short.

        What starts for minutes is read before it runs: it draws many times as much till then, and
        its holder shows then what its contact is worth.
        """
        if not starts_lastingly(load) or isinstance(load.value, Unknown):
            return ()
        name, time_s = load.about.name, load.start_s or 0.0
        on = self.running(on | {name})
        bounds = self.live.bounds(on, load.plus, frozenset({name}), stand)
        words = f", while it starts for {time_words(time_s)}"
        points = [self.probes.across(bounds, load), self.probes.drawn(bounds, load)]
        circuit = self.study.circuit(load.circuit)
        device = self.study.device(circuit.device) if circuit is not None else None
        points += [self.probes.joint(device)] if device is not None else []
        points = [replace(one, words=f"{one.words}{words}") for one in points]
        return taken(self.rig, points, on, _set_to(stand), (name,))

    def of_circuit(self, circuit: Circuit) -> tuple[MeterPoint, ...]:
        """Volts across the largest load of a circuit with all of them on; at its start without.

        Coils with switches of their own are on one at a time: nobody presses up and down at once.
        """
        known = [self.rig.by_name.loads[name] for name in circuit.loads]
        known = list(filter(self.is_read, known))
        if not known:
            minus = self.probes.minus(circuit)
            bounds = self.live.bounds(frozenset(), circuit.start)
            points = [self.probes.volts(bounds, circuit.start, minus)] if minus else []
            return taken(self.rig, points, ())
        apart = pressed_apart(self.study, circuit)
        names = self.rig.by_name.loads
        turns = turns_in(self.rig, [one.about.name for one in known if one not in apart])
        groups = [[names[name] for name in turn] for turn in turns]
        groups += [[load] for load in known if load in apart]
        return tuple(point for group in groups for point in self._of_group(circuit, group))

    def _of_group(self, circuit: Circuit, loads: Sequence[Load]) -> Iterator[MeterPoint]:
        """Volts across the largest of some loads of a circuit with all of these on.

        Then across each that is fed in other positions of switches too, in each of these.
        """
        on = self.running(load.about.name for load in loads)
        stand = stand_asked(self.rig, on)
        bounds = self.live.bounds(on, circuit.start, stand=stand)
        largest = self.probes.across(bounds, max(loads, key=self.draws_a))
        for load in loads:
            yield from self.at_start(load, on, stand)[:1]
        yield from taken(self.rig, [largest], on, _set_to(stand))
        for load in loads:
            for other in self.stands(load):
                if not other <= stand:
                    yield from self._across(load, other, circuit.start)

    def most_a(self, load: Load) -> float:
        """What it draws for longer than a moment, its start with it where that lasts [A]."""
        return self.draws_a(load) * (load.times_at_start if starts_lastingly(load) else 1.0)

    def draws_a(self, load: Load) -> float:
        """What a load draws at the volts of its system [A]."""
        return drawn_at(load, self.study.nominal_v(load.plus))


def _set_to(stand: Stand) -> tuple[tuple[str, str], ...]:
    """How switches stand, as a log writes it."""
    return tuple(sorted(stand))


def running_together(
    singly: LoadReadings, circuits: Iterable[Circuit]
) -> tuple[frozenset[str], Load | None]:
    """Loads that run for hours with the largest one of the others, and that one.

    None of the coils that are never on at one time: see `pressed_apart`; of loads that a switch
    keeps from each other those that draw most. What a coil sets going runs with it: it is on as
    long as all of that may be, and as large as all of that.
    """
    held, loads = set[str](), singly.rig.by_name.loads
    for circuit in circuits:
        held |= {*circuit.loads} - {one.about.name for one in pressed_apart(singly.study, circuit)}
    known = dict[str, list[Load]]()
    for name in (one.about.name for one in singly.rig.loads if one.about.name in held):
        with_it = [loads[each] for each in singly.running([name], kept_off=False)]
        if singly.is_read(loads[name]) and not any(
            isinstance(one.value, Unknown) or one.traits.is_moment for one in with_it
        ):
            known[name] = with_it
    drawn = {name: sum(map(singly.draws_a, with_it)) for name, with_it in known.items()}
    steady, rest = set[str](), dict[str, float]()
    for name in (one for one in known if one in heaviest(singly.rig, known, drawn.__getitem__)):
        if all(one.traits.for_hours for one in known[name]):
            steady.add(name)
        elif any(one.traits.at_times for one in known[name]):
            rest[name] = drawn[name]
    largest = max(rest, key=lambda name: rest[name], default="")
    on = singly.running(steady | ({largest} if largest else set()), kept_off=False)
    return on, loads[largest] if largest else None


def together_words(
    rig: Rig, on: frozenset[str], largest: Load | None, alone: Iterable[Load]
) -> str:
    """What is on while all runs that can, and of the loads on no circuit what is not."""
    most = f" ({load_words(rig, largest)})" if largest is not None else ""
    off = in_a_row(
        load_words(rig, one)
        for one in alone
        if one.about.name not in on and not one.traits.is_moment
    )
    return (
        f"What runs for hours, and the largest of what runs now and then{most}. "
        f"{f'On no circuit, and off: {off}. ' if off else ''}Leave it on for a quarter of an hour, "
        "then feel every holder and terminal: warm is a bad joint: redo it."
    )


def on_words(study: Study, load: Load, stand: Stand) -> str:
    """A load that is on, and where switches stand for that."""
    turns = "".join(f", {words}" for words in turned_words(study.rig, stand))
    shut = "".join(f", {one.about} closed" for one in closed_by_hand(study, load, stand))
    return f"{load_words(study.rig, load)}{moment_words(load)}{turns}{shut}"


def moment_words(load: Load) -> str:
    """What is to be minded with a load that runs a moment, or starts for minutes."""
    if load.traits.is_moment:
        return MOMENT
    if not starts_lastingly(load) or load.start_s is None:
        return ""
    return f"; it starts for {time_words(load.start_s)}: read it while it does, then as it runs"
