"""Low-voltage DC fuse panels from one text file.

For programs: `load` reads and judges a rig file. `grammar/PROGRAMS.md` is the manual.
"""

from rigfolio.faces import face

# Before the command listens for Ctrl-C nothing is read that takes long: `typing` would be.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from rigfolio.programs import (
        Answers as Answers,
        FindingFacts as FindingFacts,
        LoadedRig as LoadedRig,
        NotUnderstoodError as NotUnderstoodError,
        load as load,
    )
    from rigfolio.refusal import RefusalError as RefusalError
else:
    __getattr__, __all__ = face(
        __name__,
        programs="Answers FindingFacts LoadedRig NotUnderstoodError load",
        refusal="RefusalError",
    )
