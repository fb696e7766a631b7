"""What has to be bought: fuses, terminals, sleeves, wire, with spares and slack; also as CSV."""

from rigfolio.cli.options import add_part
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print what has to be bought, with spares and slack",
    "plan",
    ("picklist my.rig", "picklist my.rig --since HEAD~1:my.rig"),
)
takes = add_part
run = print_sheet
