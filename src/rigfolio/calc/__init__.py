"""Formulas: floats in, floats out.

It knows no rig, no text and no book.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.calc.adiabatic import (
        copper_k as copper_k,
        withstand_s as withstand_s,
    )
    from rigfolio.calc.ampacity import (
        ambient_factor as ambient_factor,
        conductor_temperature_c as conductor_temperature_c,
        insulation_factor as insulation_factor,
        warmed_share as warmed_share,
        warming_s as warming_s,
    )
    from rigfolio.calc.condensed import (
        Condensed as Condensed,
        Twigs as Twigs,
    )
    from rigfolio.calc.conductor import (
        awg_area_m2 as awg_area_m2,
        resistance_ohm as resistance_ohm,
        resistivity_ohm_m as resistivity_ohm_m,
    )
    from rigfolio.calc.fusing import (
        Gate as Gate,
        Window as Window,
        opening_window as opening_window,
    )
    from rigfolio.calc.gaussian import (
        likeliest as likeliest,
        log_densities as log_densities,
        log_density as log_density,
        log_sum as log_sum,
    )
    from rigfolio.calc.grid import (
        Branch as Branch,
        Converter as Converter,
        Draw as Draw,
        Grid as Grid,
        Matrix as Matrix,
        Network as Network,
        Supply as Supply,
        across as across,
    )
    from rigfolio.calc.milp import (
        Bound as Bound,
        UnprovedError as UnprovedError,
        least as least,
    )
    from rigfolio.calc.nodal import (
        OperatingPoint as OperatingPoint,
        operating_point as operating_point,
    )
    from rigfolio.calc.picture_grid import (
        COLUMNS as COLUMNS,
        NINTHS as NINTHS,
        ROWS as ROWS,
        GridField as GridField,
        grid_field as grid_field,
    )
    from rigfolio.calc.shade import (
        difference as difference,
        lab_of as lab_of,
        linear as linear,
    )
    from rigfolio.calc.sparse import (
        DATUM as DATUM,
        Factor as Factor,
        factor as factor,
        push as push,
        stamp as stamp,
    )
    from rigfolio.calc.tagging import (
        flag_length_m as flag_length_m,
        sleeve_flat_m as sleeve_flat_m,
        wrap_length_m as wrap_length_m,
    )
    from rigfolio.calc.topology import (
        Island as Island,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        adiabatic="copper_k withstand_s",
        ampacity="ambient_factor conductor_temperature_c insulation_factor warmed_share warming_s",
        condensed="Condensed Twigs",
        conductor="awg_area_m2 resistance_ohm resistivity_ohm_m",
        fusing="Gate Window opening_window",
        gaussian="likeliest log_densities log_density log_sum",
        grid="Branch Converter Draw Grid Matrix Network Supply across",
        milp="Bound UnprovedError least",
        nodal="OperatingPoint operating_point",
        shade="difference lab_of linear",
        sparse="DATUM Factor factor push stamp",
        tagging="flag_length_m sleeve_flat_m wrap_length_m",
        topology="Island",
        picture_grid="COLUMNS GridField NINTHS ROWS grid_field",
    )
