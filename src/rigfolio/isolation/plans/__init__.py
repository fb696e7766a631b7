"""How a part is made dead: the fewest things to open, in which order, in words of the panel.

It knows what reaches what in a state of the rig. It may not know amperes, nor who prints the plan.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.isolation.plans.capacitors import (
        Closing as Closing,
        charged as charged,
        closing as closing,
        lamp_words as lamp_words,
    )
    from rigfolio.isolation.plans.least_cut import (
        actions_of as actions_of,
        once_a_part as once_a_part,
        opened_by as opened_by,
    )
    from rigfolio.isolation.plans.orders import (
        isolate as isolate,
        isolate_ends as isolate_ends,
        left_live as left_live,
    )
    from rigfolio.isolation.plans.parted import (
        parted_from_source as parted_from_source,
    )
    from rigfolio.isolation.plans.places import (
        place_of as place_of,
    )
    from rigfolio.isolation.plans.plan import (
        Plan as Plan,
        Step as Step,
        StillLive as StillLive,
    )
    from rigfolio.isolation.plans.probe_words import (
        beside_words as beside_words,
        black_words as black_words,
        closed_first as closed_first,
        frame_words as frame_words,
        measured_to as measured_to,
        readings_at as readings_at,
        red_words as red_words,
        shut_words as shut_words,
        tried_on as tried_on,
    )
    from rigfolio.isolation.plans.proofs import (
        measured_at as measured_at,
        proof_of as proof_of,
    )
    from rigfolio.isolation.plans.rejoined import (
        rejoin_words as rejoin_words,
        rejoined_by as rejoined_by,
        side_by_side_words as side_by_side_words,
    )
    from rigfolio.isolation.plans.sequence import (
        Turn as Turn,
        in_turn as in_turn,
        unbolted_words as unbolted_words,
    )
    from rigfolio.isolation.plans.words import (
        NOT_ENOUGH as NOT_ENOUGH,
        STAYS_OFF as STAYS_OFF,
        UNREACHED as UNREACHED,
        back_feed_words as back_feed_words,
        cell_words as cell_words,
        charged_words as charged_words,
        comes_back_words as comes_back_words,
        goes_dark_words as goes_dark_words,
        in_words as in_words,
        kept_words as kept_words,
        part_words as part_words,
        start_words as start_words,
        step_words as step_words,
        still_live_words as still_live_words,
        stop_words as stop_words,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        capacitors="Closing charged closing lamp_words",
        least_cut="actions_of once_a_part opened_by",
        orders="isolate isolate_ends left_live",
        parted="parted_from_source",
        places="place_of",
        plan="Plan Step StillLive",
        probe_words="beside_words black_words closed_first frame_words measured_to "
        "readings_at red_words shut_words tried_on",
        proofs="measured_at proof_of",
        rejoined="rejoin_words rejoined_by side_by_side_words",
        sequence="Turn in_turn unbolted_words",
        words="NOT_ENOUGH STAYS_OFF UNREACHED back_feed_words cell_words "
        "charged_words comes_back_words goes_dark_words in_words kept_words "
        "part_words start_words step_words still_live_words stop_words",
    )
