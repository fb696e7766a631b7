"""Put each fault at each place of the examples, measure with a meter that errs, and search.

Every fault that may be is put into every example: joints and contacts that take 10 to 60 per cent
of the voltage of a load behind them, open wires, fuses and switches, shorts that have blown a fuse
and wires that chafe now and then, circuits wired 1.6 to 6 times as thin as the text says, loads
that draw too much or nothing, batteries that are flat or tired, loads joined the wrong way round.
Symptoms are told wrongly as often as the book has it. The search starts with what an owner says of
one of the loads that the fault shows at, takes the reading that it asks for each time, and stops
when it has settled, when no reading tells more, or after ten readings; every reading counts. Beside
it, readings of the same kinds are taken in a random order.

    python tests/benchmarks/diagnose.py [EXAMPLE ...] [--every N] [--start N] [--at-load] [--random]
        [--show]
    python tests/benchmarks/diagnose.py --rigs 40 --drawn 25 [--of "thin wire" --of tired]
    python tests/benchmarks/diagnose.py --drawn 100

With `--drawn`, faults are drawn as often, and as bad, as the book says that they happen; those that
their owner does not see are passed over. With `--rigs` they are put into rigs drawn by chance, from
`--seed` on, which nobody has looked at: their table shows whether shares hold what they say, beside
the error that luck alone makes of so few answers. With `--of`, faults of some kinds alone are
drawn, and the table is left out: the search still reckons with all kinds.

The truth has a battery in some state of charge, loads that draw more or less than stated, wires
longer or shorter than the text says, and a meter with gain, offset and last digit of its own, each
as far off as the book has it; the search knows none of these figures. A verdict counts as right if
it names the part that is at fault. One that names another part is counted by itself as `alike` if
no reading of volts, amperes or ohms at any terminal, loads on or off, differs by more than the
meter may err. The table holds what was said of parts at every step of a search against how often it
was so.
"""

import argparse
import random
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from benchmarks.calibration import Calibration
from benchmarks.drawn_rigs import rig_text
from benchmarks.faulty_rigs import Truth, drawn_cases, every_case, is_alike, is_kind, is_right
from helpers.home import EXAMPLES
from helpers.studies import study_from
from rigfolio.diagnosis.choice import choices, next_reading
from rigfolio.diagnosis.posterior import diagnose
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.verdicts import Diagnosis, by_part
from rigfolio.judgement.result import check
from rigfolio.study import Study

SURE = 0.97
MOST = 10


def _is_settled(diagnosis: Diagnosis) -> bool:
    """Whether one part is so likely to be at fault that there is nothing more to be told apart."""
    parts, share = by_part(diagnosis)[0]
    return bool(parts) and share >= SURE and diagnosis.fits


def search(
    truth: Truth, given: argparse.Namespace, calibration: Calibration
) -> tuple[Diagnosis, int]:
    """The diagnosis at the end, and how many readings it took."""
    study = truth.scenes.study
    readings = truth.first(is_read=given.at_load)
    parts = {suspect.part for suspect, _ in truth.faults}
    while True:
        diagnosis = diagnose(study, readings, truth.scenes)
        calibration.add(diagnosis, parts, 1.0 if given.drawn else truth.weight)
        if _is_settled(diagnosis) or len(readings) > MOST:
            return diagnosis, len(readings) - 1
        choice = next_reading(diagnosis)
        if choice is None:
            return diagnosis, len(readings) - 1
        if given.random:
            choice = truth.chance.choice(choices(diagnosis))
        readings.append(truth.read(choice))


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
        """What is printed of it."""
        count = len(self.taken)
        if not count:
            return f"  {name:<12} no fault that anybody sees\n"
        return (
            f"  {name:<12} {count:>4} faults, first {100 * self.right / count:5.1f} %, of those "
            f"told apart {100 * self.right / max(count - self.alike, 1):5.1f} %, kind too "
            f"{100 * self.kind / count:5.1f} %, readings {statistics.mean(self.taken):4.1f} on "
            f"average, {max(self.taken)} at most\n"
        )


