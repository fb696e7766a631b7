"""A commented rig file to start from, with a `?` for all that has to be looked at.

KIND is `towable`, `van`, `boat` or `cabin`, and `--with` takes what such a rig has: `shore`,
`solar`, `turbine`, which the wind turns, and `disconnect`; a towable also `vehicle`, which is what
tows it; a van and a boat `alternator`, with the battery of the engine. `dc-dc` is the charger
between vehicle or engine and the house. Beside the first rig of a folder it lays a `.gitignore`
that leaves out what is made anew from the text; one that is there is never touched.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.parts import write
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError

COMMAND = Command(
    "write a commented rig file to start from",
    "write down",
    ("new towable my.rig", "new van my.rig --slots 12 --with solar,dc-dc"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("kind", choices=("towable", "van", "boat", "cabin"), help="what the rig is")
    made.add_argument("file", metavar="FILE", help="the rig file to be written")
    made.add_argument("--name", help="what the rig is called; as the file if left out")
    made.add_argument("--slots", type=int, default=12, metavar="N", help="slots of its panel")
    made.add_argument("--volts", type=int, choices=(12, 24, 48), default=12)
    made.add_argument("--metric", action="store_true", help="mm² and metres, A4 paper")
    made.add_argument("--with", dest="parts", metavar="PARTS", default="",
                      help="what else there is, with commas: shore, solar, turbine, disconnect; "
                      "a towable: vehicle, dc-dc; a van or boat: alternator, dc-dc")  # fmt: skip


def run(given: Namespace) -> int:
    """Write the file, never over another."""
    from pathlib import Path

    from rigfolio.manual import IGNORED, PARTS, Start, starter
    from rigfolio.reports import clean
    from rigfolio.wording import in_a_row

    parts = frozenset(part.strip() for part in given.parts.split(",") if part.strip())
    for part in sorted(parts.difference(PARTS[given.kind])):
        headline = f"`{part}` is no part of a new {given.kind}"
        whose = [f"a {kind}" for kind, held in PARTS.items() if part in held]
        headline += f", it is one of {in_a_row(whose)}" if whose else ""
        listed = in_a_row([f"`{name}`" for name in PARTS[given.kind]])
        raise RefusalError("command-not-understood", headline, f"there are {listed}")
    path = Path(given.file)
    if path.exists():
        headline = f"`{given.file}` is there already and would be lost"
        raise RefusalError("would-overwrite", headline, "name another file")
    start = Start(given.kind, given.name or path.stem, given.slots, given.volts,
                  metric=given.metric, parts=parts)  # fmt: skip
    contents = {path: starter(start).encode()}
    ignored = path.parent / ".gitignore"
    is_first = not ignored.exists() and not any(path.parent.glob("*.rig"))
    if is_first:
        contents[ignored] = IGNORED.encode()
    write(contents, fix="name a file in another place")
    say(sys.stdout, f"{given.file}\n")
    if is_first:
        say(sys.stderr, f"{clean(str(ignored))}: what is made anew from the text is not kept\n")
    return 0
