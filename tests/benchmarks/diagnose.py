"""Put each fault at each place of the examples, measure with a meter that errs, and search.

Every fault that may be is put into every example: joints and contacts that take 10 to 60 per cent
of the voltage of a load behind them, open wires, fuses and switches, shorts that have blown a fuse
and wires that chafe now and then, circuits wired 1.6 to 6 times as thin as the text says, loads
that draw too much or nothing, batteries that are flat or tired, loads joined the wrong way round.
One symptom in twenty is told wrongly. The search starts with what an owner says of a load, takes
the reading that it asks for each time, and stops when it has settled, when no reading tells more,
or after ten readings; every reading counts. Beside it, readings of the same kinds are taken in a
random order.

    python tests/benchmarks/diagnose.py [EXAMPLE ...] [--every N] [--start N] [--at-load] [--random]
        [--show]

The truth has a battery in some state of charge, loads that draw more or less than stated, wires up
to 15 per cent longer than the text says, and a meter with gain, offset and last digit of its own;
the search knows none of these figures. A verdict counts as right if it names the part that is at
fault. One that names another part is counted by itself as `alike` if no reading of volts, amperes
or ohms at any terminal, loads on or off, differs by more than the meter may err. Shares that were
given are held against how often they were right.
"""

import argparse
import random
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import exp, hypot, prod

from helpers.home import EXAMPLES
from rigfolio.books.diagnosis import figure, meter_volt
from rigfolio.diagnosis.choice import Choice, choices
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.posterior import diagnose
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.suspects import Suspect, suspects
from rigfolio.diagnosis.verdicts import Diagnosis, Verdict, by_part
from rigfolio.findings import Span
from rigfolio.judgement.result import check
from rigfolio.model.graph import Circuit
from rigfolio.model.reading import Measure, Reading, Symptom
from rigfolio.operating.meter import NOTHING_WRONG, Scene, Wrong, edges_of
from rigfolio.operating.point import wire_ohm
from rigfolio.study import Study

SURE = 0.97
MOST = 10
WRONG_SYMPTOM = 0.05
STANDING = ("", ())
_SERIES = ("joint", "contact")
BANDS = (0.0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.98, 1.001)


class Truth:
    """A rig with something wrong, its battery, loads and meter as they happen to be."""

    def __init__(
        self,
        scenes: Scenes,
        circuit: Circuit,
        faults: Sequence[tuple[Suspect, float]],
        chance: random.Random,
    ) -> None:
        self.scenes, self.circuit, self.faults, self.chance = scenes, circuit, faults, chance
        self.scene = scenes.of(STANDING, frozenset(circuit.loads))
        spread = figure("rest", "spread")
        self.emf = 1.0 + chance.uniform(-spread, spread)
        self.draws = 1.0 + chance.uniform(-0.2, 0.2)
        self.gain = 1.0 + chance.gauss(0.0, figure("meter", "share") / 2.0)
        self.offset = chance.gauss(0.0, 0.25)
        self.wrong = NOTHING_WRONG
        self.dead = NOTHING_WRONG
        self.evidence = Evidence(scenes.study, [_told("", circuit.loads[0], "dead")], scenes)
        for suspect, amount in faults:
            one = suspect.wrong(amount)
            self.wrong = self.wrong.plus(one)
            self.dead = self.dead.plus(self.evidence.dead(suspect, one))
        self.wrong = self.wrong.plus(_longer(scenes.study, chance))
        if any(suspect.kind == "overload" for suspect, _ in faults):
            # A little more than a load that draws little is what it should draw.
            self.draws = max(self.draws, 1.0)
        self.weight = prod(suspect.weight for suspect, _ in faults)
        self.load = self.evidence.loads[circuit.loads[-1]]

    def _of(self, on: frozenset[str]) -> Scene:
        return self.scenes.of(STANDING, on)

    def volts(self, a: str, b: str, *, at_rest: bool = False) -> float:
        """Volts between two terminals as the meter shows them."""
        scene = self._of(frozenset()) if at_rest else self.scene
        return self.shown_v(scene.solve(self.wrong, emf=self.emf, load=self.draws).between_v(a, b))

    def shown_v(self, volts: float) -> float:
        digit = 0.001 if abs(volts) < 1.0 else 0.01
        noise = self.offset + self.chance.gauss(0.0, 0.5)
        return round(round((volts * self.gain) / digit + noise) * digit, 3)

    def read(self, choice: Choice) -> Reading:
        """The reading that was asked for, as it would be written down."""
        if choice.how == "amperes":
            shown = self.scene.solve(self.wrong, emf=self.emf, load=self.draws)
            is_load = self.scenes.study.circuit(choice.a) is None
            if is_load:
                ampere = shown.drawn_a(choice.a)
            else:
                ampere = shown.current_a(self.circuit_of(choice.a))
            ampere *= 1.0 + self.chance.gauss(0.0, 0.01)
            ampere += self.chance.gauss(0.0, 0.01)
            kind = "load" if is_load else "circuit"
            return _reading("current", choice.a, "", round(max(ampere, 0.0), 2), kind=kind)
        if choice.how == "ohms":
            ohm = self.scene.ohms(choice.a, choice.b, self.dead)
            return _reading(
                "resistance", choice.a, choice.b, round(ohm * exp(self.chance.gauss(0.0, 0.3)), 1)
            )
        at_rest = choice.how == "volts at rest"
        value = self.volts(choice.a, choice.b, at_rest=at_rest)
        return _reading("voltage", choice.a, choice.b, value, on=() if at_rest else None)

    def overdrawn(self) -> bool:
        """Whether the fuse of the circuit carries more than it is rated for."""
        device = self.scenes.study.device(self.circuit.device)
        shown = self.scene.solve(self.wrong, emf=self.emf, load=self.draws)
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
        load = self.load
        value = self.volts(load.plus, load.minus)
        read = _reading("voltage", load.plus, load.minus, value, part=load.about.name, kind="load")
        blows = any(s.kind in ("short", "chafed", "stuck load") for s, _ in self.faults)
        volts = self.scenes.study.volts.get(load.plus, self.scenes.study.rig.system_v)
        share = value / volts
        symptom: Symptom = "works"
        if any(s.kind in ("dead load", "reversed") and s.name == load.about.name
               for s, _ in self.faults) or share < figure("seen", "dead_share"):  # fmt: skip
            symptom = "dead"
        elif share < figure("seen", "dim_share"):
            symptom = "dim"
        if symptom == "works" and any(s.kind == "overload" for s, _ in self.faults):
            symptom = "slow"
        symptom = "blows" if blows or self.overdrawn() else symptom
        if self.chance.random() < WRONG_SYMPTOM:
            symptom = self.chance.choice([s for s in ("dead", "dim", "works") if s != symptom])
        told = _told(load.about.name, load.about.name, symptom)
        return [told, read] if is_read or symptom == "works" else [told]