def _truths(name: str, scenes: Scenes, given: argparse.Namespace) -> Iterator[Truth]:
    """The faults of a rig; of those that are drawn, so many as their owner sees."""
    # Each rig has luck of its own: with one for all, the same few places would be drawn in each.
    chance = random.Random(f"faults of {name}")
    drawn = drawn_cases(scenes, chance, 4 * given.drawn, given.of)
    cases = drawn if given.drawn else list(every_case(scenes, chance))[given.start :: given.every]
    told = 0
    for at, case in enumerate(cases):
        seed = f"{name} {case.suspect.kind} {case.suspect.name} {at if given.drawn else ''}"
        truth = Truth(scenes, case, random.Random(seed))
        if given.drawn and truth.symptom == "works":
            continue  # nobody looks for it
        yield truth
        told += 1
        if told == given.drawn:
            return


def run(name: str, study: Study, given: argparse.Namespace) -> tuple[dict[str, Tally], Calibration]:
    """Search for the faults of a rig, kind by kind."""
    scenes = Scenes(study)
    tallies: dict[str, Tally] = defaultdict(Tally)
    calibration = Calibration()
    for truth in _truths(name, scenes, given):
        case = truth.case
        suspect = case.suspect
        diagnosis, readings = search(truth, given, calibration)
        best = diagnosis.verdicts[0]
        is_first = is_right(best, truth.faults)
        same = not is_first and is_alike(truth, diagnosis)
        for key in (suspect.kind, "all"):
            tally = tallies[key]
            tally.right += is_first
            tally.kind += is_first and is_kind(best, truth.faults)
            tally.alike += same
            tally.taken.append(readings)
        if not is_first:
            named = ", ".join(f"{f.kind} {f.name}" for f in best.faults)
            tallies["all"].wrong.append(
                f"    {suspect.kind} {suspect.name} {case.amount:.3g} at {case.load.about.name}: "
                f"{named} {best.share:.2f} after {readings}{' alike' if same else ''}\n"
            )
    return tallies, calibration


def _rigs(given: argparse.Namespace) -> Iterator[tuple[str, Study]]:
    if given.rigs:
        for seed in range(given.seed, given.seed + given.rigs):
            yield f"drawn {seed}", study_from(rig_text(seed))
        return
    for name in given.examples:
        study = check(str(EXAMPLES / f"{name}.rig")).study
        assert study is not None
        yield name, study


def main() -> None:
    """Search the rigs that are asked for and say how it went."""
    known = sorted(file.stem for file in EXAMPLES.glob("*.rig"))
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("examples", nargs="*", help=f"some of {', '.join(known)}")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--start", type=int, default=0, help="the first fault of these")
    parser.add_argument("--drawn", type=int, default=0, metavar="N", help="so many faults a rig")
    parser.add_argument("--rigs", type=int, default=0, metavar="N", help="so many drawn rigs")
    parser.add_argument("--seed", type=int, default=1000, help="the first drawn rig")
    parser.add_argument(
        "--of", action="append", default=[], metavar="KIND", help="draw these alone"
    )
    parser.add_argument("--at-load", action="store_true", help="start with volts at the load")
    parser.add_argument("--random", action="store_true")
    parser.add_argument("--show", action="store_true", help="list what was not found")
    given = parser.parse_args()
    for name in set(given.examples) - set(known):
        parser.error(f"no example {name}, expected one of {', '.join(known)}")
    if given.rigs and not given.drawn:
        parser.error("--rigs needs --drawn")
    given.examples = given.examples or known
    whole, totals = Calibration(), defaultdict[str, Tally](Tally)
    for name, study in _rigs(given):
        started = time.process_time()
        tallies, calibration = run(name, study, given)
        seconds = time.process_time() - started
        way = "random" if given.random else "guided"
        sys.stdout.write(f"{name}, {way}, {seconds:.0f} s of processor time\n")
        if given.rigs:
            sys.stdout.write(tallies["all"].row("all"))
        else:
            sys.stdout.writelines(tally.row(key) for key, tally in sorted(tallies.items()))
            sys.stdout.writelines(() if given.of else calibration.rows())
        if given.show:
            sys.stdout.writelines(tallies["all"].wrong)
        sys.stdout.flush()
        whole.join(calibration)
        for key, tally in tallies.items():
            totals[key].add(tally)
    sys.stdout.write("all rigs\n")
    sys.stdout.writelines(tally.row(key) for key, tally in sorted(totals.items()))
    if not given.of:
        sys.stdout.writelines(whole.rows())


if __name__ == "__main__":
    main()
