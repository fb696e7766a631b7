"""What a dead short does: what flows, what opens and when, what the copper takes.

Which fuse is not fit to stand where it is is told here as well, since it has to break that.

It knows the network, sources and time-current gates. It may not know how a rig is used.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.shorts.cases import (
        Case as Case,
        Fault as Fault,
        Interrupt as Interrupt,
    )
    from rigfolio.shorts.clearing import (
        Stress as Stress,
        blow as blow,
        gates_of as gates_of,
        is_timed as is_timed,
        waits as waits,
    )
    from rigfolio.shorts.cut_off import (
        OwnCutOff as OwnCutOff,
        cut_off_words as cut_off_words,
        own_cut_off as own_cut_off,
    )
    from rigfolio.shorts.ending_words import (
        selective_words as selective_words,
        told_case as told_case,
        when_words as when_words,
    )
    from rigfolio.shorts.faults import (
        Faults as Faults,
    )
    from rigfolio.shorts.firsts import (
        First as First,
        firsts_of as firsts_of,
    )
    from rigfolio.shorts.heat import (
        hot_wires as hot_wires,
        hot_words as hot_words,
    )
    from rigfolio.shorts.in_turn import (
        faults_of as faults_of,
    )
    from rigfolio.shorts.sources import (
        knows_shorts as knows_shorts,
    )
    from rigfolio.shorts.start_table import (
        STARTS_NOTE as STARTS_NOTE,
        starts_table as starts_table,
    )
    from rigfolio.shorts.starts import (
        StartCurrent as StartCurrent,
        hardest_start as hardest_start,
        is_sure_to_open as is_sure_to_open,
        may_open as may_open,
        opening_words as opening_words,
        waits_for as waits_for,
    )
    from rigfolio.shorts.unfit import (
        UNFIT_MARKS as UNFIT_MARKS,
        barred_words as barred_words,
        breaks_too_little_words as breaks_too_little_words,
        is_barred as is_barred,
        unfit_of as unfit_of,
        warning_marks as warning_marks,
    )
    from rigfolio.shorts.wiring import (
        in_short as in_short,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        cases="Case Fault Interrupt",
        clearing="Stress blow gates_of is_timed waits",
        cut_off="OwnCutOff cut_off_words own_cut_off",
        ending_words="selective_words told_case when_words",
        faults="Faults",
        firsts="First firsts_of",
        heat="hot_wires hot_words",
        in_turn="faults_of",
        sources="knows_shorts",
        start_table="STARTS_NOTE starts_table",
        starts="StartCurrent hardest_start is_sure_to_open may_open opening_words waits_for",
        unfit="UNFIT_MARKS barred_words breaks_too_little_words is_barred unfit_of warning_marks",
        wiring="in_short",
    )
