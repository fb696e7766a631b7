"""Arguments in, exit code out; the only package that prints.

It knows commands and what they ask. It may not work anything out.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.cli.entry import (
        main as main,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        entry="main",
    )
