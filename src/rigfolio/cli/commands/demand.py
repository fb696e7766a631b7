"""What every source, fuse, panel and circuit must carry, connected, for hours and at one time.

Also the charge of a day, how long the battery lasts, how long it charges.
"""

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import answered
from rigfolio.cli.registry import Command

COMMAND = Command(
    "say what every part must carry, what a day takes, how long the battery lasts",
    "judge",
    ("demand my.rig", "demand my.rig --format json"),
)
takes = add_question
run = answered
