"""Where to put the probes next: the one reading that tells the suspected faults apart best."""

import math
from collections.abc import Callable, Collection, Iterator, Sequence

from rigfolio.books import figure, is_overnight, meter_volt
from rigfolio.diagnosis.effort import How, effort
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.shows import drain_a
from rigfolio.diagnosis.spreads import DEVIATIONS
from rigfolio.diagnosis.verdicts import Diagnosis, Verdict, told_order
from rigfolio.model import Circuit, Source
from rigfolio.network import places_of, with_whole_returns
from rigfolio.operating import Rest, Scene, Wrong, edges_of
from rigfolio.record import record

_WORTH = 0.003
_MOST = 24
# Less than that is not worth a reading: it would be the next of many that tell next to nothing.
_LEAST_BITS = 0.1


@record
class ProbePlace:
    """Where a reading can be taken: from `a` to `b`; amperes in a circuit or load `a` alone."""

    how: How
    a: str
    b: str


@record
class Choice:
    """A reading from `a` to `b`, and how much it tells.

    `bits` is how much less is unknown afterwards, on average [bit]; `cost` is its work beside that
    of volts with the loads on at two places in the open [-].
    """

    how: How
    a: str
    b: str
    bits: float
    cost: float

    @property
    def worth(self) -> float:
        """Bits for the work of the reading."""
        return self.bits / self.cost


@record
class Prediction:
    """What a meter shows if a verdict is so: each figure is the network's, with that fault in it.

    `value` is shown at its likeliest amounts, `low` to `high` over all amounts that the readings
    leave open [V, A, ohm].
    """

    verdict: Verdict
    value: float
    low: float
    high: float


def next_reading(diagnosis: Diagnosis, skip: frozenset[ProbePlace] = frozenset()) -> Choice | None:
    """The reading that separates the verdicts best for its effort; None where none tells more.

    Parameters
    ----------
    diagnosis : Diagnosis
        What is suspected.
    skip : frozenset[ProbePlace]
        Readings that are not to be proposed, besides those that were taken.
    """
    telling = (one for one in choices(diagnosis, skip) if one.bits >= _LEAST_BITS)
    return next(telling, None)


def predictions(diagnosis: Diagnosis, choice: Choice) -> tuple[Prediction, ...]:
    """What a reading shows for each verdict that it may part, the likeliest first."""
    made = [_prediction(diagnosis, choice, one) for one in _held(diagnosis)]
    return tuple(sorted(made, key=lambda each: told_order(each.verdict)))


def _prediction(diagnosis: Diagnosis, choice: Choice, one: "_Held") -> Prediction:
    place = ProbePlace(choice.how, choice.a, choice.b)
    scene = _scene_of(place, diagnosis)
    best = _only(diagnosis, one.verdict)[1:]
    shown = [_shown(place, scene, diagnosis, (one, *way))
             for way in dict.fromkeys((best, *(way[1:] for way in one.ways)))]  # fmt: skip
    if choice.how == "ohms":
        shown = [math.exp(each) for each in shown]
    return Prediction(one.verdict, shown[0], min(shown), max(shown))


def choices(diagnosis: Diagnosis, skip: frozenset[ProbePlace] = frozenset()) -> tuple[Choice, ...]:
    """All readings that could be taken, the most telling for their effort first."""
    held = _held(diagnosis)
    if len(held) < 2:
        return ()
    done = frozenset(_taken(diagnosis)) | skip
    study, open_share = diagnosis.evidence.study, _emf_share(diagnosis)
    found = places_of(study.rig)

    # What empties with nothing on is looked for so: for other readings all is switched on.
    is_dark = any(is_overnight(one.reading.text) for one in diagnosis.evidence.symptoms)
    loads_on = figure("effort", "loads_on") if is_dark else 1.0

    def cost_of(place: ProbePlace) -> float:
        work = effort(study, place.how, place.a, place.b)
        return work * loads_on if place.how in ("volts", "amperes") else work

    made = [
        _choice(
            place,
            _cells(place, diagnosis, held),
            held,
            open_share,
            cost_of,
            is_drop=_is_drop(place, diagnosis),
        )
        for place in dict.fromkeys(_places(diagnosis, held))
        if not place.b or {place.a, place.b} <= found
        if place not in done and ProbePlace(place.how, place.b, place.a) not in done
    ]
    return tuple(sorted(made, key=lambda one: (-round(one.worth, 4), one.how, one.a, one.b)))


