"""Rigs with a part at fault, and what their owner and a meter that errs make of it."""

import random
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import exp, hypot, log, prod
from typing import TypeAlias

from rigfolio.books.trade.diagnosis import figure, meter_volt
from rigfolio.diagnosis.amounts import amount_at
from rigfolio.diagnosis.choice import Choice
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.suspects import Suspect, suspects
from rigfolio.diagnosis.verdicts import Diagnosis, Verdict
from rigfolio.findings import Span
from rigfolio.model.graph import Load
from rigfolio.model.reading import Measure, Reading, Symptom
from rigfolio.operating import NOTHING_WRONG, Scene, Wrong, edges_of
from rigfolio.operating.point import wire_ohm
from rigfolio.study import Study

STANDING = ("", ())
_SERIES = ("joint", "contact")
_OF_LOAD = ("overload", "stuck load", "dead load", "reversed")
_BLOWS = ("short", "chafed", "stuck load")
_LOOKED = 0.5
"""How often who finds a load dead behind a blown fuse has looked at the fuse (an estimate) [-]."""
_SHOWS = 0.05
"""What a fault takes of the volts at a load before anybody complains [-]."""
_AmountOf: TypeAlias = "Callable[[Scenes, Load, Suspect, random.Random], float | None]"


class Case:
    """A fault of some amount, and the load that its owner finds it by."""

    def __init__(self, load: Load, suspect: Suspect, amount: float) -> None:
        self.load, self.suspect, self.amount = load, suspect, amount


def _rest(scene: Scene, wrong: Wrong, chance: random.Random) -> Iterator[tuple[str, float]]:
    """Where all that is on stands: banks that are still joined at the same, all else by itself."""
    for names in dict.fromkeys(scene.alike(name, wrong) for name in scene.sources):
        off = chance.gauss(0.0, 0.5)
        yield from ((name, off) for name in sorted(names))


