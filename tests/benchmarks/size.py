"""How long sizing takes on rigs made by chance, and whether it settles and leaves nothing worse.

``PYTHONPATH=src:tests python tests/benchmarks/size.py 1000`` tries that many and prints what was
wrong.
"""

import sys
import time
from collections import Counter

from sizing.settle import wrong


def main(count: int) -> None:
    """Try rigs and print what was found."""
    tally: Counter[str] = Counter()
    longest = 0.0
    for seed in range(count):
        start = time.perf_counter()
        for words in wrong(seed, tally):
            tally["wrong"] += 1
            sys.stdout.write(f"{seed}: {words}\n")
            sys.stdout.flush()
        longest = max(longest, time.perf_counter() - start)
    sys.stdout.write(f"{count} rigs, longest {longest:.1f} s\n")
    sys.stdout.writelines(f"{name}: {number}\n" for name, number in sorted(tally.items()))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
