"""What changed between two versions of a rig, and what has to be printed again.

It knows rigs and their words. It may not know files or version control.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.compare.change import (
        Change as Change,
        ChangeKind as ChangeKind,
    )
    from rigfolio.compare.changes import (
        Comparison as Comparison,
        compare as compare,
    )
    from rigfolio.compare.deeds import (
        Deed as Deed,
        Work as Work,
        WorkThing as WorkThing,
    )
    from rigfolio.compare.match import (
        same_wires as same_wires,
    )
    from rigfolio.compare.unplaced import (
        is_same_but_for_places as is_same_but_for_places,
        placeless as placeless,
    )
    from rigfolio.compare.work import (
        work_between as work_between,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        change="Change ChangeKind",
        changes="Comparison compare",
        deeds="Deed Work WorkThing",
        match="same_wires",
        unplaced="is_same_but_for_places placeless",
        work="work_between",
    )
