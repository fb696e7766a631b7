"""What is asked of the command line, golden by golden: the words behind `rigfolio`, in turn."""

import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from helpers.home import EXAMPLES, HOME
from rigfolio.books.loader import book_names
from rigfolio.cli.registry import command_names
from rigfolio.manual.topics import ERRORS
from rigfolio.rule import rule_names

GIVEN = Path(__file__).parent / "given"
BROKEN = HOME / "tests" / "messages" / "several.rig"
RIGS = tuple(sorted(file.stem for file in EXAMPLES.glob("*.rig")))
FAULTY = tuple(sorted(file.stem for file in (EXAMPLES / "faulty").glob("*.rig")))

_PANELS = {"kittiwake-30": ("P1", "P2"), "lapwing-cabin": ("P1", "P2")}
_ISOLATED = {
    "heron-van": ("P1.4", "D1", "E1"),
    "kittiwake-30": ("P1.16", "N2", "F4"),
    "lapwing-cabin": ("P1.8", "D1", "E1"),
    "marsh-wren-17": ("P1.3", "S1.line", "C1"),
}
_SHORTED = {
    "heron-van": ("P1.3", "W12", "B2+"),
    "kittiwake-30": ("P1.19", "B2+", "Windlass"),
    "lapwing-cabin": ("P2.2", "W4", "D1"),
    "marsh-wren-17": ("P1.5", "W2", "S1.line"),
}
_HEARD = {
    "heron-van": (
        ("P1.4 = 10.2 V, with Pump on", "D1 = 12.9 V, with Pump on"),
        ("P1.11 = 12.7 V", "P1.11 to P1 = 0 V"),
        ("Roof fan dead",),
        ("--logged", "2026-04-05"),
    ),
    "kittiwake-30": (
        ("P1.19 = 10.1 V, with Macerator on", "B2 = 12.4 V, with Macerator on"),
        ("P2.1 = 0 V",),
        ("Radar dead",),
        ("--logged", "2026-05-21"),
    ),
    "lapwing-cabin": (
        ("P2.1 = 11.9 V, in home",),
        ("B1 = 51 V", "P1 = 0 V"),
        ("Kitchen, three lamps dim",),
        ("--logged", "2026-02-09"),
    ),
    "marsh-wren-17": (
        ("P1 to P1.3 = 40 mV, with Furnace on",),
        ("P1.3 = 11.2 V, in shore", "P1.4 = 11.2 V, in shore"),
        ("P1.2 blows",),
        ("--logged", "2026-03-15"),
    ),
}
EDITS = {
    "heron-van": (
        ("wire   4 mm2 blue/white 2.4 m", "wire   6 mm2 blue/white 2.4 m"),
        ('"Roof fan"          fuse 5 A', '"Vent in the roof"  fuse 7.5 A'),
        ("slot P1.12 spare\n", 'circuit P1.12 "Lamp"  fuse 3 A\n    wire 1.5 mm2 red 2 m\n'
         '    load "Step lamp"  5 W, 1 h/day\n'),
    ),
    "kittiwake-30": (
        ('"Start battery fuse"  200 A', '"Start battery fuse"  300 A'),
        ("wire  N2      to N1       1/0 AWG yellow  8 ft", "wire  N2 to N1  2 AWG black  8 ft"),
        ('circuit P1.18 "Shower sump"', 'circuit P1.23 "Shower sump"'),
        ("slot P1.23 spare\n", "slot P1.18 spare\n"),
    ),
    "lapwing-cabin": (
        ("wire  E1.out to P1   10 AWG red    5 ft", "wire  E1.out to P1 8 AWG red   5 ft"),
        ('load   "Fan"  0.6 A, 8 h/day, motor', 'load   "Fan"  2.6 A, 8 h/day, motor'),
        ("state away  S1 open,  U1 off\n", ""),
    ),
    "marsh-wren-17": (
        ('  "Battery fuse"        50 A', '  "Battery fuse"        ? A'),
        ("wire   14 AWG yellow 11 ft", "wire   16 AWG yellow 11 ft"),
        ("solar       U1", "solar       U2"),
        ("wire  U1+", "wire  U2+"), ("wire  U1-", "wire  U2-"),
        ("V1 off, U1 on", "V1 off, U2 on"), ("V1 on,  U1 on", "V1 on, U2 on"),
    ),
}  # fmt: skip
"""How the second version of each example differs from the first."""