class Truth:
    """A rig with something wrong, its battery, loads and meter as they happen to be."""

    def __init__(self, scenes: Scenes, case: Case, chance: random.Random) -> None:
        self.scenes, self.case, self.load, self.chance = scenes, case, case.load, chance
        circuit = scenes.study.circuit(case.load.circuit)
        assert circuit is not None
        self.circuit = circuit
        self.faults = [(case.suspect, case.amount)]
        self.scene = scenes.of(STANDING, frozenset(circuit.loads))
        # What a chart or a maker states as a limit is taken for two deviations.
        self.rest = tuple(_rest(self.scene, case.suspect.wrong(case.amount), chance))
        self.draws = max(chance.gauss(1.0, figure("spread", "load_share")), 0.5)
        self.gain = 1.0 + chance.gauss(0.0, figure("meter", "share") / 2.0)
        # Two digits of the last place, some of them the same in all readings of a day.
        self.offset = chance.gauss(0.0, 0.5)
        self.wrong = self.dead = NOTHING_WRONG
        self.evidence = Evidence(scenes.study, [_told(self.load.about.name, "dead")], scenes)
        for suspect, amount in self.faults:
            one = suspect.wrong(amount)
            self.wrong = self.wrong.plus(one)
            self.dead = self.dead.plus(self.evidence.shows.dead(suspect, one))
        self.wrong = self.wrong.plus(_longer(scenes.study, chance))
        if case.suspect.kind == "overload":
            # A little more than a load that draws little is what it should draw.
            self.draws = max(self.draws, 1.0)
        self.weight = prod(suspect.weight for suspect, _ in self.faults)
        self.at_load_v = self.volts(self.load.plus, self.load.minus)
        self.symptom = self._symptom(self.at_load_v)

    def volts(self, a: str, b: str, *, at_rest: bool = False) -> float:
        """Volts between two terminals as the meter shows them."""
        scene = self.scenes.of(STANDING, frozenset()) if at_rest else self.scene
        return self.shown_v(
            scene.solve(self.wrong, rest=self.rest, load=self.draws).between_v(a, b)
        )

    def shown_v(self, volts: float) -> float:
        digit = 0.001 if abs(volts) < 1.0 else 0.01
        noise = self.offset + self.chance.gauss(0.0, 0.8)
        return round(round((volts * self.gain) / digit + noise) * digit, 3)

    def read(self, choice: Choice) -> Reading:
        """The reading that was asked for, as it would be written down."""
        if choice.how == "amperes":
            shown = self.scene.solve(self.wrong, rest=self.rest, load=self.draws)
            is_load = self.scenes.study.circuit(choice.a) is None
            if is_load:
                ampere = shown.drawn_a(choice.a)
            else:
                ampere = shown.current_a(self.circuit_of(choice.a))
            ampere *= 1.0 + self.chance.gauss(0.0, 0.01)
            ampere += self.chance.gauss(0.0, figure("meter", "ampere") / 2.0)
            kind = "load" if is_load else "circuit"
            return _reading("current", choice.a, "", round(max(ampere, 0.0), 2), kind=kind)
        if choice.how == "ohms":
            ohm = self.scene.ohms(choice.a, choice.b, self.dead)
            ohm *= exp(self.chance.gauss(0.0, log(figure("spread", "ohm_factor"))))
            return _reading("resistance", choice.a, choice.b, round(ohm, 1))
        at_rest = choice.how == "volts at rest"
        value = self.volts(choice.a, choice.b, at_rest=at_rest)
        return _reading("voltage", choice.a, choice.b, value, on=() if at_rest else None)

    def overdrawn(self) -> bool:
        """Whether the fuse of the circuit carries more than it is rated for."""
        device = self.scenes.study.device(self.circuit.device)
        shown = self.scene.solve(self.wrong, rest=self.rest, load=self.draws)
        rating = device.rating_a if device else None
        over = any(s.kind == "overload" for s, _ in self.faults)
        ampere = shown.current_a(self.circuit_of(self.circuit.place))
        return over and isinstance(rating, float) and ampere > 1.1 * rating

    def circuit_of(self, place: str) -> str:
        circuit = self.scenes.study.circuit(place)
        assert circuit is not None
        return circuit.device or circuit.wires[0]

    def first(self, *, is_read: bool) -> list[Reading]:
        """What the owner sees; volts at the load too, where asked for or where nothing is seen."""
        load, value = self.load, self.at_load_v
        read = _reading("voltage", load.plus, load.minus, value, part=load.about.name, kind="load")
        told = _told(load.about.name, self.symptom)
        return [told, read] if is_read or self.symptom == "works" else [told]

    def _symptom(self, value: float) -> Symptom:
        """What an owner says: of the fuse who has looked at it, else of the load."""
        kind = self.faults[0][0].kind
        blows = kind in _BLOWS or self.overdrawn()
        if blows and self.chance.random() < _LOOKED:
            return "blows"
        is_fuse = kind == "open device" and bool(self.faults[0][0].circuit)
        if is_fuse and self.chance.random() < figure("seen", "aged"):
            return "tripped"
        if kind == "overload" and not blows and self.chance.random() < figure("seen", "labours"):
            return "slow"
        share = value / self.scenes.study.volts.get(self.load.plus, self.scenes.study.rig.system_v)
        is_off = kind in ("dead load", "reversed") or share < figure("seen", "dead_share")
        state = "dead" if is_off else "dim" if share < figure("seen", "dim_share") else "works"
        return self._mistaken(state)

    def _mistaken(self, state: str) -> Symptom:
        """What is said of a load in some state: dead for dim now and then, seldom dead for well."""
        sure, chance = figure("seen", "sure"), figure("seen", "chance")
        near = (1.0 - sure) / 2.0 + chance
        words: tuple[Symptom, ...] = ("dead", "dim", "works")
        weights = {"dead": (sure, near, chance), "dim": (near, sure, near)}
        return self.chance.choices(words, weights.get(state, (chance, chance, sure)))[0]


def _longer(study: Study, chance: random.Random) -> Wrong:
    """Wires that were paced out, joints and all: longer or shorter than the text says."""
    off = figure("spread", "drop_share")
    found = ((w.name, wire_ohm(study, w, 30.0)) for w in study.rig.conductors)
    return Wrong(
        ohm=tuple((name, ohm * max(chance.gauss(0.0, off), -0.5)) for name, ohm in found if ohm)
    )


def _told(load: str, symptom: Symptom) -> Reading:
    return Reading("symptom", load, "load", "", "", 0.0, symptom, None, "", "", Span("", 0, 0), "")


def _reading(
    measure: Measure, a: str, b: str, value: float, *,
    part: str = "", kind: str = "terminal", on: tuple[str, ...] | None = None,
) -> Reading:  # fmt: skip
    name = part or (f"{a} to {b}" if b else a)
    return Reading(
        measure, name, kind, a, b, value, "", on, "", "", Span("", 0, 0), "",  # type: ignore[arg-type]
    )  # fmt: skip


