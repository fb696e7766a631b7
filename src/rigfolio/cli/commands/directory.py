"""What is in each slot, for the door of the panel."""

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print the directory for the panel's door",
    "print",
    ("directory my.rig", "directory my.rig --paper a4"),
)
takes = add_sheet
run = print_sheet