def _longer(study: Study, chance: random.Random) -> Wrong:
    """Wires that were paced out too short."""
    found = ((w.name, wire_ohm(study, w, 30.0)) for w in study.rig.conductors)
    return Wrong(ohm=tuple((name, ohm * chance.uniform(0.0, 0.15)) for name, ohm in found if ohm))


def _told(place: str, load: str, symptom: Symptom) -> Reading:
    return Reading(
        "symptom", place or load, "load", "", "", 0.0, symptom, None, "", "", Span("", 0, 0), ""
    )


def _reading(
    measure: Measure, a: str, b: str, value: float, *,
    part: str = "", kind: str = "terminal", on: tuple[str, ...] | None = None,
) -> Reading:  # fmt: skip
    name = part or (f"{a} to {b}" if b else a)
    return Reading(
        measure,
        name,
        kind,
        a,
        b,
        value,
        "",
        on,
        "",
        "",
        Span("", 0, 0),
        "",  # type: ignore[arg-type]
    )


def cases(scenes: Scenes, chance: random.Random) -> Iterator[tuple[Circuit, Suspect, float]]:
    """Every fault with a circuit that it shows in, and how much of it there is.

    Faults that change nothing at any load, such as a joint in a lead that is never loaded, are no
    case: nobody would look for them.
    """
    study = scenes.study
    loads = {load.about.name: load for load in study.rig.loads}
    fit = [c for c in study.rig.circuits
           if c.loads and all(isinstance(loads[n].value, float) for n in c.loads)]  # fmt: skip
    for suspect in suspects(study):
        if suspect.kind == "nothing":
            continue
        found = []
        for circuit in fit:
            amount = _amount(scenes, circuit, suspect, chance)
            if amount is not None:
                found.append((circuit, amount))
        if found:
            circuit, amount = chance.choice(found)
            yield circuit, suspect, amount


def _amount(
    scenes: Scenes, circuit: Circuit, suspect: Suspect, chance: random.Random
) -> float | None:
    """How much there is of a fault, so that it shows in a circuit; None where it never does."""
    if suspect.kind in ("overload", "stuck load", "dead load", "reversed"):
        is_here = suspect.name in circuit.loads
        return _of_load(scenes, circuit, suspect, chance) if is_here else None
    if suspect.kind in ("chafed", "thin wire") and suspect.circuit != circuit.place:
        return None
    if suspect.kind == "chafed":
        return float(chance.random() < 0.5)
    scene = scenes.of(STANDING, frozenset(circuit.loads))
    load = next(one for one in scenes.study.rig.loads if one.about.name == circuit.loads[-1])
    full = abs(scene.solve().between_v(load.plus, load.minus))
    if full < 1.0:
        return None
    if suspect.kind == "flat":
        amount = chance.uniform(0.6, 0.9)
    elif suspect.kind == "thin wire":
        amount = chance.uniform(1.6, 6.0)
    elif suspect.kind in ("joint", "contact", "tired"):
        target = chance.uniform(0.1, 0.6) * full
        steps = [suspect.amounts[0] * 1.1**step for step in range(140)]
        for amount in steps:
            shown = scene.solve(suspect.wrong(amount))
            if full - abs(shown.between_v(load.plus, load.minus)) >= target:
                return amount if amount < figure("joint", "most_ohm") else None
        return None
    else:
        amount = suspect.amounts[-1]
    shown = scene.solve(suspect.wrong(amount))
    lost = full - abs(shown.between_v(load.plus, load.minus))
    return amount if lost >= 0.05 * full else None