@record
class _Held:
    """A verdict, its share, and what is wrong by weight of amount, with where the sources stand."""

    verdict: Verdict
    share: float
    ways: tuple[tuple[float, Wrong, Rest], ...]


@record
class _Outcome:
    """What a reading shows for one of the verdicts that are held, and how likely that is."""

    place: int
    share: float
    shown: float


def _held(diagnosis: Diagnosis) -> tuple[_Held, ...]:
    fit = diagnosis.evidence.fit
    likely = [one for one in diagnosis.verdicts if one.share >= _WORTH and one.touches][:_MOST]
    held: list[_Held] = []
    for one in likely:
        ways = [
            (weight, trial.wrong, _stands(diagnosis, trial.wrong, fit.stand_at(trial.expected)))
            for weight, trial in one.trials if weight > 0.01
        ]  # fmt: skip
        held.append(_Held(one, one.share, tuple(ways) or (_only(diagnosis, one),)))
    # What is left is told as nothing wrong where these readings were taken.
    rest = 1.0 - sum(one.share for one in likely)
    sound = next((v for v in diagnosis.verdicts if v.faults[0].kind == "nothing"), None)
    if sound is not None and rest > _WORTH:
        held.append(_Held(sound, rest, (_only(diagnosis, sound),)))
    return tuple(held)


def _only(diagnosis: Diagnosis, verdict: Verdict) -> tuple[float, Wrong, Rest]:
    wrong = verdict.wrong
    return 1.0, wrong, _stands(diagnosis, wrong, verdict.levels)


def _stands(diagnosis: Diagnosis, wrong: Wrong, levels: Sequence[float]) -> Rest:
    """Where the sources stand while the next reading is taken."""
    evidence = diagnosis.evidence
    return evidence.levels.rest(wrong, levels)[evidence.onward.place]


def _taken(diagnosis: Diagnosis) -> Iterator[ProbePlace]:
    evidence = diagnosis.evidence
    for probe in evidence.numeric:
        measure = probe.reading.measure
        if measure == "resistance":
            yield ProbePlace("ohms", probe.a, probe.b)
        elif measure == "current":
            is_bank = probe.reading.kind == "source" and probe.reading.on == ()
            how: How = "amperes at rest" if is_bank else "amperes"
            yield ProbePlace(how, probe.reading.part, "")
        else:
            is_rest = probe.reading.on == ()
            yield ProbePlace("volts at rest" if is_rest else "volts", probe.a, probe.b)
            if is_rest and not evidence.onward.scene.on:
                yield ProbePlace("volts", probe.a, probe.b)


def _places(diagnosis: Diagnosis, held: Sequence[_Held]) -> Iterator[ProbePlace]:
    """Along the way of what is suspected and across each part of it; the sources; the circuits."""
    evidence = diagnosis.evidence
    rig, side = evidence.study.rig, evidence.study.side
    edges = edges_of(evidence.onward.scene)
    whole = {wire.name: wire for wire in with_whole_returns(rig).conductors if wire.assumed}
    circuits = {fault.circuit for one in held for fault in one.verdict.faults if fault.circuit}
    named = {fault.name for one in held for fault in one.verdict.faults}
    named |= {wire.name for wire in rig.conductors if wire.circuit in circuits}
    for name in sorted(named & edges.keys()):
        # A return that is assumed is read from its load to where it lands.
        a, b = (whole[name].a, whole[name].b) if name in whole else edges[name]
        for end in (a, b):
            minus = evidence.minus_of(end) if side.get(end) == "+" else None
            if minus is not None:
                yield ProbePlace("volts", end, minus)
        yield ProbePlace("volts", a, b)
    for bank in {fault.bank for one in held for fault in one.verdict.faults if fault.bank}:
        yield ProbePlace("amperes at rest", bank, "")
    # What is burnt through has the same volts before and behind it.
    through = {fault.through for one in held for fault in one.verdict.faults} - {("", "")}
    yield from (ProbePlace("volts", *ends) for ends in sorted(through))
    for source in rig.sources:
        yield from _at_source(evidence, source, is_named=source.about.name in named)
    is_loaded = bool(evidence.onward.scene.on)
    if is_loaded:
        yield from _behind_shorts(diagnosis, held)
    for circuit in rig.circuits:
        if circuit.place in circuits and is_loaded:
            yield ProbePlace("amperes", circuit.place, "")
            yield from _halves(diagnosis, circuit)
            # Loads that share a wire are told apart at their leads.
            shared = circuit.loads if len(circuit.loads) > 1 else ()
            yield from (ProbePlace("amperes", name, "") for name in shared if name in named)


