"""The circuit diagram of a rig as bars and rungs, on pages of its own paper.

It answers what the pages show, where everything stands on them, and what a program for graphs reads
of them. It may not know whether anything is right: no limit, no finding and no state of the rig is
asked for here, and no other sheet.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.dot_graph import (
        dot_text as dot_text,
    )
    from rigfolio.schematic.likeness import (
        drawn_of as drawn_of,
        words_of as words_of,
    )
    from rigfolio.schematic.sheet import (
        diagram as diagram,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        dot_graph="dot_text",
        likeness="drawn_of words_of",
        sheet="diagram",
    )
