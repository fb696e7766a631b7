"""Which part must be at fault, its resistance and heat, how likely, and what to measure next.

A reading is `'P1.3 = 11.2 V'`, or `'P1.3 = 11.2 V, in shore'` where a state matters, or
`'B1 = 11.8 V at 7.5 A'`; a symptom is `'Porch lamp dead'`, `'Pump runs slow'`, `'everything dim'`.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.books import spoken
from rigfolio.cli.options import add_format, add_readings
from rigfolio.cli.parts import not_understood, understood
from rigfolio.cli.registry import Command
from rigfolio.cli.terminal import say

COMMAND = Command(
    "say which fault explains readings and symptoms best, and what to measure next",
    "measure",
    ("diagnose my.rig 'P1.3 = 11.2 V'", "diagnose my.rig 'everything dim' 'B1 = 12.4 V'"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_readings(made)
    made.add_argument("--logged", metavar="DATE", help="the readings of that day in the log too")
    add_format(made)
    heard = "; ".join(", ".join(words) for kind, words in spoken() if kind != "everything")
    made.add_argument_group(
        "symptoms",
        "said of a load or circuit by its name or label, of a panel, a battery, a charger or of "
        "everything: 'Pump runs slow', 'Porch lamp does not work', 'fuse blows P1.2', 'no power at "
        "P1', 'House battery does not charge', 'everything dim'. What is heard, "
        "those between semicolons for the same: "
        f"{heard}.",
    )


def run(given: Namespace) -> int:
    """Say what the readings of the command, of texts and of the log tell together."""
    from rigfolio.answers import day_of, diagnosis, hear, logged
    from rigfolio.reports import clean, printed

    result = understood(given.file, given.rules)
    study = result.study
    if study is None:
        return not_understood(result, given=given)
    heard = [hear(result, given.reading, given.texts)]
    if given.logged:
        heard.append(logged(result, day_of(given.logged)))
    broken = [each.as_result for each in heard if each.found]
    if broken:
        return not_understood(*broken, given=given)
    readings = [reading for each in heard for reading in each.log.readings]
    told = [words for each in heard for words in each.told]
    if not readings:
        say(sys.stderr, "".join(f"{clean(each)}\n" for each in told))
    say(sys.stdout, printed(diagnosis(study, readings, told), is_json=given.format == "json"))
    return 0
