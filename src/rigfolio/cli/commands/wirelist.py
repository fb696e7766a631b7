"""The conductors as a harness shop makes them: ends, terminals, size, length; also as CSV."""

from rigfolio.cli.options import add_part
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "print every wire with its ends, terminals, size, colour and length to cut",
    "plan",
    ("wirelist my.rig", "wirelist my.rig -o wires.csv"),
)
takes = add_part
run = print_sheet
