"""The circuit diagram of a rig as bars and rungs, on pages of its own paper.

It answers what the pages show, where everything stands on them, and what a program for graphs reads
of them. It may not know whether anything is right: no limit, no finding and no state of the rig is
asked for here, and no other sheet.
"""

from rigfolio.schematic.dot_text import dot_text
from rigfolio.schematic.sheet import NOTE, TITLE, Diagram, diagram

__all__ = ["NOTE", "TITLE", "Diagram", "diagram", "dot_text"]
