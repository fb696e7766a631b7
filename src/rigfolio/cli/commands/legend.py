"""From the colour of a wire to its circuit."""

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print which colour belongs to which circuit",
    "print",
    ("legend my.rig", "legend my.rig -o colours.pdf"),
)
takes = add_sheet
run = print_sheet