def every_case(scenes: Scenes, chance: random.Random) -> Iterator[Case]:
    """Every fault with a load that it shows at, and how much of it there is.

    Faults that change nothing at any load, such as a joint in a lead that is never loaded, are no
    case: nobody would look for them.
    """
    for suspect in suspects(scenes.study):
        case = _case(scenes, suspect, chance, _amount)
        if case is not None:
            yield case


def drawn_cases(
    scenes: Scenes, chance: random.Random, count: int, kinds: Sequence[str] = ()
) -> Iterator[Case]:
    """So many faults of some kinds, or of all; each as often and as bad as the book has it."""
    every = [one for one in suspects(scenes.study) if not kinds or one.kind in kinds]
    weights = [one.weight for one in every]
    tries = 50 * count
    while every and count and tries:
        tries -= 1
        case = _case(scenes, chance.choices(every, weights)[0], chance, _drawn_amount)
        if case is not None:
            count -= 1
            yield case


def _case(
    scenes: Scenes, suspect: Suspect, chance: random.Random, amount_of: _AmountOf
) -> Case | None:
    """A fault at one of the loads that it shows at, each as likely; None where it shows nowhere."""
    if suspect.kind == "nothing":
        return None
    study = scenes.study
    fit = [load for load in study.rig.loads
           if study.circuit(load.circuit) and isinstance(load.value, float)
           and _may_show(suspect, load)]  # fmt: skip
    chance.shuffle(fit)
    for load in fit:
        amount = amount_of(scenes, load, suspect, chance)
        if amount is not None:
            return Case(load, suspect, amount)
    return None


def _may_show(suspect: Suspect, load: Load) -> bool:
    if suspect.kind in _OF_LOAD:
        return suspect.name == load.about.name
    return suspect.circuit in ("", load.circuit)


def _amount(scenes: Scenes, load: Load, suspect: Suspect, chance: random.Random) -> float | None:
    """How much there is of a fault, so that it shows at a load; None where it never does."""
    if suspect.kind in _OF_LOAD:
        return _of_load(scenes, load, suspect, chance)
    if suspect.kind == "chafed":
        return float(chance.random() < 0.5)
    full, lost = _losses(scenes, load, suspect)
    if full < 1.0:
        return None
    if suspect.kind in ("joint", "contact", "tired"):
        return _losing(chance.uniform(0.1, 0.6) * full, lost, suspect)
    drawn = {"flat": (0.6, 0.9), "thin wire": (1.6, 6.0)}.get(suspect.kind)
    amount = chance.uniform(*drawn) if drawn else suspect.amounts[-1]
    return amount if lost(amount) >= _SHOWS * full else None


def _drawn_amount(
    scenes: Scenes, load: Load, suspect: Suspect, chance: random.Random
) -> float | None:
    """Any amount of those that the book has, each as likely; None where it shows too little."""
    amounts = suspect.amounts
    if suspect.kind == "overload":
        most = _most_drawn(scenes, load, suspect)
        amounts = tuple(each for each in amounts if each <= most)
    if not amounts:
        return None
    amount = chance.choice(amounts)
    if suspect.is_graded and len(amounts) > 1:
        amount = amount_at(*chance.choice(list(pairwise(amounts))), chance.random())
    if suspect.kind in (*_OF_LOAD, "chafed"):
        return amount
    full, lost = _losses(scenes, load, suspect)
    return amount if full >= 1.0 and lost(amount) >= _SHOWS * full else None


def _losses(scenes: Scenes, load: Load, suspect: Suspect) -> tuple[float, Callable[[float], float]]:
    """Volts at a load with its circuit on, and what a fault takes of them by its amount."""
    circuit = scenes.study.circuit(load.circuit)
    assert circuit is not None
    scene = scenes.of(STANDING, frozenset(circuit.loads))
    full = abs(scene.solve().between_v(load.plus, load.minus))

    def lost(amount: float) -> float:
        shown = scene.solve(suspect.wrong(amount))
        return full - abs(shown.between_v(load.plus, load.minus))

    return full, lost


def _losing(target_v, lost, suspect: Suspect) -> float | None:
    """The least resistance that takes some volts from a load, to a per cent; None if none does."""
    low, high = suspect.amounts[0], figure("joint", "most_ohm")
    if lost(high) < target_v:
        return None
    while high > 1.01 * low:
        middle = (low * high) ** 0.5
        low, high = (low, middle) if lost(middle) >= target_v else (middle, high)
    return high


