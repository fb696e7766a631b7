"""How long `rigfolio check` takes as a whole process, beside `python -c "import lark"`.

Run with `python tests/benchmarks/start_up.py`; both are run by turns, and medians are printed.
The aim is a ratio of no more than 1.5.
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROUNDS = 41
RIG = str(Path(__file__).parents[2] / "examples" / "marsh-wren-17.rig")


def seconds(*arguments: str) -> float:
    """Wall time of one process [s]."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *arguments], capture_output=True, check=False)
    return time.perf_counter() - start


def main() -> None:
    """Print both medians and their ratio."""
    lark: list[float] = []
    check: list[float] = []
    for _ in range(ROUNDS):
        lark.append(seconds("-c", "import lark"))
        check.append(seconds("-m", "rigfolio", "check", RIG))
    base, ours = statistics.median(lark), statistics.median(check)
    sys.stdout.write(
        f"import lark      {base * 1e3:6.1f} ms\n"
        f"rigfolio check   {ours * 1e3:6.1f} ms\n"
        f"ratio            {ours / base:6.2f}\n"
    )


if __name__ == "__main__":
    main()
