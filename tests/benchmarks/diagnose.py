"""Put each fault at each place of the examples, measure with a meter that errs, and search.

For every example, every wire, holder and switch on the way of some circuit gets a bad joint that
takes a good part of the voltage, or opens. The search starts with what an owner says and one
reading at the load, takes the reading that it asks for each time, and stops when it has settled or
after ten readings. Beside it, readings are taken in a random order along the same way.

    python tests/benchmarks/diagnose.py [EXAMPLE ...] [--every N] [--random]

The truth has a battery in some state of charge, loads that draw more or less than stated, and a
meter with the error of `books/trade/diagnosis.toml`; the search knows none of these figures.
"""

import argparse
import random
import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from rigfolio.app import check
from rigfolio.books.diagnosis import figure
from rigfolio.findings import Span
from rigfolio.model.graph import Load
from rigfolio.model.reading import Reading
from rigfolio.study.bench import Scene, Wrong
from rigfolio.study.diagnosis import Diagnosis, diagnose
from rigfolio.study.live import CLOSED
from rigfolio.study.net import edge_name, ends
from rigfolio.study.next_reading import choices, is_settled
from rigfolio.study.study import Study

EXAMPLES = Path(__file__).parents[2] / "examples"
MOST = 10


def ways(study: Study) -> Iterator[tuple[Load, str]]:
    """One load of every circuit, with each edge on its way out and back, as far as the battery."""
    for circuit in study.rig.circuits:
        loads = {load.about.name: load for load in study.rig.loads}
        load = loads[circuit.loads[-1]]
        if not isinstance(load.value, float):
            continue
        scene = Scene(study, CLOSED, frozenset(circuit.loads))
        shown = scene.solve()
        full = abs(shown.between_v(load.plus, load.minus))
        for edge in scene.wiring.edges:
            opened = scene.solve(Wrong(ohm=((edge_name(edge), figure("joint", "open_ohm")),)))
            if full > 1.0 and abs(opened.between_v(load.plus, load.minus)) < 0.5 * full:
                yield load, edge_name(edge)


class Truth:
    """A rig with one fault, its battery and its loads as they happen to be."""

    def __init__(self, study: Study, load: Load, edge: str, chance: random.Random) -> None:
        on = frozenset(next(c.loads for c in study.rig.circuits if load.about.name in c.loads))
        self.scene, self.load = Scene(study, CLOSED, on), load
        self.emf = 1.0 + chance.uniform(-0.03, 0.03)
        self.draws = 1.0 + chance.uniform(-0.15, 0.15)
        sound = self.scene.solve(emf=self.emf, load=self.draws)
        current_a = max(sound.current_a(edge), 1e-3)
        is_open = chance.random() < 0.3
        lost_v = chance.uniform(0.1, 0.5) * abs(sound.between_v(load.plus, load.minus))
        ohm = figure("joint", "open_ohm") if is_open else lost_v / current_a
        self.shown = self.scene.solve(Wrong(ohm=((edge, ohm),)), emf=self.emf, load=self.draws)
        self.chance = chance

    def read(self, a: str, b: str) -> Reading:
        """Volts between two terminals as the meter shows them."""
        volts = self.shown.between_v(a, b)
        fine = 10.0 if abs(volts) < 1.0 else 1.0
        spread = figure("meter", "share") * abs(volts) + figure("meter", "volt") / fine
        value = round(volts + self.chance.gauss(0.0, spread / 2.0), 2)
        return Reading(
            "voltage", f"{a} to {b}", "terminal", a, b, value, "", None, "", "", Span("", 0, 0), ""
        )

    def first(self) -> Reading:
        """The reading at the load, which is where the owner points."""
        load = self.load
        one = self.read(load.plus, load.minus)
        return Reading(
            "voltage", load.about.name, "load", load.plus, load.minus, one.value, "", None, "", "",
            Span("", 0, 0), "",
        )  # fmt: skip


def is_found(study: Study, diagnosis: Diagnosis, edge: str) -> bool:
    """Whether the likeliest verdict names the edge, or one that no terminal tells from it."""
    best = diagnosis.verdicts[0]
    if len(best.faults) != 1:
        return False
    return same(study, best.faults[0].name, edge)


def same(study: Study, one: str, two: str) -> bool:
    return one == two or ends_of(study, one) == ends_of(study, two)


def ends_of(study: Study, name: str) -> frozenset[str]:
    every = (*study.rig.conductors, *study.rig.devices)
    return frozenset(ends(next(edge for edge in every if edge_name(edge) == name)))


def search(study: Study, truth: Truth, edge: str, *, guided: bool) -> tuple[bool, int]:
    """Whether the fault is named first at the end, and how many readings that took."""
    readings = [truth.first()]
    while True:
        diagnosis = diagnose(study, readings)
        if is_settled(diagnosis) or len(readings) >= MOST:
            return is_found(study, diagnosis, edge), len(readings)
        open_ = [one for one in choices(diagnosis) if one.bits > 0.01]
        if not open_:
            return is_found(study, diagnosis, edge), len(readings)
        one = open_[0] if guided else truth.chance.choice(choices(diagnosis))
        readings.append(truth.read(one.a, one.b))


def run(name: str, every: int, *, guided: bool) -> None:
    """Search for each fault of an example and say how it went."""
    study = check(str(EXAMPLES / f"{name}.rig")).study
    assert study is not None
    chance = random.Random(17)
    right, taken, count = 0, [], 0
    started = time.perf_counter()
    for load, edge in list(ways(study))[::every]:
        ok, readings = search(study, Truth(study, load, edge, chance), edge, guided=guided)
        right += ok
        count += 1
        taken.append(readings)
    seconds = time.perf_counter() - started
    sys.stdout.write(
        f"{name:<16} {'guided' if guided else 'random':<7} {count:>4} faults, first "
        f"{100 * right / count:5.1f} %, readings {statistics.mean(taken):.1f} on average, "
        f"{max(taken)} at most, {seconds / count:.1f} s each\n"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("examples", nargs="*")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--random", action="store_true")
    given = parser.parse_args()
    names = given.examples or sorted(file.stem for file in EXAMPLES.glob("*.rig"))
    for name in names:
        run(name, given.every, guided=not given.random)
        sys.stdout.flush()


if __name__ == "__main__":
    main()