def _of_load(scenes: Scenes, load: Load, suspect: Suspect, chance: random.Random) -> float | None:
    """By how much a load is off; None where it would open its fuse before it drew much more."""
    if suspect.kind == "stuck load":
        return chance.uniform(4.0, 7.0)
    if suspect.kind != "overload":
        return 0.0
    most = _most_drawn(scenes, load, suspect)
    return chance.uniform(1.5, most) if most else None


def _most_drawn(scenes: Scenes, load: Load, suspect: Suspect) -> float:
    """What a load may draw more without opening its fuse [-]; 0 where that is next to nothing."""
    circuit = scenes.study.circuit(load.circuit)
    assert circuit is not None
    device = scenes.study.device(circuit.device)
    rating = device.rating_a if device is not None else None
    scene = scenes.of(STANDING, frozenset(circuit.loads))
    for most in (4.0, 3.0, 2.2, 1.7):
        ampere = scene.solve(suspect.wrong(most)).current_a(circuit.device)
        if not isinstance(rating, float) or ampere <= 1.3 * rating:
            return most
    return 0.0


def is_right(verdict: Verdict, faults: Sequence[tuple[Suspect, float]]) -> bool:
    """Whether a verdict blames just the parts that are at fault."""
    return {one.part for one in verdict.faults} == {suspect.part for suspect, _ in faults}


def is_kind(verdict: Verdict, faults: Sequence[tuple[Suspect, float]]) -> bool:
    """Whether the parts fail as they were said to; a joint that hardly conducts is an open one."""

    def kind(suspect: Suspect, amount: float) -> str:
        is_open = suspect.kind.startswith("open") or (suspect.kind in _SERIES and amount > 100.0)
        return "open" if is_open else suspect.kind

    said = {(s.name, kind(s, a)) for s, a in zip(verdict.faults, verdict.amounts, strict=True)}
    return said == {(s.name, kind(s, a)) for s, a in faults}


def is_alike(truth: Truth, diagnosis: Diagnosis) -> bool:
    """Whether the first verdict shows the same as the truth for a meter anywhere."""
    best = diagnosis.verdicts[0]
    dead = NOTHING_WRONG
    for fault, amount in zip(best.faults, best.amounts, strict=True):
        dead = dead.plus(truth.evidence.shows.dead(fault, fault.wrong(amount)))
    seen = list(_everywhere(truth, truth.wrong, truth.dead))
    return any(
        all(abs(one - two) <= 2.0 * wide for (one, wide), (two, _) in
            zip(seen, _everywhere(truth, wrong, dead), strict=True))
        for wrong in _amounts_near(best)
    )  # fmt: skip


def _amounts_near(best: Verdict) -> Iterator[Wrong]:
    yield best.wrong
    if len(best.faults) == 1 and best.amounts[0] > 0.0:
        for step in range(-6, 7):
            yield best.faults[0].wrong(best.amounts[0] * 1.03**step)


def _everywhere(truth: Truth, wrong: Wrong, dead: Wrong) -> Iterator[tuple[float, float]]:
    """All that a meter could show, each with how far the meter may err."""
    for on in (truth.scene.on, frozenset[str]()):
        scene = truth.scenes.of(STANDING, on)
        yield from _in_scene(truth, scene, wrong)
    minus = truth.evidence.minus_of(truth.circuit.start)
    if minus:
        ohm = truth.scene.ohms(truth.circuit.start, minus, dead)
        yield ohm, 0.3 * ohm + 0.2


def _in_scene(truth: Truth, scene: Scene, wrong: Wrong) -> Iterator[tuple[float, float]]:
    shown = scene.solve(wrong, rest=truth.rest, load=truth.draws)
    pairs = list(edges_of(scene).values())
    for a in {end for pair in pairs for end in pair}:
        minus = truth.evidence.minus_of(a)
        if minus:
            pairs.append((a, minus))
    pairs += [(one.plus, one.minus) for one in truth.scenes.study.rig.loads]
    for a, b in sorted(set(pairs)):
        volts = shown.between_v(a, b)
        yield volts, meter_volt(volts, fine=abs(volts) < 1.0)
    for edge in scene.branch_of:
        amps = shown.current_a(edge)
        yield amps, hypot(0.01 * amps, figure("meter", "ampere"))
