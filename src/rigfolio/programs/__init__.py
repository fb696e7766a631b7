"""What programs in Python may ask of a rig: read it, judge it, put questions, draw it.

It gives what the commands give as JSON, as plain values. It works nothing out and knows no command.
`grammar/PROGRAMS.md` is its manual, and says what stays.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.programs.facts import (
        FindingFacts as FindingFacts,
    )
    from rigfolio.programs.loaded import (
        Answers as Answers,
        LoadedRig as LoadedRig,
        NotUnderstoodError as NotUnderstoodError,
        load as load,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        facts="FindingFacts",
        loaded="Answers LoadedRig NotUnderstoodError load",
    )
