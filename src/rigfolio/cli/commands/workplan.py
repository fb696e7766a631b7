"""The work at a panel step by step: made dead and proved, tagged, moved, checked, live in stages.

With `--since OLD` only what changes.
"""

from rigfolio.cli.options import add_part
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print the work at a panel step by step: dead, marked, moved, checked, live",
    "plan",
    ("workplan my.rig", "workplan my.rig --since HEAD~1:my.rig"),
)
takes = add_part
run = print_sheet
