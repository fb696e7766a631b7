"""Which sources reach a terminal in a state of the rig, what opens them, and what stays on.

It knows the network and the states. It may not know amperes: a source reaches, or it does not.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.isolation.alone import (
        opened_alone as opened_alone,
    )
    from rigfolio.isolation.by_itself import (
        uncharged as uncharged,
    )
    from rigfolio.isolation.conditions import (
        Condition as Condition,
        opened as opened,
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
        bank_joins as bank_joins,
        in_use as in_use,
        lit_by as lit_by,
        source_reach as source_reach,
    )
    from rigfolio.isolation.fed import (
        AfterOpening as AfterOpening,
        dark_without as dark_without,
        served as served,
        when_opened as when_opened,
    )
    from rigfolio.isolation.kept import (
        Kept as Kept,
        kept_loads as kept_loads,
        kept_names as kept_names,
        must_stay_on as must_stay_on,
        stay_words as stay_words,
        stay_words_of as stay_words_of,
    )
    from rigfolio.isolation.plans import (
        NOT_ENOUGH as NOT_ENOUGH,
        STAYS_OFF as STAYS_OFF,
        UNREACHED as UNREACHED,
        Closing as Closing,
        Plan as Plan,
        Step as Step,
        StillLive as StillLive,
        Turn as Turn,
        back_feed_words as back_feed_words,
        beside_words as beside_words,
        black_words as black_words,
        cell_words as cell_words,
        charged as charged,
        charged_words as charged_words,
        closed_first as closed_first,
        closing as closing,
        comes_back_words as comes_back_words,
        frame_words as frame_words,
        goes_dark_words as goes_dark_words,
        in_turn as in_turn,
        in_words as in_words,
        isolate as isolate,
        isolate_ends as isolate_ends,
        kept_words as kept_words,
        lamp_words as lamp_words,
        left_live as left_live,
        measured_at as measured_at,
        measured_to as measured_to,
        once_a_part as once_a_part,
        part_words as part_words,
        parted_from_source as parted_from_source,
        place_of as place_of,
        proof_of as proof_of,
        readings_at as readings_at,
        red_words as red_words,
        rejoin_words as rejoin_words,
        rejoined_by as rejoined_by,
        shut_words as shut_words,
        side_by_side_words as side_by_side_words,
        start_words as start_words,
        step_words as step_words,
        still_live_words as still_live_words,
        stop_words as stop_words,
        tried_on as tried_on,
        unbolted_words as unbolted_words,
    )
    from rigfolio.isolation.plugged import (
        unplugged as unplugged,
    )
    from rigfolio.isolation.positions import (
        Meaning as Meaning,
        fed_by_position as fed_by_position,
        meanings as meanings,
    )
    from rigfolio.isolation.rest import (
        Unnamed as Unnamed,
        unnamed as unnamed,
    )
    from rigfolio.isolation.set_to import (
        ANY as ANY,
        BANKS as BANKS,
        parked as parked,
        turned as turned,
    )
    from rigfolio.isolation.state_words import (
        settings_words as settings_words,
    )
    from rigfolio.isolation.states import (
        states_of as states_of,
    )
    from rigfolio.isolation.table import (
        Cell as Cell,
        LiveRow as LiveRow,
        LiveTable as LiveTable,
        fed_in as fed_in,
        folded as folded,
        live_table as live_table,
        unfed_in as unfed_in,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        alone="opened_alone",
        by_itself="uncharged",
        conditions="Condition opened",
        daylight="dark_first idle_words parts_modules",
        energised="CLOSED Open SourceReach bank_joins in_use lit_by source_reach",
        fed="AfterOpening dark_without served when_opened",
        kept="Kept kept_loads kept_names must_stay_on stay_words stay_words_of",
        plugged="unplugged",
        positions="Meaning fed_by_position meanings",
        rest="Unnamed unnamed",
        states="states_of",
        set_to="ANY BANKS parked turned",
        state_words="settings_words",
        table="Cell LiveRow LiveTable fed_in folded live_table unfed_in",
        plans="Closing NOT_ENOUGH Plan STAYS_OFF Step StillLive Turn UNREACHED "
        "back_feed_words beside_words black_words cell_words charged "
        "charged_words closing closed_first comes_back_words frame_words goes_dark_words "
        "in_turn in_words isolate isolate_ends kept_words lamp_words left_live "
        "measured_at measured_to once_a_part part_words parted_from_source place_of "
        "proof_of readings_at red_words rejoin_words rejoined_by shut_words "
        "side_by_side_words start_words step_words still_live_words stop_words tried_on "
        "unbolted_words",
    )
