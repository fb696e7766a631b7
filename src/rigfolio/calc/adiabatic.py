"""Heat of a short circuit that stays in the copper: what a conductor takes before it is spoilt."""

import math

from rigfolio.calc.conductor import resistivity_ohm_m

# Heat that a volume of copper takes for a rise, as IEC 60364-5-54 Annex A counts it.
_COPPER_J_K_M3 = 3.45e6
# Onderdonk's equation: copper melts at 1083 °C, 33 holds its heat, 234 its line of resistance.
_MELTING_C = 1083.0
_ONDERDONK = 33.0
_ONDERDONK_C = 234.0
_CIRCULAR_MIL_M2 = math.pi / 4.0 * 25.4e-6**2


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
    return math.sqrt(_COPPER_J_K_M3 / per_k_ohm_m * math.log(ratio)) * 1e-6


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


def withstand_area_m2(current_a: float, time_s: float, k: float) -> float:
    """Copper that takes a short-circuit current for a time.

    Parameters
    ----------
    current_a : float
        Current [A].
    time_s : float
        Time, up to 5 s [s].
    k : float
        Constant of copper and insulation, as `copper_k`, above 0 [A √s / mm²].

    Returns
    -------
    float
        Smallest cross-section [m²].

    Raises
    ------
    ValueError
        `k` is not above 0.

    Source
    ------
    IEC 60364-5-54, A = I sqrt(t) / k (seen).

    Examples
    --------
    >>> withstand_area_m2(1000.0, 0.1, 115.0) * 1e6
    2.75
    """
    if k <= 0.0:
        raise ValueError(f"k {k} is not above 0")
    return current_a * math.sqrt(time_s) / k * 1e-6


def melting_current_a(area_m2: float, time_s: float, ambient_c: float) -> float:
    """Current that melts a bare copper conductor in a time.

    Parameters
    ----------
    area_m2 : float
        Copper cross-section [m²].
    time_s : float
        Time, above 0 and not above some seconds [s].
    ambient_c : float
        Temperature before, below the melting point of copper [°C].

    Returns
    -------
    float
        Current [A].

    Raises
    ------
    ValueError
        `time_s` is not above 0, or `ambient_c` is outside -234 °C to the melting point.

    Source
    ------
    Onderdonk's equation, I = A sqrt(log10((Tm - Ta) / (234 + Ta) + 1) / (33 t)), A in circular
    mils (seen).

    Examples
    --------
    >>> from rigfolio.calc.conductor import circular_mil_m2
    >>> melting_current_a(circular_mil_m2(2581.0), 5.0, 25.0)
    168.9
    """
    if time_s <= 0.0 or not -_ONDERDONK_C < ambient_c < _MELTING_C:
        raise ValueError(f"time {time_s} s from {ambient_c} °C")
    rise = math.log10((_MELTING_C - ambient_c) / (_ONDERDONK_C + ambient_c) + 1.0)
    return area_m2 / _CIRCULAR_MIL_M2 * math.sqrt(rise / (_ONDERDONK * time_s))
