"""What the trade does and sells, beside the rule books: habits, figures for a search, stock.

It knows the tables that lie beside it. It may not know a rule book, nor any rig.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.books.trade.arranging import (
        balance_cost_m as balance_cost_m,
        move_cost_am as move_cost_am,
        service_loop_m as service_loop_m,
    )
    from rigfolio.books.trade.diagnosis import (
        figure as figure,
        is_overnight as is_overnight,
        meter_volt as meter_volt,
        origin as origin,
        spoken as spoken,
        symptom_of as symptom_of,
        symptom_words as symptom_words,
    )
    from rigfolio.books.trade.directory_code import (
        CodeLimits as CodeLimits,
        code_limits as code_limits,
    )
    from rigfolio.books.trade.faults import (
        Gates as Gates,
        coldest_copper_c as coldest_copper_c,
        cranking_short as cranking_short,
        far_apart as far_apart,
        fault_k as fault_k,
        full_v as full_v,
        fuse_gates as fuse_gates,
        internal_ohm as internal_ohm,
        lasting_start_s as lasting_start_s,
        longest_s as longest_s,
        marine_over_cold as marine_over_cold,
        start_s as start_s,
    )
    from rigfolio.books.trade.habits import (
        ChargeVolts as ChargeVolts,
        KeptName as KeptName,
        are_one_system as are_one_system,
        bolted_families as bolted_families,
        bond_m2 as bond_m2,
        called_alike as called_alike,
        charge_least_c as charge_least_c,
        charge_volts as charge_volts,
        charging_from_v as charging_from_v,
        closed_by_lamp as closed_by_lamp,
        cold_factor as cold_factor,
        cut_off_v as cut_off_v,
        inverter_efficiency as inverter_efficiency,
        is_limited as is_limited,
        joined_again_v as joined_again_v,
        kept_by_name as kept_by_name,
        mixed_batteries as mixed_batteries,
        one_system as one_system,
        order_of_work as order_of_work,
        proof_by_meter as proof_by_meter,
        returned_share as returned_share,
        starts_engine as starts_engine,
        sun_figure as sun_figure,
        tail_s as tail_s,
        taken_per_hour as taken_per_hour,
        uneven_share as uneven_share,
        usable_share as usable_share,
    )
    from rigfolio.books.trade.label_stock import (
        LabelSheet as LabelSheet,
        label_sheets as label_sheets,
        tape as tape,
        usual_sheet as usual_sheet,
    )
    from rigfolio.books.trade.terminals import (
        barrel_colour as barrel_colour,
        barrel_gauges as barrel_gauges,
        bought_m as bought_m,
        most_on_stud as most_on_stud,
        sleeve_length_m as sleeve_length_m,
        sleeve_m as sleeve_m,
        spare_fuses as spare_fuses,
        terminal_source as terminal_source,
        with_waste as with_waste,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        arranging="balance_cost_m move_cost_am service_loop_m",
        diagnosis="figure is_overnight meter_volt origin spoken symptom_of symptom_words",
        directory_code="CodeLimits code_limits",
        faults="Gates coldest_copper_c cranking_short far_apart fault_k full_v "
        "fuse_gates internal_ohm lasting_start_s longest_s marine_over_cold "
        "start_s",
        habits="ChargeVolts KeptName are_one_system bolted_families bond_m2 "
        "called_alike charge_least_c charge_volts charging_from_v closed_by_lamp cold_factor "
        "cut_off_v inverter_efficiency "
        "is_limited joined_again_v kept_by_name mixed_batteries one_system order_of_work "
        "proof_by_meter returned_share starts_engine sun_figure tail_s "
        "taken_per_hour uneven_share usable_share",
        label_stock="LabelSheet label_sheets tape usual_sheet",
        terminals="barrel_colour barrel_gauges bought_m most_on_stud sleeve_length_m "
        "sleeve_m spare_fuses terminal_source with_waste",
    )