def _at_source(evidence: Evidence, source: Source, *, is_named: bool) -> Iterator[ProbePlace]:
    if source.stores:
        yield ProbePlace("volts", source.plus, source.minus)
        if evidence.onward.scene.on and is_named:
            yield ProbePlace("volts at rest", source.plus, source.minus)
    elif evidence.running and is_named:
        yield from _charging(evidence, source)


def _charging(evidence: Evidence, source: Source) -> Iterator[ProbePlace]:
    """What a charger gives, and all that is lost from it to a bank and back again."""
    yield ProbePlace("amperes", source.about.name, "")
    yield ProbePlace("volts", source.plus, source.minus)
    of = evidence.study.rig.by_name.sources
    for bank in (of[name] for name in sorted(evidence.uncharged)):
        yield ProbePlace("volts", source.plus, bank.plus)
        yield ProbePlace("volts", source.minus, bank.minus)


def _halves(diagnosis: Diagnosis, circuit: Circuit) -> Iterator[ProbePlace]:
    """All that is lost on the way out, and all on the way back, read with one long lead each."""
    evidence = diagnosis.evidence
    minus = evidence.minus_of(circuit.start)
    reached = evidence.study.net.walk([circuit.start], evidence.onward.scene.opened.bars)
    for source in evidence.study.rig.sources:
        # A bank that stands aside has a state of its own: only one that feeds is read against.
        feeds = evidence.onward.sound.given_a(source.about.name) > 0.0
        if source.stores and feeds and source.plus in reached:
            yield ProbePlace("volts", source.plus, circuit.start)
            if minus is not None and minus != source.minus:
                yield ProbePlace("volts", minus, source.minus)


def _behind_shorts(diagnosis: Diagnosis, held: Sequence[_Held]) -> Iterator[ProbePlace]:
    """The ohms of what hangs behind the fuses that a short may have opened."""
    evidence = diagnosis.evidence
    faults = [fault for one in held for fault in one.verdict.faults if fault.kind == "short"]
    for name in dict.fromkeys(fault.name for fault in faults):
        device = evidence.study.device(name)
        minus = evidence.minus_of(device.load) if device is not None else None
        if device is not None and minus is not None:
            yield ProbePlace("ohms", device.load, minus)


def _cells(place: ProbePlace, diagnosis: Diagnosis, held: Sequence[_Held]) -> tuple[_Outcome, ...]:
    """What the reading shows by verdict and amount; what no meter tells apart stands together."""
    scene = _scene_of(place, diagnosis)
    is_drop = _is_drop(place, diagnosis)
    made: dict[tuple[int, int], list[float]] = {}
    # All amounts of one fault stand on one bank, in whatever state that is: it parts none of them.
    open_share = figure("spread", "emf_read_share")
    for at, one in enumerate(held):
        whole = sum(weight for weight, _, _ in one.ways)
        for weight, wrong, rest in one.ways:
            shown = _shown(place, scene, diagnosis, (one, wrong, rest))
            near = round(shown / (0.5 * _spread(place.how, shown, open_share, is_drop=is_drop)))
            cell = made.setdefault((at, near), [0.0, shown])
            cell[0] += one.share * weight / whole
    return tuple(_Outcome(at, share, shown) for (at, _), (share, shown) in made.items())


def _scene_of(place: ProbePlace, diagnosis: Diagnosis) -> Scene:
    """The rig as it stands while a reading is taken."""
    evidence = diagnosis.evidence
    if place.how in ("volts at rest", "amperes at rest"):
        return evidence.scene(evidence.onward.standing, frozenset())
    return evidence.onward.scene


