"""Volts and amperes of every part in a scenario, and what a meter should show.

It knows the network, what is open in a state, and what copper may carry. It may not know what
protects a wire.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.operating.circuit_net import (
        Drawn as Drawn,
        directions as directions,
        drawn_behind as drawn_behind,
    )
    from rigfolio.operating.coil_work import (
        MOMENT as MOMENT,
        set_going as set_going,
        set_going_words as set_going_words,
    )
    from rigfolio.operating.coldness import (
        ColdBank as ColdBank,
        cold_banks as cold_banks,
    )
    from rigfolio.operating.copper import (
        Copper as Copper,
        Hot as Hot,
        Sized as Sized,
        SizeOf as SizeOf,
        as_stated as as_stated,
        copper_of as copper_of,
    )
    from rigfolio.operating.draws import (
        circuit_draws as circuit_draws,
        draws_by_circuit as draws_by_circuit,
        draws_without_loss as draws_without_loss,
        homes_of as homes_of,
        most_alone_w as most_alone_w,
        starts_lastingly as starts_lastingly,
        user_of as user_of,
        watts_words as watts_words,
    )
    from rigfolio.operating.insides import (
        Insides as Insides,
        inside_ohms as inside_ohms,
        stated_ohms as stated_ohms,
        untold_ohms as untold_ohms,
        usual_ohms as usual_ohms,
    )
    from rigfolio.operating.meter import (
        Rest as Rest,
        Scene as Scene,
        edges_of as edges_of,
    )
    from rigfolio.operating.point import (
        STIFF_OHM as STIFF_OHM,
        has_ohm as has_ohm,
        operating as operating,
        source_ohm as source_ohm,
        standing as standing,
        wire_ohm as wire_ohm,
    )
    from rigfolio.operating.readings import (
        DEAD_AS_WIRED as DEAD_AS_WIRED,
        FEED_ALONE as FEED_ALONE,
        KEPT_DEAD as KEPT_DEAD,
        MeterPoint as MeterPoint,
        Stage as Stage,
        StageStep as StageStep,
        bounds_words as bounds_words,
        circuit_step as circuit_step,
        is_small as is_small,
        judged_bounds as judged_bounds,
        numbered_points as numbered_points,
        probed as probed,
        short_stages as short_stages,
        shut_words as shut_words,
        stages as stages,
        stages_of as stages_of,
        with_contacts as with_contacts,
    )
    from rigfolio.operating.resting import (
        closed_by_hand as closed_by_hand,
        worked as worked,
    )
    from rigfolio.operating.scenario import (
        Scenario as Scenario,
        alone as alone,
        at_once as at_once,
        drawn_in as drawn_in,
        for_hours as for_hours,
        own_circuit as own_circuit,
        point_in as point_in,
        starting_a as starting_a,
    )
    from rigfolio.operating.shown import (
        Shown as Shown,
    )
    from rigfolio.operating.ways import (
        returning_by as returning_by,
        standing_of as standing_of,
        starters_of as starters_of,
        ways_of as ways_of,
    )
    from rigfolio.operating.wrong import (
        NOTHING_WRONG as NOTHING_WRONG,
        Wrong as Wrong,
        drawn_at as drawn_at,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        circuit_net="Drawn directions drawn_behind",
        coil_work="MOMENT set_going set_going_words",
        coldness="ColdBank cold_banks",
        copper="Copper Hot Sized SizeOf as_stated copper_of",
        draws="circuit_draws draws_by_circuit draws_without_loss homes_of most_alone_w "
        "starts_lastingly user_of watts_words",
        insides="Insides inside_ohms stated_ohms untold_ohms usual_ohms",
        meter="Rest Scene edges_of",
        point="STIFF_OHM has_ohm operating source_ohm standing wire_ohm",
        scenario="Scenario alone at_once drawn_in for_hours own_circuit point_in starting_a",
        shown="Shown",
        ways="returning_by standing_of starters_of ways_of",
        resting="closed_by_hand worked",
        readings="DEAD_AS_WIRED FEED_ALONE KEPT_DEAD MeterPoint Stage StageStep bounds_words "
        "circuit_step is_small judged_bounds numbered_points probed short_stages shut_words stages "
        "stages_of with_contacts",
        wrong="NOTHING_WRONG Wrong drawn_at",
    )
