"""Processor time of every command on one large rig, beside that of `check` of the same rig.

Run with `python tests/benchmarks/commands.py [CIRCUITS]`; the rig is radial, as in `scale.py`, of
300 circuits if not said. Each line is the least of three whole processes, the ratio is to `check`
in the same run. The compiled helpers of the PDF library are left out, as in a plain install, so
that what users have is measured; `paired.py` does the same. The aim is 1 s for each command, and
2 s for two versions that differ: `other.rig` has another fuse and another gauge in one circuit in
the middle. The folio is 335 pages: `folio_floor.py` tells what those cost at the least.
"""

import resource
import subprocess
import sys
import tempfile
from pathlib import Path

from scale import ENVIRONMENT, radial

COMMANDS = (
    ("check",), ("size",), ("demand",), ("live",), ("arrange",), ("isolate", "P1"),
    ("short", "P1"), ("diagnose", "P1 = 11.2 V"), ("name",), ("format",), ("compare", "large.rig"),
    ("compare", "other.rig"),
    ("labels",), ("tags",), ("testsheet",), ("workplan",), ("directory",), ("legend",), ("face",),
    ("picklist",), ("wirelist",), ("survey",), ("draw",), ("page",), ("folio",),
)  # fmt: skip
_ROUNDS = 3
PLAIN = "import sys; sys.modules['_rl_accel'] = None; from rigfolio.__main__ import run; run()"
"""A run without compiled helpers: the library falls back on Python where it cannot import them."""


def edited(text: str) -> str:
    """The text of a radial rig with another fuse and another gauge in one circuit."""
    was = "fuse 5 A\n    wire   14 AWG"
    middle = text.find(was, len(text) // 3)
    return text[:middle] + text[middle:].replace(was, "fuse 7.5 A\n    wire   12 AWG", 1)


def seconds(folder: str, name: str, *rest: str) -> float:
    """Processor time of a command as a whole process [s]."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-c", PLAIN, name, "large.rig", *rest],
        cwd=folder, capture_output=True, check=False, env=ENVIRONMENT,
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main(circuits: int) -> None:
    """Print one line for each command."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "large.rig").write_text(radial(circuits), encoding="utf-8")
        (Path(folder) / "other.rig").write_text(edited(radial(circuits)), encoding="utf-8")
        base = min(seconds(folder, *COMMANDS[0]) for _ in range(_ROUNDS))
        for words in COMMANDS:
            took = min(seconds(folder, *words) for _ in range(_ROUNDS))
            sys.stdout.write(f"{' '.join(words):24} {took:6.2f} s  {took / base:6.2f} of check\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
