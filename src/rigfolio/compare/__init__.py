"""What changed between two versions of a rig, and what has to be printed again.

It knows rigs and their words. It may not know files or version control.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.compare.changes import (
        Change as Change,
        Comparison as Comparison,
        compare as compare,
    )
    from rigfolio.compare.lines import (
        changes_lines as changes_lines,
        changes_plain as changes_plain,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        changes="Change Comparison compare",
        lines="changes_lines changes_plain",
    )