def _of_load(
    scenes: Scenes, circuit: Circuit, suspect: Suspect, chance: random.Random
) -> float | None:
    """By how much a load is off."""
    if suspect.kind == "stuck load":
        return chance.uniform(4.0, 7.0)
    return _overload(scenes, circuit, suspect, chance) if suspect.kind == "overload" else 0.0


def _overload(
    scenes: Scenes, circuit: Circuit, suspect: Suspect, chance: random.Random
) -> float | None:
    """How much more a load draws, its fuse still closed; None where that is hardly more."""
    device = scenes.study.device(circuit.device)
    rating = device.rating_a if device is not None else None
    scene = scenes.of(STANDING, frozenset(circuit.loads))
    for most in (4.0, 3.0, 2.2, 1.7):
        ampere = scene.solve(suspect.wrong(most)).current_a(circuit.device)
        if not isinstance(rating, float) or ampere <= 1.3 * rating:
            return chance.uniform(1.5, most)
    return None


class Calibration:
    """Shares that were given against how often the verdict was right.

    Each fault counts by its weight in the book, as often as it is said to happen.
    """

    def __init__(self) -> None:
        self.bins: dict[int, list[tuple[float, bool, float]]] = defaultdict(list)

    def add(self, share: float, *, is_right: bool, weight: float) -> None:
        at = next(i for i, high in enumerate(BANDS[1:]) if share < high)
        self.bins[at].append((share, is_right, weight))

    def rows(self) -> Iterator[str]:
        for at, held in sorted(self.bins.items()):
            whole = sum(weight for _, _, weight in held)
            said = sum(share * weight for share, _, weight in held) / whole
            was = sum(is_right * weight for _, is_right, weight in held) / whole
            low, high = BANDS[at], min(BANDS[at + 1], 1.0)
            yield (
                f"  said {100 * low:3.0f} to {100 * high:3.0f} %: {len(held):>5} answers, "
                f"{100 * said:5.1f} % said on average, {100 * was:5.1f} % right\n"
            )


def blamed(diagnosis: Diagnosis, faults: Sequence[tuple[Suspect, float]]) -> tuple[float, bool]:
    """The share of the part that is blamed first, and whether it is the one."""
    parts, share = next(((parts, share) for parts, share in by_part(diagnosis) if parts), ((), 0.0))
    return share, set(parts) == {part(suspect) for suspect, _ in faults}


def _is_settled(diagnosis: Diagnosis) -> bool:
    """Whether one part is so likely to be at fault that there is nothing more to be told apart."""
    parts, share = by_part(diagnosis)[0]
    return bool(parts) and share >= SURE and diagnosis.fits


def search(
    truth: Truth, *, guided: bool, is_read: bool, calibration: Calibration
) -> tuple[Diagnosis, int]:
    """The diagnosis at the end, and how many readings it took."""
    study = truth.scenes.study
    readings = truth.first(is_read=is_read)
    while True:
        diagnosis = diagnose(study, readings, truth.scenes)
        share, is_right = blamed(diagnosis, truth.faults)
        calibration.add(share, is_right=is_right, weight=truth.weight)
        if _is_settled(diagnosis) or len(readings) > MOST:
            return diagnosis, len(readings) - 1
        every = choices(diagnosis)
        telling = [one for one in every if one.bits >= 0.01]
        if not telling:
            return diagnosis, len(readings) - 1
        readings.append(truth.read(telling[0] if guided else truth.chance.choice(every)))


def right(verdict: Verdict, faults: Sequence[tuple[Suspect, float]]) -> bool:
    """Whether a verdict blames just the parts that are at fault."""
    return {part(one) for one in verdict.faults} == {part(suspect) for suspect, _ in faults}


def part(suspect: Suspect) -> str:
    """Where to look for a fault."""
    return suspect.part


