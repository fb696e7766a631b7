"""The states of the rig against its parts: what is alive, and from which source."""

from rigfolio.cli.options import add_question
from rigfolio.cli.parts import answered
from rigfolio.cli.registry import Command

COMMAND = Command(
    "say what is alive in which state of the rig, and what must stay on but does not",
    "judge",
    ("live my.rig", "live my.rig --format json"),
)
takes = add_question
run = answered
