"""How long the operating point and the faults of a large rig take, beside scipy's sparse solver.

Run with `python tests/benchmarks/solver.py [CIRCUITS ...]`. Rigs are radial, as in `scale.py`. The
matrix that both solvers are given is the same: conductances of all wires, the datum left out. The
exponent is the slope between neighbours on logarithmic scales: 1 is linear, 2 is quadratic. Last
comes a ladder of 10,000 nodes from 10 microohm to 10 megohm: the largest error of each solver, as
a share of the voltage, against the same worked out in sixty digits.
"""

import math
import statistics
import sys
import time
from collections.abc import Callable

import numpy
from scale import radial
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve

from helpers.ladder import stiff_ladder
from rigfolio.calc.grid import Grid, Network
from rigfolio.calc.sparse import DATUM, factor
from rigfolio.isolation.energised import CLOSED
from rigfolio.judgement.result import load
from rigfolio.operating.point import Wiring, _Heat, operating, standing
from rigfolio.shorts.faults import Faults
from rigfolio.study import Study

SIZES = (96, 1_008, 10_008)
ROUNDS = 5


def seconds(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median time of some work [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def study_of(circuits: int) -> Study:
    """The study of a radial rig."""
    _, rig, errors = load("radial.rig", radial(circuits))
    if rig is None:
        raise ValueError(errors)
    return Study(rig, rig.book)


def conductances(study: Study) -> list[dict[int, float]]:
    """The rows of the matrix of a rig, its battery stamped on it."""
    wiring = Wiring(study, CLOSED)
    given = wiring.network(None, standing(study))
    branches = wiring.branches(_Heat(study, "ambient").start())
    grid = Grid(Network(len(wiring.node), branches, given.supplies))
    number = next(at for at, one in enumerate(grid.islands) if one.supplies)
    return grid.matrix(number).rows(grid.islands[number].supplies)


def matrix_of(rows: list[dict[int, float]]) -> csc_matrix:
    """The same conductances as a matrix of scipy."""
    at = [(place, other, -value) for place, row in enumerate(rows)
          for other, value in row.items() if other != DATUM]  # fmt: skip
    at += [(place, place, sum(row.values())) for place, row in enumerate(rows)]
    places = ([one for one, _, _ in at], [other for _, other, _ in at])
    return csc_matrix(([value for _, _, value in at], places), shape=(len(rows), len(rows)))


def compared(rows: list[dict[int, float]]) -> tuple[float, float, float]:
    """Time of our solver and of scipy's [s], and the largest difference of their answers [-]."""
    right = numpy.ones(len(rows))
    sparse = matrix_of(rows)
    ours = seconds(lambda: factor(rows).solve(list(right)))
    theirs = seconds(lambda: spsolve(sparse, right))
    one, two = numpy.array(factor(rows).solve(list(right))), spsolve(sparse, right)
    return ours, theirs, float(numpy.max(numpy.abs(one - two)) / numpy.max(numpy.abs(two)))


def exactness(size: int = 10_000, seeds: int = 4) -> tuple[float, float]:
    """The largest error of our solver and of scipy's on stiff ladders, as shares [-]."""
    ours = theirs = 0.0
    for seed in range(seeds):
        rows, right, volts = stiff_ladder(size, seed)
        true = numpy.array(volts)
        one, two = factor(rows).solve(right), spsolve(matrix_of(rows), numpy.array(right))
        ours = max(ours, float(numpy.max(numpy.abs(one - true) / true)))
        theirs = max(theirs, float(numpy.max(numpy.abs(two - true) / true)))
    return ours, theirs


def main(sizes: tuple[int, ...]) -> None:
    """Print one line for each size."""
    before: tuple[int, float] | None = None
    for circuits in sizes:
        study = study_of(circuits)
        rows = conductances(study)
        ours, theirs, apart = compared(rows)
        point = seconds(lambda study=study: operating(study), 3)
        start = time.perf_counter()
        every = Faults(study)
        plus = [place for place in study.net.at if study.side.get(place) == "+"]
        faults = sum(every.at(place) is not None for place in plus)
        fault = time.perf_counter() - start
        slope = ""
        if before is not None:
            exponent = math.log(point / before[1]) / math.log(circuits / before[0])
            slope = f"  exponent {exponent:4.2f}"
        sys.stdout.write(
            f"{circuits:7} circuits {len(rows):7} rows: factor and solve {ours * 1e3:8.2f} ms, "
            f"scipy {theirs * 1e3:7.2f} ms, ratio {ours / theirs:5.2f}, apart {apart:.1e}; "
            f"operating point {point:6.3f} s{slope}; {faults} faults {fault:6.2f} s\n"
        )
        before = circuits, point
    ours, theirs = exactness()
    sys.stdout.write(f"stiff ladders of 10000 nodes: off by {ours:.1e}, scipy by {theirs:.1e}\n")


if __name__ == "__main__":
    main(tuple(int(word) for word in sys.argv[1:]) or SIZES)
