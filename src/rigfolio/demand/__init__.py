"""What loads and chargers put on every wire and device, and what is left for the loads.

It knows paths and blocks and the copper in them. It may not know what guards a wire.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.demand.banks import (
        Balance as Balance,
        SharedBank as SharedBank,
        balances as balances,
        bank_leads as bank_leads,
        shared_banks as shared_banks,
    )
    from rigfolio.demand.charge_times import (
        Charging as Charging,
        charging as charging,
    )
    from rigfolio.demand.counting import (
        unread_circuits as unread_circuits,
    )
    from rigfolio.demand.day_use import (
        Use as Use,
    )
    from rigfolio.demand.drop import (
        Drop as Drop,
        Drops as Drops,
        allowed_drop_of as allowed_drop_of,
        drops_of as drops_of,
    )
    from rigfolio.demand.energy import (
        AH_C as AH_C,
        DAY_S as DAY_S,
        HOUR_S as HOUR_S,
        Autonomy as Autonomy,
        autonomy as autonomy,
        use_of_rig as use_of_rig,
        uses as uses,
    )
    from rigfolio.demand.flows import (
        Flows as Flows,
        flows_of as flows_of,
    )
    from rigfolio.demand.lasting import (
        LastingStart as LastingStart,
        Overheated as Overheated,
        heated_by_start as heated_by_start,
        lasting_start as lasting_start,
        overheated_by_starts as overheated_by_starts,
        starting_sags as starting_sags,
    )
    from rigfolio.demand.levels import (
        LevelDemand as LevelDemand,
        demand_by_level as demand_by_level,
        least_rated_a as least_rated_a,
        told_hours_a as told_hours_a,
    )
    from rigfolio.demand.shortfall import (
        Sag as Sag,
        collapsed_of as collapsed_of,
        sags_of as sags_of,
        size_for as size_for,
        told_of_loads as told_of_loads,
    )
    from rigfolio.demand.sun import (
        SunDrop as SunDrop,
        UnderBattery as UnderBattery,
        bright_fuse_a as bright_fuse_a,
        bright_need as bright_need,
        charging_nothing as charging_nothing,
        sun_drops as sun_drops,
        sun_drops_with as sun_drops_with,
        under_batteries as under_batteries,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        banks="Balance SharedBank balances bank_leads shared_banks",
        counting="unread_circuits",
        day_use="Use",
        drop="Drop Drops allowed_drop_of drops_of",
        charge_times="Charging charging",
        energy="AH_C Autonomy DAY_S HOUR_S autonomy use_of_rig uses",
        flows="Flows flows_of",
        lasting="LastingStart Overheated heated_by_start lasting_start "
        "overheated_by_starts starting_sags",
        levels="LevelDemand demand_by_level least_rated_a told_hours_a",
        shortfall="Sag collapsed_of sags_of size_for told_of_loads",
        sun="SunDrop UnderBattery bright_fuse_a bright_need charging_nothing sun_drops "
        "sun_drops_with under_batteries",
    )
