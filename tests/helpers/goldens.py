"""What the commands print of the examples, as it was read and kept."""

import json
from collections.abc import Iterator

from helpers.home import TESTS
from printed.printouts import printouts

FOLDER = TESTS / "printed" / "goldens"
COLUMNS = "100"
"""How wide the terminal was."""


def kept(stem: str, *names: str) -> Iterator[tuple[tuple[str, ...], str]]:
    """The first command of each golden of an example that is asked for, and what was shown."""
    there = {asked.name: asked.commands[0] for asked in printouts()}
    for name in names:
        golden = (FOLDER / stem / f"{name}.txt").read_text("utf-8")
        yield there[f"{stem}/{name}"], golden.split("\n\n$ ")[0].rstrip("\n") + "\n"


def printed(shown: str) -> object:
    """What a command printed as JSON."""
    return json.loads(shown.partition("\n")[2].rpartition("\nexit ")[0])
