"""Readings, work done (`'done "new crimp"'`) and remarks, kept in a text beside the rig file.

A remark stands behind `#`, on a line of its own or behind an entry: `# cold, rain since noon`.
Without readings it shows what was kept.
"""

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_readings
from rigfolio.cli.parts import not_understood, understood, write_anew
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say

if TYPE_CHECKING:
    from pathlib import Path

COMMAND = Command(
    "keep readings and work done in a text beside the rig file, or show them",
    "keep",
    (
        "log my.rig 'P1.3 = 12.4 V'",
        "log my.rig '# cold, rain since noon'",
        "log my.rig --from test-sheet.csv",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_readings(made)
    made.add_argument("--on", metavar="DATE", help="the day of the entries; today if left out")


def run(given: Namespace) -> int:
    """Add the entries to the log, or print it."""
    from rigfolio.answers import (
        day_of,
        doubts,
        hear,
        log_lines,
        log_path,
        log_with,
        logged,
        not_taken,
        odd_words,
        today,
    )
    from rigfolio.reports import clean

    result = understood(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    heard = hear(result, given.reading, given.texts)
    if heard.found:
        return not_understood(heard.as_result)
    lines = [line for text in heard.texts.values() for line in text.split("\n") if line.strip()]
    path = log_path(result.file)
    if lines:
        date = day_of(given.on) if given.on else today()

        def longer() -> "tuple[dict[Path, bytes], dict[str, str]]":
            path, content, before = log_with(result, lines, date)
            return {path: content}, {str(path): before}

        write_anew(longer)
        read = heard.log.readings
        told = (*heard.told, *doubts(result.study, read), *odd_words(result.study, read))
        say(sys.stderr, "".join(f"{clean(each)}\n" for each in told))
    elif path.exists():
        say(sys.stdout, "".join(f"{clean(each)}\n" for each in log_lines(path)))
        say(sys.stderr, "".join(f"{clean(each)}\n" for each in not_taken(logged(result))))
        return 0
    say(sys.stdout, f"{clean(str(path))}\n" if lines else "nothing was kept yet\n")
    return 0
