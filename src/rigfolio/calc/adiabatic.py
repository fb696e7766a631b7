"""Heat of a short circuit that stays in the copper: what a conductor takes before it is spoilt."""

import math

from rigfolio.calc.conductor import resistivity_ohm_m

COPPER_J_K_M3 = 3.45e6
"""Heat that a volume of copper takes for a rise, as IEC 60364-5-54 Annex A counts it [J/(K m³)]."""


def copper_k(initial_c: float, final_c: float) -> float:
    """The constant k of copper between two temperatures.

    Parameters
    ----------
    initial_c : float
        Temperature of the conductor before the short circuit [°C].
    final_c : float
        The hottest that its insulation takes, above `initial_c` [°C].

    Returns
    -------
    float
        Current density that heats it so in one second [A √s / mm²].

    Raises
    ------
    ValueError
        `final_c` is not above `initial_c`, or a temperature is outside the line of copper.

    Source
    ------
    IEC 60364-5-54 Annex A, k = sqrt(Qc (B + 20) / rho20 x ln((B + Tf) / (B + Ti))) (constants
    seen, shape from memory).

    Examples
    --------
    >>> copper_k(70.0, 160.0), copper_k(90.0, 250.0)
    (114.8, 142.9)
    """
    if final_c <= initial_c:
        raise ValueError(f"final {final_c} °C is not above initial {initial_c} °C")
    per_k_ohm_m = (resistivity_ohm_m(120.0) - resistivity_ohm_m(20.0)) / 100.0
    ratio = resistivity_ohm_m(final_c) / resistivity_ohm_m(initial_c)
    return math.sqrt(COPPER_J_K_M3 / per_k_ohm_m * math.log(ratio)) * 1e-6


def withstand_s(area_m2: float, current_a: float, k: float) -> float:
    """Time for which a conductor takes a short-circuit current.

    All heat is taken to stay in the copper. That holds up to about 5 s; beyond that a conductor
    takes it for longer than this says.

    Parameters
    ----------
    area_m2 : float
        Copper cross-section [m²].
    current_a : float
        Current, above 0 [A].
    k : float
        Constant of copper and insulation, as `copper_k` [A √s / mm²].

    Returns
    -------
    float
        Time [s].

    Raises
    ------
    ValueError
        `current_a` is not above 0.

    Source
    ------
    IEC 60364-4-43, t = (k A / I)^2 (seen).

    Examples
    --------
    >>> withstand_s(2.5e-6, 250.0, 115.0)
    1.3225
    """
    if current_a <= 0.0:
        raise ValueError(f"current {current_a} A is not above 0")
    return (k * area_m2 * 1e6 / current_a) ** 2
