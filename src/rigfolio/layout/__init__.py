"""One layout for every rig file: where the white space of a text is to change, and nothing else.

It knows lines, items and which fact each of them belongs to. It may not know what a rig is.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.layout.files import (
        LaidFile as LaidFile,
        laid_out as laid_out,
    )
    from rigfolio.layout.spacing import (
        layout_edits as layout_edits,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        files="LaidFile laid_out",
        spacing="layout_edits",
    )
