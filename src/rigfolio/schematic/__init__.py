"""The circuit diagram of a rig: what is drawn where, and on which page.

It knows the rig and how symbols are drawn. It may not judge anything.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.pages import (
        sheets_of as sheets_of,
    )
    from rigfolio.schematic.plan import (
        Drawing as Drawing,
        drawing_of as drawing_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        pages="sheets_of",
        plan="Drawing drawing_of",
    )
