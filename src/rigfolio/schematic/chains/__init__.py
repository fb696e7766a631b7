"""The rig as bars, where things meet, and rungs, the series chains between them.

It answers which things stand in one row, and which rows belong together. It may not know order,
places or words.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.chains.elements import (
        Bar as Bar,
        End as End,
        Graph as Graph,
        Piece as Piece,
        Rung as Rung,
    )
    from rigfolio.schematic.chains.graph import (
        graph_of as graph_of,
    )
    from rigfolio.schematic.chains.units import (
        Ladder as Ladder,
        Laid as Laid,
        Stack as Stack,
        blocks_of as blocks_of,
        folded as folded,
        opened as opened,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        elements="Bar End Graph Piece Rung",
        graph="graph_of",
        units="Ladder Laid Stack blocks_of folded opened",
    )
