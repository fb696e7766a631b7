"""How the time of `rigfolio check` grows with the rig, and with the number of rigs.

Run with `python tests/benchmarks/scale.py [CIRCUITS ...]`. Rigs are sound and radial: a battery, a
bar, and panels of 24 slots, each with its own feeder and its own negative bar. The exponent is the
slope between neighbours on logarithmic scales: 1 is linear, 2 is quadratic. Behind these come rigs
of one shape each: fused wires side by side, circuits on one bar, circuits in one slot, splices one
behind the other, batteries on one bar, panels with a larger fuse found in every slot, loads behind
a button each; a number that is refused ends with exit 2. Last, 1,000 rigs of 12 circuits are
checked in one call.
Times are processor time of the whole process, so that a busy machine tells the same.
"""

import math
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

SLOTS = 24
SIZES = (96, 1_008, 10_008)
SHAPE_SIZES = (200, 400, 800, 1_600)
MANY = 1_000
ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def radial(circuits: int, slots: int = SLOTS) -> str:
    """The text of a sound radial rig of at least so many circuits."""
    panels = -(-circuits // slots)
    lines = [
        'rig "Many circuits"',
        "    system 12 V",
        "    rules  rv",
        "",
        "battery B1 lithium, 100000 Ah, delivers 50 kA",
        "busbar  A1 100000 A",
        "busbar  N0 100000 A",
        "wire B1+ to A1 4/0 AWG red 1 ft, cranking",
        "wire N0 to B1- 4/0 AWG black 1 ft, cranking",
    ]
    for panel in range(1, panels + 1):
        lines += [
            "",
            f"panel  P{panel} {slots} slots of 15 A, interrupts 50 kA",
            f"busbar N{panel} 300 A",
            f"wire A1 to P{panel} 4/0 AWG red 5 ft, fuse 100 A at A1 interrupts 100 kA",
            f"wire N{panel} to N0 4/0 AWG black 5 ft",
        ]
        for slot in range(1, min(slots, circuits - (panel - 1) * slots) + 1):
            lines += [
                f'circuit P{panel}.{slot} "Lamp {slot} of {panel}" fuse 5 A',
                f"    wire   14 AWG red {3 + slot % 7} ft",
                f"    return 14 AWG black {3 + slot % 7} ft to N{panel}",
                '    load   "Lamp" 6 W, 2 h/day',
            ]
    return "\n".join(lines) + "\n"


_HEAD = """\
rig "One shape"
    system 12 V
    rules  rv

battery B1 lithium, 100000 Ah, delivers 50 kA
busbar  A1 100000 A
busbar  N0 100000 A
wire B1+ to A1 4/0 AWG red 1 ft, cranking
wire N0 to B1- 4/0 AWG black 1 ft, cranking
"""
_PANEL = "panel P1 12 slots of 15 A, interrupts 50 kA\n"
_FEED = "wire A1 to P1 4/0 AWG red 5 ft, fuse 100 A at A1 interrupts 100 kA\n"
_LAMP = '    return 14 AWG black 3 ft to N0\n    load "Lamp" 6 W, 2 h/day\n'
_BEHIND = f"    wire 14 AWG red 1 ft\n{_LAMP}"


def _on(place: str, circuits: int) -> str:
    one = f'circuit {place} "Lamp" fuse 5 A\n    wire 14 AWG red 3 ft\n{_LAMP}'
    return one * circuits


SHAPES: dict[str, Callable[[int], str]] = {
    "fused wires side by side": lambda count: _HEAD + _PANEL + _FEED * count + _on("P1.1", 1),
    "circuits on one bar": lambda count: _HEAD + _on("A1", count),
    "circuits in one slot": lambda count: _HEAD + _PANEL + _FEED + _on("P1.1", count),
    "splices in a chain": lambda count: (
        f'{_HEAD}{_PANEL}{_FEED}circuit P1.1 "Lamp" fuse 5 A\n    wire 14 AWG red 1 in\n'
        + "".join(f"    splice Z{at}\n    wire 14 AWG red 1 in\n" for at in range(count))
        + _LAMP
    ),
    "batteries on one bar": lambda count: (
        _HEAD
        + "".join(
            f"battery B{at} lithium, 100 Ah, delivers 1 kA\nwire B{at}- to N0 4/0 AWG black 1 ft\n"
            f"wire B{at}+ to A1 4/0 AWG red 1 ft, fuse 100 A at A1 interrupts 100 kA\n"
            for at in range(2, count + 2)
        )
    ),
    "slots with a fuse that was found too large": lambda count: radial(count).replace(
        "fuse 5 A\n", "fuse 5 A, found 30 A\n"
    ),
    "loads behind a button": lambda count: (
        _HEAD + _on("A1", count).replace(_LAMP, f'    switch "Button" 5 A, rests open\n{_BEHIND}')
    ),
}
"""The text of a rig of one shape, by how often it has it."""


def _processor_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def seconds(files: list[str]) -> tuple[float, int, str]:
    """Processor time of one call [s], its exit code, and the last lines that it printed."""
    start = _processor_s()
    done = subprocess.run(
        [sys.executable, "-m", "rigfolio", "check", *files],
        capture_output=True, check=False, env=ENVIRONMENT,
    )  # fmt: skip
    took = _processor_s() - start
    text = (done.stdout or done.stderr).decode()
    return took, done.returncode, " / ".join(text.splitlines()[-2:-1])


def grow(
    folder: Path, sizes: tuple[int, ...], made: Callable[[int], str], what: str = "circuits"
) -> None:
    """Print the time of one rig after the other, and the exponent between them."""
    before: tuple[int, float] | None = None
    for count in sizes:
        file = folder / f"rig-{count}.rig"
        file.write_text(made(count), encoding="utf-8")
        took, code, last = seconds([str(file)])
        slope = ""
        if before is not None:
            exponent = math.log(took / before[1]) / math.log(count / before[0])
            slope = f"  exponent {exponent:4.2f}"
        sys.stdout.write(f"{count:7} {what}  {took:8.2f} s{slope}  exit {code}  {last}\n")
        sys.stdout.flush()
        before = count, took
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    sys.stdout.write(f"peak memory of a process {peak:8.0f} MiB\n")


def many(folder: Path, count: int) -> None:
    """Print the time of one call for many small rigs."""
    files = []
    for number in range(count):
        file = folder / f"small-{number}.rig"
        file.write_text(radial(12, 12).replace("Many", f"Rig {number} of many"), encoding="utf-8")
        files.append(str(file))
    took, code, _ = seconds(files)
    sys.stdout.write(
        f"{count:7} rigs of 12 circuits in one call {took:6.2f} s, "
        f"{took / count * 1e3:.1f} ms each, exit {code}, {os.cpu_count()} processors\n"
    )


def main() -> None:
    """Run all, or only the sizes that are named."""
    sizes = tuple(int(word) for word in sys.argv[1:]) or SIZES
    with tempfile.TemporaryDirectory() as name:
        grow(Path(name), sizes, radial)
        if not sys.argv[1:]:
            for what, made in SHAPES.items():
                grow(Path(name), SHAPE_SIZES, made, what)
            many(Path(name), MANY)


if __name__ == "__main__":
    main()
