"""Processor time of every command on one large rig, beside that of `check` of the same rig.

Run with `python tests/benchmarks/commands.py [CIRCUITS]`; the rig is radial, as in `scale.py`, of
300 circuits if not said. Each line is a whole process, the ratio is to `check` in the same run. The
aim is 1 s for each that prints on a terminal, and 2 s for two versions that differ: `other.rig` has
another fuse and another gauge in one circuit in the middle.
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
    ("labels",), ("tags",), ("testsheet",), ("workplan",), ("directory",), ("page",), ("folio",),
)  # fmt: skip


def edited(text: str) -> str:
    """The text of a radial rig with another fuse and another gauge in one circuit."""
    was = "fuse 5 A\n    wire   14 AWG"
    middle = text.find(was, len(text) // 3)
    return text[:middle] + text[middle:].replace(was, "fuse 7.5 A\n    wire   12 AWG", 1)


def seconds(folder: str, name: str, *rest: str) -> float:
    """Processor time of a command as a whole process [s]."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-m", "rigfolio", name, "large.rig", *rest],
        cwd=folder, capture_output=True, check=False, env=ENVIRONMENT,
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main(circuits: int) -> None:
    """Print one line for each command."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "large.rig").write_text(radial(circuits), encoding="utf-8")
        (Path(folder) / "other.rig").write_text(edited(radial(circuits)), encoding="utf-8")
        base = seconds(folder, *COMMANDS[0])
        for words in COMMANDS:
            took = seconds(folder, *words)
            sys.stdout.write(f"{' '.join(words):24} {took:6.2f} s  {took / base:6.2f} of check\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
