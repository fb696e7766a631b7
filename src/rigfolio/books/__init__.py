"""Rule books and trade data: every limit with its source and status.

It knows tables. It may not know a rig.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.books.colours import (
        TradeColour as TradeColour,
        colour_book as colour_book,
    )
    from rigfolio.books.columns import (
        CurrentColumn as CurrentColumn,
        Service as Service,
    )
    from rigfolio.books.conductors import (
        Cable as Cable,
        CopperOf as CopperOf,
        awg_sizes as awg_sizes,
        cable_of_type as cable_of_type,
        least_resistance_ohm_per_m as least_resistance_ohm_per_m,
        metric_sizes as metric_sizes,
        outside_diameter_m as outside_diameter_m,
        resistance_ohm_per_m as resistance_ohm_per_m,
        stranding as stranding,
        tag_overlap_m as tag_overlap_m,
        taken_for as taken_for,
    )
    from rigfolio.books.fuses import (
        RatedVolts as RatedVolts,
        family_words as family_words,
        fuse_colour as fuse_colour,
        fuse_families as fuse_families,
        fuse_series as fuse_series,
        interrupt_a as interrupt_a,
        most_any_breaks as most_any_breaks,
        next_down as next_down,
        next_up as next_up,
        rated_volts as rated_volts,
        series_source as series_source,
    )
    from rigfolio.books.loader import (
        Book as Book,
        book_names as book_names,
        bound_a as bound_a,
        carries_bound_a as carries_bound_a,
        known_book as known_book,
        load_book as load_book,
    )
    from rigfolio.books.tables import (
        Limit as Limit,
        joined as joined,
    )
    from rigfolio.books.trade import (
        ChargeVolts as ChargeVolts,
        CodeLimits as CodeLimits,
        Gates as Gates,
        KeptName as KeptName,
        LabelSheet as LabelSheet,
        are_one_system as are_one_system,
        balance_cost_m as balance_cost_m,
        barrel_colour as barrel_colour,
        barrel_gauges as barrel_gauges,
        bolted_families as bolted_families,
        bond_m2 as bond_m2,
        bought_m as bought_m,
        called_alike as called_alike,
        charge_least_c as charge_least_c,
        charge_volts as charge_volts,
        charging_from_v as charging_from_v,
        closed_by_lamp as closed_by_lamp,
        code_limits as code_limits,
        cold_factor as cold_factor,
        coldest_copper_c as coldest_copper_c,
        cranking_short as cranking_short,
        cut_off_v as cut_off_v,
        far_apart as far_apart,
        fault_k as fault_k,
        figure as figure,
        full_v as full_v,
        fuse_gates as fuse_gates,
        internal_ohm as internal_ohm,
        inverter_efficiency as inverter_efficiency,
        is_limited as is_limited,
        is_overnight as is_overnight,
        joined_again_v as joined_again_v,
        kept_by_name as kept_by_name,
        label_sheets as label_sheets,
        lasting_start_s as lasting_start_s,
        longest_s as longest_s,
        marine_over_cold as marine_over_cold,
        meter_volt as meter_volt,
        mixed_batteries as mixed_batteries,
        most_on_stud as most_on_stud,
        move_cost_am as move_cost_am,
        one_system as one_system,
        order_of_work as order_of_work,
        origin as origin,
        proof_by_meter as proof_by_meter,
        returned_share as returned_share,
        service_loop_m as service_loop_m,
        sleeve_length_m as sleeve_length_m,
        sleeve_m as sleeve_m,
        spare_fuses as spare_fuses,
        spoken as spoken,
        start_s as start_s,
        starts_engine as starts_engine,
        sun_figure as sun_figure,
        symptom_of as symptom_of,
        symptom_words as symptom_words,
        tail_s as tail_s,
        taken_per_hour as taken_per_hour,
        tape as tape,
        terminal_source as terminal_source,
        uneven_share as uneven_share,
        usable_share as usable_share,
        usual_sheet as usual_sheet,
        with_waste as with_waste,
    )
    from rigfolio.books.uses import (
        CARRIES as CARRIES,
        Figure as Figure,
        figures_of as figures_of,
        trade_figures as trade_figures,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        colours="TradeColour colour_book",
        columns="CurrentColumn Service",
        conductors="Cable CopperOf awg_sizes cable_of_type least_resistance_ohm_per_m metric_sizes "
        "outside_diameter_m resistance_ohm_per_m stranding tag_overlap_m taken_for",
        fuses="RatedVolts family_words fuse_colour fuse_families fuse_series interrupt_a "
        "most_any_breaks next_down next_up rated_volts series_source",
        loader="Book book_names bound_a carries_bound_a known_book load_book",
        tables="Limit joined",
        uses="CARRIES Figure figures_of trade_figures",
        trade="ChargeVolts CodeLimits Gates KeptName LabelSheet are_one_system "
        "balance_cost_m barrel_colour barrel_gauges bolted_families bond_m2 "
        "bought_m called_alike charge_least_c charge_volts charging_from_v "
        "code_limits closed_by_lamp cold_factor "
        "coldest_copper_c cranking_short cut_off_v far_apart fault_k figure "
        "full_v fuse_gates internal_ohm inverter_efficiency is_limited is_overnight "
        "joined_again_v kept_by_name label_sheets lasting_start_s longest_s marine_over_cold "
        "meter_volt mixed_batteries most_on_stud move_cost_am one_system "
        "order_of_work origin proof_by_meter returned_share service_loop_m "
        "sleeve_length_m sleeve_m spare_fuses spoken start_s starts_engine "
        "sun_figure symptom_of symptom_words tail_s taken_per_hour tape "
        "terminal_source uneven_share usable_share usual_sheet with_waste",
    )
