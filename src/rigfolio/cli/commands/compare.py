"""What changed between two versions, findings gained and cured, what to print again.

`HEAD~1:my.rig` reads a version out of git. It ends with 1 where the later version has a danger that
the earlier one had not, and that its text does not accept; what was only found since, in place of
what belongs there, is told apart.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.options import add_book, add_format
from rigfolio.cli.parts import not_understood
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say

COMMAND = Command(
    "say what changed between two versions of a rig, and what to print again",
    "keep",
    ("compare HEAD~1:my.rig my.rig", "compare as-found.rig my.rig --format json"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    for each in ("old", "new"):
        made.add_argument(
            each, metavar=each.upper(), help="a rig file, or REVISION:FILE out of git"
        )
    add_book(made)
    add_format(made)


def run(given: Namespace) -> int:
    """Say what changed."""
    from rigfolio.answers import changes_report
    from rigfolio.books import known_book
    from rigfolio.folio import compared, version
    from rigfolio.reports import printed

    known_book(given.rules)
    versions = [version(name, given.rules or "") for name in (given.old, given.new)]
    broken = [result for result in versions if result.study is None]
    study = versions[1].study
    if broken or study is None:
        return not_understood(*broken, given=given)
    old, new = versions
    found, again = compared(old, new)
    report = changes_report(found, again, old.file, new.file, study)
    say(sys.stdout, printed(report, is_json=given.format == "json"))
    return int(found.gains_danger)
