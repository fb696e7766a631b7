"""What an answer says, as lines for a terminal.

It knows text and amounts, and neither rigs nor the answers that are given.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.reports.lines import (
        CAUTIONS as CAUTIONS,
        WIDE as WIDE,
        clean as clean,
        columns as columns,
        listed as listed,
        wrapped as wrapped,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        lines="CAUTIONS WIDE clean columns listed wrapped",
    )