def _shown(
    place: ProbePlace, scene: Scene, diagnosis: Diagnosis, of: tuple[_Held, Wrong, Rest]
) -> float:
    """What the meter shows [V, A]; ohms by their logarithm."""
    one, wrong, rest = of
    evidence = diagnosis.evidence
    if place.how == "ohms":
        for fault in one.verdict.faults:
            wrong = evidence.shows.dead(fault, wrong)
        return math.log(max(scene.ohms(place.a, place.b, wrong), 0.02))
    shown = scene.solve(wrong, load=evidence.draws[0], rest=rest)
    if place.how == "amperes at rest":
        drained_a = (drain_a(fault, scene) for fault in one.verdict.faults if fault.bank == place.a)
        return shown.given_a(place.a) + sum(drained_a)
    if place.how == "amperes":
        circuit = evidence.study.circuit(place.a)
        if circuit is None and place.a in evidence.study.rig.by_name.sources:
            return shown.given_a(place.a)
        if circuit is None:
            return shown.drawn_a(place.a)
        return shown.current_a(circuit.device or circuit.wires[0])
    return shown.between_v(place.a, place.b)


def _choice(
    place: ProbePlace, cells: Sequence[_Outcome], held: Sequence[_Held],
    open_share: float,
    cost_of: Callable[[ProbePlace], float], *, is_drop: bool = False,
) -> Choice:  # fmt: skip
    """How much a reading tells of what is to be mended: what is unknown before it less after it."""
    whole_share = sum(cell.share for cell in cells)
    cures = [one.verdict.cures for one in held]
    bits = 0.0
    spread = [_spread(place.how, cell.shown, open_share, is_drop=is_drop) for cell in cells]
    for cell, own in zip(cells, spread, strict=True):
        likely: dict[tuple[tuple[str, str], ...], float] = {}
        for other, wide in zip(cells, spread, strict=True):
            off = (cell.shown - other.shown) / math.hypot(own, wide)
            if -6.0 < off < 6.0:
                part = other.share * math.exp(-0.5 * off * off)
                likely[cures[other.place]] = likely.get(cures[other.place], 0.0) + part
        bits += cell.share * _unknown_bits(likely.values())
    before: dict[tuple[tuple[str, str], ...], float] = {}
    for one in held:
        before[one.verdict.cures] = before.get(one.verdict.cures, 0.0) + one.share
    gain = max(_unknown_bits(before.values()) - bits / whole_share, 0.0)
    return Choice(place.how, place.a, place.b, gain, cost_of(place))


def _unknown_bits(shares: Collection[float]) -> float:
    """What is unknown while several things have some shares [bit]."""
    whole = sum(shares)
    return -sum(p / whole * math.log2(p / whole) for p in shares if p > 0.0)


def _is_drop(place: ProbePlace, diagnosis: Diagnosis) -> bool:
    """Whether volts that sound joints take, too, are read with something flowing."""
    side = diagnosis.evidence.study.side
    return place.how == "volts" and side.get(place.a) == side.get(place.b)


def _spread(how: How, shown: float, emf_share: float, *, is_drop: bool = False) -> float:
    """What the meter, the loads and the state of the battery leave open of a reading [V, A].

    Of a drop so do the joints that are as they should be.
    """
    if how == "ohms":
        return math.log(figure("spread", "ohm_factor"))
    if how in ("amperes", "amperes at rest"):
        own = figure("meter", "share") * abs(shown) + figure("meter", "ampere")
        return math.hypot(own, figure("spread", "load_share") * abs(shown))
    own = math.hypot(meter_volt(0.0, fine=abs(shown) < 1.0), 0.5 * figure("meter", "share") * shown)
    if is_drop:
        own = math.hypot(own, figure("sound", "joint_volt") / DEVIATIONS)
    elif abs(shown) <= figure("stray", "volt"):
        own = math.hypot(own, figure("stray", "volt") / DEVIATIONS)
    return math.hypot(own, emf_share * abs(shown))


def _emf_share(diagnosis: Diagnosis) -> float:
    """What is open of the state of the batteries, once volts have been read against a minus [-]."""
    side = diagnosis.evidence.study.side
    is_read = any(
        probe.reading.measure == "voltage" and side.get(probe.a) != side.get(probe.b)
        for probe in diagnosis.evidence.numeric
    )
    return figure("spread", "emf_read_share" if is_read else "emf_share")