@dataclass(frozen=True, slots=True)
class Printout:
    """One golden: the file below the goldens, and the commands that it holds."""

    name: str
    commands: tuple[tuple[str, ...], ...]

    @property
    def is_json(self) -> bool:
        """Whether all that its commands print is JSON."""
        return self.name.endswith("-json")


def printouts() -> Iterator[Printout]:
    """Every golden that there is to be."""
    for rig in RIGS:
        yield from _of_rig(rig)
    for rig in FAULTY:
        yield from _both(f"faulty/{rig}/check", ("check", f"examples/faulty/{rig}.rig"))
    every = tuple(f"examples/{rig}.rig" for rig in RIGS)
    yield from _both("several/check", ("check", *every), ("check", "broken.rig", *every[:1]))
    yield from _manual()
    yield Printout("refusals", tuple(_refused()))


def _of_rig(rig: str) -> Iterator[Printout]:
    file = f"examples/{rig}.rig"
    for command in ("check", "live", "demand", "size", "arrange"):
        yield from _both(f"{rig}/{command}", (command, file))
    books = tuple(("check", file, "--rules", book) for book in book_names())
    yield Printout(f"{rig}/check-other-books", books)
    places = (*_PANELS.get(rig, ("P1",)), *_ISOLATED[rig])
    yield from _both(f"{rig}/isolate", *(("isolate", file, place) for place in places))
    yield from _both(f"{rig}/short", *(("short", file, place) for place in _SHORTED[rig]))
    yield from _both(f"{rig}/diagnose", *(("diagnose", file, *heard) for heard in _HEARD[rig]))
    yield from _both(f"{rig}/compare", ("compare", file, f"edited/{rig}.rig"))
    table = f"given/{rig}-survey.csv"
    yield Printout(f"{rig}/survey", (("survey", file, "--from", table),))
    yield Printout(f"{rig}/log", (("log", file),))


def _manual() -> Iterator[Printout]:
    yield Printout("help/overall", ((), ("--help",)))
    for command in command_names():
        yield Printout(f"help/{command}", ((command, "--help"),))
    yield Printout("explain/overall", (("explain",),))
    for name in (*book_names(), *rule_names()):
        yield Printout(f"explain/{name}", (("explain", name),))
    yield Printout("explain/errors", tuple(("explain", name) for name in ERRORS))


def _refused() -> Iterator[tuple[str, ...]]:
    file = f"examples/{RIGS[0]}.rig"
    yield ("chek", file)
    yield (file,)
    yield ("check", "nowhere.rig")
    yield ("check", file, "--rules", "barge")
    yield ("check", file, "--loud")
    yield ("explain", "fuse-over-wyre")
    yield ("isolate", file, "P1.99")
    yield ("short", file, "somewhere")
    yield ("diagnose", file)
    yield ("diagnose", file, "P1.3 = 11.2 A V", "no such lamp dead")
    yield ("diagnose", file, "--logged", "2026-02-30")
    yield ("log", "edited/heron-van.rig")
    yield ("log", file, "--on", "yesterday", "P1.3 = 12 V")
    yield ("survey", "new/siskin.rig", "--from", "given/siskin-survey.csv")
    yield ("survey", file, "--from", "given/nothing.csv")
    yield ("compare", file, "broken.rig")
    for command in ("live", "demand", "size", "arrange"):
        yield (command, "broken.rig")


def _both(name: str, *commands: tuple[str, ...]) -> Iterator[Printout]:
    yield Printout(name, commands)
    asked = tuple((*command, "--format", "json") for command in commands)
    yield Printout(f"{name}-json", asked)


def shown(command: tuple[str, ...], code: int, out: str, err: str) -> str:
    """A command as a terminal shows it: what was typed, what came, on which stream, exit code."""
    parts = [f"$ {shlex.join(('rigfolio', *command))}\n", *(_whole(line) for line in _lines(out))]
    parts += [f"! {_whole(line)}" for line in _lines(err)]
    return "".join([*parts, f"exit {code}\n"])


def _lines(text: str) -> list[str]:
    # Only a line feed ends a line: all else belongs to what was printed.
    return [part for part in text.replace("\n", "\n\0").split("\0") if part]


def _whole(line: str) -> str:
    return line if line.endswith("\n") else f"{line}\\\n"
