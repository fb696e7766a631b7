"""What a meter should show at every test point while the panel goes live, with blanks.

It has the last readings of the log; also as CSV.
"""

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print what a meter should show, stage by stage, with blanks to fill in",
    "measure",
    ("testsheet my.rig",),
)
takes = add_sheet
run = print_sheet
