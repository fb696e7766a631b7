"""Each panel as it is seen, with the fuse that belongs in each slot."""

from rigfolio.cli.options import add_sheet
from rigfolio.cli.output import print_sheet
from rigfolio.cli.registry import Command

COMMAND = Command(
    "draw each panel as it is seen, with the fuse that belongs in each slot",
    "print",
    ("face my.rig", "face my.rig --paper a4 -o face.pdf"),
)
takes = add_sheet
run = print_sheet