def is_kind(verdict: Verdict, faults: Sequence[tuple[Suspect, float]]) -> bool:
    """Whether the parts fail as they were said to; a joint that hardly conducts is an open one."""

    def kind(suspect: Suspect, amount: float) -> str:
        is_open = suspect.kind.startswith("open") or (suspect.kind in _SERIES and amount > 100.0)
        return "open" if is_open else suspect.kind

    said = {(s.name, kind(s, a)) for s, a in zip(verdict.faults, verdict.amounts, strict=True)}
    return said == {(s.name, kind(s, a)) for s, a in faults}


def alike(truth: Truth, diagnosis: Diagnosis) -> bool:
    """Whether the first verdict shows the same as the truth for a meter anywhere."""
    best = diagnosis.verdicts[0]
    dead = NOTHING_WRONG
    for fault, amount in zip(best.faults, best.amounts, strict=True):
        dead = dead.plus(truth.evidence.dead(fault, fault.wrong(amount)))
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
        shown = scene.solve(wrong, emf=truth.emf, load=truth.draws)
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
    minus = truth.evidence.minus_of(truth.circuit.start)
    if minus:
        ohm = truth.scene.ohms(truth.circuit.start, minus, dead)
        yield ohm, 0.3 * ohm + 0.2


@dataclass
class Tally:
    """How searches went."""

    right: int = 0
    kind: int = 0
    alike: int = 0
    wrong: list[str] = field(default_factory=list)
    taken: list[int] = field(default_factory=list)

    def add(self, other: "Tally") -> None:
        """Count another's searches as well."""
        self.right += other.right
        self.kind += other.kind
        self.alike += other.alike
        self.taken += other.taken

    def row(self, name: str) -> str:
        count = len(self.taken)
        return (
            f"  {name:<12} {count:>4} faults, first {100 * self.right / count:5.1f} %, of those "
            f"told apart {100 * self.right / max(count - self.alike, 1):5.1f} %, kind too "
            f"{100 * self.kind / count:5.1f} %, readings {statistics.mean(self.taken):4.1f} on "
            f"average, {max(self.taken)} at most\n"
        )


def run(
    name: str,
    every: int,
    calibration: Calibration,
    totals: Tally,
    *,
    guided: bool,
    is_read: bool,
    show: bool = False,
    start: int = 0,
) -> None:
    """Search for each fault of an example and say how it went, kind by kind."""
    study = check(str(EXAMPLES / f"{name}.rig")).study
    assert study is not None
    scenes = Scenes(study)
    tallies: dict[str, Tally] = defaultdict(Tally)
    started = time.perf_counter()
    for circuit, suspect, amount in list(cases(scenes, random.Random(17)))[start::every]:
        chance = random.Random(f"{name} {suspect.kind} {suspect.name}")
        truth = Truth(scenes, circuit, [(suspect, amount)], chance)
        diagnosis, readings = search(truth, guided=guided, is_read=is_read, calibration=calibration)
        is_first = right(diagnosis.verdicts[0], truth.faults)
        is_alike = not is_first and alike(truth, diagnosis)
        for key in (suspect.kind, "all"):
            tally = tallies[key]
            tally.right += is_first
            tally.kind += is_first and is_kind(diagnosis.verdicts[0], truth.faults)
            tally.alike += is_alike
            tally.taken.append(readings)
        if not is_first:
            best = diagnosis.verdicts[0]
            named = ", ".join(f"{f.kind} {f.name}" for f in best.faults)
            tallies["all"].wrong.append(
                f"    {suspect.kind} {suspect.name} {amount:.3g} in {circuit.place}: "
                f"{named} {best.share:.2f} after {readings}{' alike' if is_alike else ''}\n"
            )
    seconds = time.perf_counter() - started
    way = "guided" if guided else "random"
    sys.stdout.write(f"{name}, {way}, {seconds:.0f} s\n")
    for key, tally in sorted(tallies.items()):
        sys.stdout.write(tally.row(key))
    totals.add(tallies["all"])
    if show:
        sys.stdout.writelines(tallies["all"].wrong)


def main() -> None:
    known = sorted(file.stem for file in EXAMPLES.glob("*.rig"))
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("examples", nargs="*", help=f"some of {', '.join(known)}")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--start", type=int, default=0, help="the first fault of these")
    parser.add_argument("--at-load", action="store_true", help="start with volts at the load")
    parser.add_argument("--random", action="store_true")
    parser.add_argument("--show", action="store_true", help="list what was not found")
    given = parser.parse_args()
    for name in set(given.examples) - set(known):
        parser.error(f"no example {name}, expected one of {', '.join(known)}")
    names = given.examples or known
    calibration, totals = Calibration(), Tally()
    for name in names:
        run(name, given.every, calibration, totals, guided=not given.random, show=given.show,
            start=given.start, is_read=given.at_load)  # fmt: skip
        sys.stdout.flush()
    sys.stdout.write("all examples\n" + totals.row("all"))
    sys.stdout.writelines(calibration.rows())


if __name__ == "__main__":
    main()
