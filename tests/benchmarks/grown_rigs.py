"""Commands on rigs grown from the grammar: `python tests/benchmarks/grown_rigs.py [N] [FIRST]`.

Each rig is tried by every command, without the lines that were not understood. What fails is told
with its seed; put such a seed into `tests/fuzz/seeds.txt` once it is mended. The last line is the
record: rigs, commands, failures, processor time.
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.trial import COMMANDS, failures, inside, understood


def run(count: int, first: int) -> int:
    """Try so many seeds; gives how many failed."""
    failed = runs = 0
    for seed in range(first, first + count):
        started = time.process_time()
        with tempfile.TemporaryDirectory() as folder, inside(folder):
            found = list(failures(understood(seed)))
        runs += len(COMMANDS)
        failed += bool(found)
        for each in found:
            sys.stdout.write(f"seed {seed}: {each}\n")
        spent_s = time.process_time() - started
        if spent_s > 5 * len(COMMANDS):
            sys.stdout.write(f"seed {seed}: {spent_s:.0f} s\n")
    sys.stdout.write(f"{count} rigs from seed {first}, {runs} commands, {failed} rigs failed, "
          f"{time.process_time():.0f} s\n")  # fmt: skip
    return failed


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:]]
    sys.exit(bool(run(*(given + [100, 0][len(given) :]))))
