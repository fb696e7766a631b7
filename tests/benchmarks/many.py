"""Many rigs in one call of `check`: one process beside several, kept verdicts, memory.

Run with `python tests/benchmarks/many.py [RIGS]`, 1,000 where no number is given. Rigs are those of
`scale.py`, of 12 circuits each, no two alike. Every call has an empty cache folder of its own but
the last. Times are processor times, of the parent and of its children apart, so that a busy machine
tells the same; what two processes gain at most is the whole divided by the longest of its parts:
wall time is printed beside it, for machines with nothing else to do.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from scale import radial

_MOST_IN_ONE = 2_000
"""Rigs that are judged by one process as well; of more only by several."""
PROBE = """
import os, resource, sys
import rigfolio.judgement.many as many
if sys.argv[1] == "one":
    many.os.cpu_count = lambda: 1
from rigfolio.cli import main
code = main(sys.argv[2:])
sys.stdout.flush()
own, below = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
print(code, own.ru_utime + own.ru_stime, below.ru_utime + below.ru_stime,
      own.ru_maxrss / 1024, below.ru_maxrss / 1024, file=sys.stderr)
"""


def call(folder: Path, cache: Path, how: str) -> tuple[float, ...]:
    """Exit code, processor time of parent and children [s], their peaks [MiB], wall time [s]."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", PROBE, how, "check", str(folder), "--summary"],
        capture_output=True, text=True, check=True,
        env={**os.environ, "XDG_CACHE_HOME": str(cache)},
    )  # fmt: skip
    wall = time.perf_counter() - start
    return (*map(float, done.stderr.split()[-5:]), wall)


def main() -> None:
    """Print what each call took."""
    count = int(sys.argv[1]) if sys.argv[1:] else 1_000
    with tempfile.TemporaryDirectory() as name:
        rigs = Path(name) / "rigs"
        rigs.mkdir()
        for number in range(count):
            text = radial(12, 12).replace("Many", f"Rig {number} of many")
            (rigs / f"small-{number}.rig").write_text(text, encoding="utf-8")
        calls = [("several processes", "all", "b")]
        if count <= _MOST_IN_ONE:
            calls.insert(0, ("one process", "one", "a"))
        calls.append(("the same, kept", "all", "b"))
        for what, how, cache in calls:
            folder = Path(name) / cache
            folder.mkdir(exist_ok=True)
            code, own, below, own_mib, below_mib, wall = call(rigs, folder, how)
            whole = own + below
            sys.stdout.write(
                f"{count} rigs, {what:18} {whole:8.2f} s, {whole / count * 1e3:6.2f} ms each, "
                f"parent {own / whole:6.1%}, wall {wall:8.2f} s, peak {own_mib:5.0f} MiB of the "
                f"parent, {below_mib:5.0f} of a child, exit {code:.0f}\n"
            )
            sys.stdout.flush()
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    sys.stdout.write(f"peak of all {peak:.0f} MiB, {os.cpu_count()} processors\n")


if __name__ == "__main__":
    main()
