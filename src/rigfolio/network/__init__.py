"""What joins what: terminals and edges, paths, blocks, the feeders of a panel.

It knows the graph of a rig. It may not know rule books, what limits a wire, or what is live
in a state.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.network.blocks import (
        Exits as Exits,
        Mesh as Mesh,
        Split as Split,
        Splits as Splits,
        Stretch as Stretch,
        UnitCurrent as UnitCurrent,
        meshes_of as meshes_of,
    )
    from rigfolio.network.by_hand import (
        never_closed as never_closed,
        parallel_switches as parallel_switches,
    )
    from rigfolio.network.coils import (
        coil_names as coil_names,
        coils_of as coils_of,
        contacts_of as contacts_of,
        hangs_behind as hangs_behind,
        openers_of as openers_of,
    )
    from rigfolio.network.controls import (
        closed_for_panels as closed_for_panels,
        feeding_panels as feeding_panels,
        in_the_way as in_the_way,
        resting_open as resting_open,
        rests_open as rests_open,
        ways_to_close as ways_to_close,
    )
    from rigfolio.network.feeders import (
        feeds_of as feeds_of,
        own_edges as own_edges,
    )
    from rigfolio.network.flow import (
        START as START,
        Arc as Arc,
        Flow as Flow,
        dead_ends as dead_ends,
        largest_flow as largest_flow,
    )
    from rigfolio.network.graph import (
        Edge as Edge,
        Net as Net,
        Step as Step,
        edge_name as edge_name,
        edges_of_device as edges_of_device,
        ends as ends,
        in_line as in_line,
        is_guard as is_guard,
        landing_on as landing_on,
        loose_ends as loose_ends,
        most_volts as most_volts,
        net_among as net_among,
        net_of as net_of,
        path as path,
        plug_pins as plug_pins,
        sides as sides,
        sunlit as sunlit,
        unguarded_m as unguarded_m,
        volts as volts,
    )
    from rigfolio.network.parallel import (
        joins_now_and_then as joins_now_and_then,
        parallel_banks as parallel_banks,
    )
    from rigfolio.network.paths import (
        Tree as Tree,
        Walk as Walk,
        Way as Way,
        trees as trees,
        turned_trees as turned_trees,
        within_bank as within_bank,
    )
    from rigfolio.network.polarity import (
        reversed_source as reversed_source,
        turned as turned,
    )
    from rigfolio.network.poles import (
        OpenPole as OpenPole,
        joined as joined,
        open_poles as open_poles,
    )
    from rigfolio.network.runs import (
        ends_of_run as ends_of_run,
        name_of_run as name_of_run,
        places_of as places_of,
        runs_of as runs_of,
        with_whole_returns as with_whole_returns,
    )
    from rigfolio.network.throws import (
        Stand as Stand,
        changeovers as changeovers,
        heaviest as heaviest,
        in_turn as in_turn,
        is_made as is_made,
        nets_in_turn as nets_in_turn,
        not_made as not_made,
        parted as parted,
        resting_position as resting_position,
        stand_asked as stand_asked,
        stand_for as stand_for,
        stand_in as stand_in,
        stands_for as stands_for,
        together as together,
        turns_in as turns_in,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        blocks="Exits Mesh Split Splits Stretch UnitCurrent meshes_of",
        coils="coil_names coils_of contacts_of hangs_behind openers_of",
        controls="closed_for_panels feeding_panels in_the_way resting_open rests_open "
        "ways_to_close",
        feeders="feeds_of own_edges",
        graph="Edge Net Step edge_name edges_of_device ends in_line is_guard landing_on loose_ends "
        "most_volts net_among net_of path plug_pins sides sunlit unguarded_m volts",
        flow="START Arc Flow dead_ends largest_flow",
        poles="OpenPole joined open_poles",
        polarity="reversed_source turned",
        parallel="joins_now_and_then parallel_banks",
        by_hand="never_closed parallel_switches",
        paths="Tree Walk Way trees turned_trees within_bank",
        throws="Stand changeovers heaviest in_turn is_made nets_in_turn not_made parted "
        "resting_position stand_asked stand_for stand_in stands_for together turns_in",
        runs="ends_of_run name_of_run places_of runs_of with_whole_returns",
    )
