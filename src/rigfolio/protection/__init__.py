"""Which device guards a wire against each source, and what may stand before it.

It knows what can flow into the ends of conductors, the limits of the rule book, and ways out that
serve the wire and the load. It may not know shorts or proposals of sizes.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.protection.breaking import (
        Replacement as Replacement,
        broken_v as broken_v,
        interrupts as interrupts,
        kind_too_low as kind_too_low,
        kinds_that_break as kinds_that_break,
        rated_too_low as rated_too_low,
        replacement_of as replacement_of,
        stated_volts as stated_volts,
    )
    from rigfolio.protection.exposure import (
        Exposure as Exposure,
        exposures_by_wire as exposures_by_wire,
        exposures_of as exposures_of,
        summed_of as summed_of,
        unfused_of as unfused_of,
    )
    from rigfolio.protection.fitted import (
        colour_word as colour_word,
        fitted_now_words as fitted_now_words,
        fitted_words as fitted_words,
        guard_facts as guard_facts,
        guard_words as guard_words,
        instead_words as instead_words,
        is_unproven as is_unproven,
        is_unread as is_unread,
        largest_words as largest_words,
    )
    from rigfolio.protection.guard import (
        guard_of as guard_of,
        guard_of_circuit as guard_of_circuit,
        hidden_of as hidden_of,
    )
    from rigfolio.protection.inflow import (
        rating as rating,
        reach_of as reach_of,
        source_limit as source_limit,
    )
    from rigfolio.protection.last_battery import (
        loses_battery as loses_battery,
        losing_battery as losing_battery,
    )
    from rigfolio.protection.limits import (
        below_least as below_least,
        known_limit_of as known_limit_of,
        largest_fuse_of as largest_fuse_of,
        limit_in as limit_in,
        limit_of as limit_of,
        most_of as most_of,
        sure_a as sure_a,
    )
    from rigfolio.protection.open_ends import (
        asked_ends as asked_ends,
        explained as explained,
        groups as groups,
    )
    from rigfolio.protection.overload import (
        found_letting_back as found_letting_back,
        found_letting_in as found_letting_in,
        lacks_own_fuse as lacks_own_fuse,
        overload_back as overload_back,
        overload_out as overload_out,
        told_of_wire as told_of_wire,
        too_much_back as too_much_back,
    )
    from rigfolio.protection.returns import (
        ReturnCurrent as ReturnCurrent,
        returns_of as returns_of,
        start_among as start_among,
        start_of_level as start_of_level,
        start_shares as start_shares,
        whole_start_of as whole_start_of,
    )
    from rigfolio.protection.starting import (
        burns_in_a_start as burns_in_a_start,
        is_cranking as is_cranking,
        whole_starts as whole_starts,
    )
    from rigfolio.protection.sun_side import (
        SunSide as SunSide,
        arrays_beside as arrays_beside,
        back_into as back_into,
        coldest_v as coldest_v,
        daylight_a as daylight_a,
        daylight_v as daylight_v,
        is_fused as is_fused,
        missing_string_fuses as missing_string_fuses,
        open_circuit_v as open_circuit_v,
        over_input as over_input,
        string_fuse_fix as string_fuse_fix,
        string_fuse_most_a as string_fuse_most_a,
        string_lead as string_lead,
        sun_sides as sun_sides,
        sun_volts as sun_volts,
    )
    from rigfolio.protection.too_large import (
        bare_behind as bare_behind,
        guard_there as guard_there,
        is_device_too_large as is_device_too_large,
        is_let_by as is_let_by,
        is_too_large as is_too_large,
        largest_made_a as largest_made_a,
        serving_a as serving_a,
        until_pulled as until_pulled,
    )
    from rigfolio.protection.unguarded import (
        MissingFuse as MissingFuse,
        behind_a_missing_fuse as behind_a_missing_fuse,
        missing_fuses as missing_fuses,
    )
    from rigfolio.protection.ways_out import (
        OUTSIDE as OUTSIDE,
        copper as copper,
        copper_left as copper_left,
        fuse_left as fuse_left,
        fuse_near as fuse_near,
        fuse_or_copper as fuse_or_copper,
        led_elsewhere as led_elsewhere,
        need_of as need_of,
        or_parted as or_parted,
        other_gauge as other_gauge,
        other_rating as other_rating,
        own_fuse_words as own_fuse_words,
        parted as parted,
        refit_words as refit_words,
        section_left as section_left,
        smaller_device as smaller_device,
        unread_source as unread_source,
    )
    from rigfolio.protection.weakest import (
        slot_limit_a as slot_limit_a,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        breaking="Replacement broken_v interrupts kind_too_low kinds_that_break "
        "rated_too_low replacement_of stated_volts",
        exposure="Exposure exposures_by_wire exposures_of summed_of unfused_of",
        fitted="colour_word fitted_now_words fitted_words guard_facts guard_words "
        "instead_words is_unproven is_unread largest_words",
        too_large="bare_behind guard_there is_device_too_large is_let_by is_too_large "
        "largest_made_a serving_a until_pulled",
        guard="guard_of guard_of_circuit hidden_of",
        inflow="rating reach_of source_limit",
        last_battery="loses_battery losing_battery",
        limits="below_least known_limit_of largest_fuse_of limit_in limit_of most_of sure_a",
        open_ends="asked_ends explained groups",
        overload="found_letting_back found_letting_in lacks_own_fuse overload_back "
        "overload_out told_of_wire too_much_back",
        returns="ReturnCurrent returns_of start_among start_of_level start_shares whole_start_of",
        starting="burns_in_a_start is_cranking whole_starts",
        sun_side="SunSide arrays_beside back_into coldest_v daylight_a daylight_v "
        "is_fused missing_string_fuses open_circuit_v over_input string_fuse_fix "
        "string_fuse_most_a string_lead sun_sides sun_volts",
        unguarded="MissingFuse behind_a_missing_fuse missing_fuses",
        ways_out="OUTSIDE copper copper_left fuse_left fuse_near fuse_or_copper led_elsewhere "
        "need_of or_parted other_gauge other_rating own_fuse_words parted refit_words "
        "section_left smaller_device unread_source",
        weakest="slot_limit_a",
    )
