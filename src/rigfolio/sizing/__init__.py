"""The least gauge and the right fuse for each section under all rules at once, as edits.

It asks protection and demand about sizes on trial, and works nothing out that they answer.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.sizing.charging import (
        unlimited_words as unlimited_words,
    )
    from rigfolio.sizing.edits import (
        by_file as by_file,
        changed as changed,
        edits_for as edits_for,
    )
    from rigfolio.sizing.found import (
        ToPull as ToPull,
        keeping_found as keeping_found,
        to_pull as to_pull,
    )
    from rigfolio.sizing.fuses import (
        BRIGHT as BRIGHT,
        CONTINUOUS as CONTINUOUS,
        STARTS as STARTS,
        asked_of as asked_of,
        chosen_of as chosen_of,
    )
    from rigfolio.sizing.groups import (
        Section as Section,
        SectionKind as SectionKind,
        points_at as points_at,
        sections as sections,
    )
    from rigfolio.sizing.least import (
        LEAST_GAUGE as LEAST_GAUGE,
        NO_DROP_LIMIT as NO_DROP_LIMIT,
        NO_FIGURE as NO_FIGURE,
    )
    from rigfolio.sizing.proposals import (
        ALIKE as ALIKE,
        FuseSize as FuseSize,
        Proposal as Proposal,
        WireSize as WireSize,
    )
    from rigfolio.sizing.settled import (
        grown_by_sizes as grown_by_sizes,
        left_words as left_words,
        sizes as sizes,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        charging="unlimited_words",
        edits="by_file changed edits_for",
        found="ToPull keeping_found to_pull",
        fuses="BRIGHT CONTINUOUS STARTS asked_of chosen_of",
        groups="Section SectionKind points_at sections",
        least="LEAST_GAUGE NO_DROP_LIMIT NO_FIGURE",
        proposals="ALIKE FuseSize Proposal WireSize",
        settled="grown_by_sizes left_words sizes",
    )
