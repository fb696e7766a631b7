"""How long `rigfolio check` takes as a whole process, beside `python -c "import lark"` and none.

Run with `python tests/benchmarks/start_up.py`; all are run by turns, and medians are printed.
Modules are compiled first, as an installed package is. The aims are 1.7 times the import of lark
and no more than 12 times a Python that does nothing.
"""

import compileall
import os
import statistics
import subprocess
import sys
import time

from helpers.home import HOME

ROUNDS = 41
RIG = str(HOME / "examples" / "marsh-wren-17.rig")
# Where no bytecode may be written every module would be compiled again in every process.
ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def seconds(*arguments: str) -> float:
    """Wall time of one process, which must end well [s]."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, *arguments], capture_output=True, check=False, env=ENVIRONMENT
    )
    took = time.perf_counter() - start
    if done.returncode != 0:
        raise SystemExit(f"{arguments} ended with {done.returncode}: {done.stderr.decode()}")
    return took


def main() -> None:
    """Print both medians and their ratio."""
    compileall.compile_dir(HOME / "src" / "rigfolio", quiet=1)
    lark: list[float] = []
    bare: list[float] = []
    check: list[float] = []
    seconds("-m", "rigfolio", "check", RIG)
    for _ in range(ROUNDS):
        bare.append(seconds("-c", "pass"))
        lark.append(seconds("-c", "import lark"))
        check.append(seconds("-m", "rigfolio", "check", RIG))
    none = statistics.median(bare)
    base, ours = statistics.median(lark), statistics.median(check)
    sys.stdout.write(
        f"python           {none * 1e3:6.1f} ms\n"
        f"import lark      {base * 1e3:6.1f} ms\n"
        f"rigfolio check   {ours * 1e3:6.1f} ms\n"
        f"ratio            {ours / base:6.2f}, {ours / none:.1f} to python alone\n"
    )


if __name__ == "__main__":
    main()
