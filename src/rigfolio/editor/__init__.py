"""What an editor asks while a rig is written: findings, numbers, names, words, ways out.

It asks the homes that answer these for every command, of texts that need not be saved. It may not
work out anything of a rig itself; only `server` knows the protocol.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.editor.server import (
        serve as serve,
    )
else:
    __getattr__, __all__ = face(__name__, server="serve")
