"""Which sources reach a terminal in a state of the rig, what opens them, and what stays on.

It knows the network and the states. It may not know amperes: a source reaches, or it does not.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.isolation.alone import (
        opened_alone as opened_alone,
    )
    from rigfolio.isolation.capacitors import (
        Closing as Closing,
        charged as charged,
        closing as closing,
    )
    from rigfolio.isolation.daylight import (
        dark_first as dark_first,
        idle_words as idle_words,
        parts_modules as parts_modules,
    )
    from rigfolio.isolation.energised import (
        CLOSED as CLOSED,
        Open as Open,
        SourceReach as SourceReach,
        combiners as combiners,
        source_reach as source_reach,
    )
    from rigfolio.isolation.kept import (
        Kept as Kept,
        kept_loads as kept_loads,
        must_stay_on as must_stay_on,
        stay_words as stay_words,
        stay_words_of as stay_words_of,
    )
    from rigfolio.isolation.least_cut import (
        once_a_part as once_a_part,
    )
    from rigfolio.isolation.orders import (
        Plan as Plan,
        Step as Step,
        StillLive as StillLive,
        isolate as isolate,
        isolate_ends as isolate_ends,
    )
    from rigfolio.isolation.parted import (
        parted_from_source as parted_from_source,
    )
    from rigfolio.isolation.places import (
        place_of as place_of,
    )
    from rigfolio.isolation.positions import (
        Meaning as Meaning,
        meanings as meanings,
    )
    from rigfolio.isolation.rest import (
        Unnamed as Unnamed,
        unnamed as unnamed,
    )
    from rigfolio.isolation.sequence import (
        Turn as Turn,
        in_turn as in_turn,
    )
    from rigfolio.isolation.states import (
        BANKS as BANKS,
        Condition as Condition,
        at_rest as at_rest,
        opened as opened,
        settings_words as settings_words,
        states_of as states_of,
        turned as turned,
    )
    from rigfolio.isolation.table import (
        Cell as Cell,
        LiveRow as LiveRow,
        LiveTable as LiveTable,
        folded as folded,
        live_table as live_table,
        unfed_in as unfed_in,
    )
    from rigfolio.isolation.words import (
        NOT_ENOUGH as NOT_ENOUGH,
        STAYS_OFF as STAYS_OFF,
        UNREACHED as UNREACHED,
        back_feed_words as back_feed_words,
        black_words as black_words,
        cell_words as cell_words,
        charged_words as charged_words,
        goes_dark_words as goes_dark_words,
        kept_words as kept_words,
        part_words as part_words,
        red_words as red_words,
        step_words as step_words,
        still_live_words as still_live_words,
        stop_words as stop_words,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        alone="opened_alone",
        capacitors="Closing charged closing",
        daylight="dark_first idle_words parts_modules",
        energised="CLOSED Open SourceReach combiners source_reach",
        kept="Kept kept_loads must_stay_on stay_words stay_words_of",
        least_cut="once_a_part",
        orders="Plan Step StillLive isolate isolate_ends",
        parted="parted_from_source",
        places="place_of",
        positions="Meaning meanings",
        rest="Unnamed unnamed",
        sequence="Turn in_turn",
        states="BANKS Condition at_rest opened settings_words states_of turned",
        table="Cell LiveRow LiveTable folded live_table unfed_in",
        words="NOT_ENOUGH STAYS_OFF UNREACHED back_feed_words goes_dark_words "
        " black_words cell_words charged_words kept_words part_words "
        "red_words step_words still_live_words stop_words",
    )
